"""What readings tell of a factor, worked out in plain numbers: no arrays are loaded for it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

WEIGHED = 0.01
"""Relative standard uncertainty of a kitchen scale's reading (judgement)."""
RULE = 0.01
"""Relative standard uncertainty of a row of baits or cores against a rule (judgement)."""
NOSE = 0.2
"""Relative standard uncertainty of a strength matched by nose, dilution beside dilution
(judgement)."""
LITTLE = 0.15
"""A factor seen by less than this share of the readings' spread is left alone (judgement)."""
ABSURD = 10.0
"""A reading so many times its prediction, or so small a part of it, is a slip of the unit."""
_ROUNDING = 1e-9
"""A share below this is the arithmetic's, not the readings'."""


@dataclass(frozen=True, slots=True)
class Evidence:
    """What readings say of a factor in one batch.

    ``share`` is the part of the readings' spread that goes with the factor, 0 to 1. ``log_ratio``
    is how far from its middle the batch's factor would lie if the readings saw nothing else, None
    where they do not see it.
    """

    share: float
    log_ratio: float | None


UNSEEN = Evidence(0.0, None)


def evidence_in(
    spread: Sequence[Sequence[float]],
    moved: Sequence[float],
    *,
    variance: float,
    ratios: Sequence[float],
) -> Evidence:
    """What readings say of a factor, from how they vary together.

    Parameters
    ----------
    spread: of the readings' logarithms, their own errors in it.
    moved: how each varies with the factor's logarithm.
    variance: of that.
    ratios: logarithms of measured over predicted.
    """
    weights = _solved(spread, moved)
    share = _product(weights, moved) / variance
    if share <= _ROUNDING:
        return UNSEEN
    return Evidence(min(share, 1.0), _product(weights, ratios) / share)


def _solved(matrix: Sequence[Sequence[float]], right: Sequence[float]) -> list[float]:
    """The solution of a few equations whose matrix is symmetric and positive, by elimination."""
    rows = [[*row, end] for row, end in zip(matrix, right, strict=True)]
    size = len(rows)
    for at, row in enumerate(rows):
        for other in rows[at + 1 :]:
            times = other[at] / row[at]
            for place in range(at, size + 1):
                other[place] -= times * row[place]
    found = [0.0] * size
    for at in reversed(range(size)):
        row = rows[at]
        found[at] = (row[-1] - _product(row[at + 1 : -1], found[at + 1 :])) / row[at]
    return found


def _product(one: Sequence[float], other: Sequence[float]) -> float:
    return sum(a * b for a, b in zip(one, other, strict=True))
