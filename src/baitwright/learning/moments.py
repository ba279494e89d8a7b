"""How the readings of a plan move with its factors, kept small enough to learn from without it.

A plan holds thousands of draws, and working it out anew takes a second. All that learning needs of
them are their spreads: how the logarithms of predictions and factors vary together. Kept with the
plan, they teach from any readings of the batch, at once and years later.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.learning.history import Seen
from baitwright.learning.plain_evidence import ABSURD, LITTLE, evidence_in

SIZES = "diameter_fresh"
"""The reading that is a mean of baits measured one by one."""
CUT_OPEN = "cut_open"
"""The reading that is the time in the pot at which a bait cut open was set."""
CUT_OPEN_ERROR = 0.1
"""Relative standard uncertainty of the time at which a cut bait is judged set (judgement)."""
COARSE = "coarse_share"
"""The reading that is the part of the base that the sieve held back."""


@dataclass(frozen=True, slots=True)
class Told:
    """A factor that readings may tell: what it speaks of, its middle as planned, and how it varies.

    ``asked`` are the readings that are taken for it: it is learned where one of them was.
    """

    key: str
    about: str
    asked: tuple[str, ...]
    mu: float
    variance: float
    moved: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Moments:
    """Readings by name, their middles in SI and own errors, how they vary together, and factors.

    ``known`` are readings that were taken before the plan was made, such as eggs on the scale.
    """

    names: tuple[str, ...]
    middles: tuple[float, ...]
    errors: tuple[float, ...]
    spread: tuple[tuple[float, ...], ...]
    factors: tuple[Told, ...]
    known: Mapping[str, float]


def seen_by(
    moments: Moments,
    readings: Mapping[str, float],
    *,
    batch: str,
    scatter: Mapping[str, float] | None = None,
) -> tuple[Seen, ...]:
    """What the readings of a batch show of each factor that they see well enough.

    A reading ten times its prediction, or a tenth of it, is a slip of the unit and teaches nothing.

    Parameters
    ----------
    moments: of its plan.
    readings: by name, in SI; others than the plan's are left out.
    batch: its name.
    scatter: relative standard errors of means of several, by reading, besides the tool's own.
    """
    read = {**moments.known, **readings}
    at = [
        place
        for place, name in enumerate(moments.names)
        if read.get(name, 0.0) > 0.0 and 1 / ABSURD < read[name] / moments.middles[place] < ABSURD
    ]
    if not at:
        return ()
    logs = [math.log(read[moments.names[one]] / moments.middles[one]) for one in at]
    spread = [[moments.spread[one][other] for other in at] for one in at]
    for row, place in enumerate(at):
        of_mean = (scatter or {}).get(moments.names[place], 0.0)
        spread[row][row] += moments.errors[place] ** 2 + of_mean**2
    found = []
    for told in moments.factors:
        if not any(name in read for name in told.asked):
            continue
        moved = [told.moved[place] for place in at]
        one = evidence_in(spread, moved, variance=told.variance, ratios=logs)
        if one.log_ratio is not None and one.share >= LITTLE:
            blur = told.variance * (1.0 - one.share) / one.share
            found.append(Seen(batch, told.key, told.about, told.mu + one.log_ratio, blur))
    return tuple(found)
