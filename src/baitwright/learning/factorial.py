"""Small experiments on a recipe: two levels of a few things, and what each does to a reading.

Bites come too slowly to try recipes by; float time, hardness and size are read at the bench.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from baitwright.terms.errors import InputError
from baitwright.uncertainty.draws import Draws
from baitwright.uncertainty.special import student_quantile
from baitwright.uncertainty.spreads import Floats

MOST_FACTORS = 5
"""Factors of one design (judgement): sixteen or thirty-two batches are a season."""


@dataclass(frozen=True, slots=True)
class Design:
    """Runs of a two-level design: a row for each, -1 or +1 for each factor, and an order to make.

    ``half`` designs set the last factor by the product of all others, so that half of the batches
    do; each effect then stands for itself and for its alias.
    """

    factors: tuple[str, ...]
    levels: tuple[tuple[int, ...], ...]
    order: tuple[int, ...]
    half: bool

    def column(self, of: Sequence[str]) -> Floats:
        """The product of some factors' levels, run by run."""
        table = np.array(self.levels, dtype=float)
        return np.asarray(np.prod([table[:, self.factors.index(one)] for one in of], axis=0))

    def alias(self, of: Sequence[str]) -> tuple[str, ...]:
        """The factors whose effect together cannot be told from this one's; none where full."""
        if not self.half:
            return ()
        return tuple(one for one in self.factors if one not in of)


@dataclass(frozen=True, slots=True)
class Effect:
    """What a factor, or several together, does to a reading: high level less low level.

    In 19 cases of 20 it is ``within`` so much of the truth, told where runs were repeated;
    ``alias`` is what else it may be.
    """

    of: tuple[str, ...]
    value: float
    within: float | None
    alias: tuple[str, ...]


def two_level(factors: Sequence[str], *, half: bool = False, seed: int = 1) -> Design:
    """A design of two levels for each factor, the first factor changing fastest.

    Raises
    ------
    InputError: fewer than two factors (three for a half), more than five, or one twice.

    Reference: nist-handbook, section 5.3.3.3.
    """
    fewest = 3 if half else 2
    if not fewest <= len(factors) <= MOST_FACTORS or len(set(factors)) != len(factors):
        accepted = f"{fewest} to {MOST_FACTORS} that differ"
        raise InputError("factors", ", ".join(factors), accepted)
    free = len(factors) - half
    rows = []
    for run in range(2**free):
        row = [1 if run >> at & 1 else -1 for at in range(free)]
        rows.append((*row, math.prod(row)) if half else tuple(row))
    order = Draws(seed=seed).shuffled("runs", len(rows))
    return Design(tuple(factors), tuple(rows), order, half)


def effects(design: Design, readings: Sequence[Sequence[float]]) -> tuple[Effect, ...]:
    """What each factor and each pair of them did, the single ones first.

    Parameters
    ----------
    design: the runs.
    readings: of each run in the design's own order, one or more.

    Notes
    -----
    effect = mean of the readings at the high level less that at the low one; its standard
    error is 2 s / sqrt(N) with s pooled over repeated runs, taken times Student's t.

    Raises
    ------
    InputError: as many readings as runs are not there.

    Reference: nist-handbook, section 5.3.3.3.
    """
    if len(readings) != len(design.levels) or not all(readings):
        raise InputError(
            "readings", len(readings), f"one at least for each of {len(design.levels)}"
        )
    means = np.array([np.mean(run) for run in readings])
    within = _within(readings)
    told: list[Effect] = []
    names = design.factors
    for size in range(1, len(names) + 1):
        for of in combinations(names, size):
            alias = design.alias(of)
            if design.half and (not alias or any(set(alias) == set(one.of) for one in told)):
                continue
            value = 2.0 * float(np.mean(design.column(of) * means))
            told.append(Effect(of, value, within, alias))
    return tuple(told)


def _within(readings: Sequence[Sequence[float]]) -> float | None:
    degrees = sum(len(run) - 1 for run in readings)
    if not degrees:
        return None
    squares = math.fsum(float(np.var(run)) * len(run) for run in readings)
    each = np.mean([1.0 / len(run) for run in readings])
    error = 2.0 * math.sqrt(squares / degrees * float(each) / len(readings))
    return student_quantile(0.975, degrees) * error


@dataclass(frozen=True, slots=True)
class Evolving:
    """What small changes about today's recipe did, batch after batch.

    ``first`` and ``second`` are the factors' effects, ``both`` theirs together, ``change`` that of
    having left the centre at all.
    """

    first: float
    second: float
    both: float
    change: float


def evolving(
    centre: float, low_low: float, high_high: float, *, mixed: tuple[float, float]
) -> Evolving:
    """Effects of two factors about a centre that is repeated.

    Parameters
    ----------
    centre: reading of today's recipe.
    low_low, high_high: both factors lower, both higher.
    mixed: the first higher with the second lower, then the other way round.

    Reference: box-draper-1969, recalled.
    """
    high_low, low_high = mixed
    corners = low_low + high_high + high_low + low_high
    return Evolving(
        first=0.5 * (high_high + high_low - low_low - low_high),
        second=0.5 * (high_high + low_high - low_low - high_low),
        both=0.5 * (low_low + high_high - high_low - low_high),
        change=(corners - 4.0 * centre) / 5.0,
    )
