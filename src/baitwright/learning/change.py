"""Has something changed? Sums of surprises, which see a change long before a factor has followed.

A factor with a memory moves slowly: five batches that are 15 % off have moved it a fifth of the way
by then. Each batch is held against what was believed before it instead, and surprises that all go
one way add up.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

SLACK, LIMIT = 0.5, 3.5
"""What each batch is let off, and the sum that is told, in standard scores: made for a change of
one standard deviation, seen after 7 batches in the mean, and one of three after 2."""
ONE_FALSE_IN = 100
"""Batches of a steady kitchen between two false alarms of one factor, in the mean."""


@dataclass(frozen=True, slots=True)
class Change:
    """A change that is told at one batch and began about another, by their places; up or down."""

    told: int
    began: int
    goes_up: bool


def standard_score(distance: float, *, scale: float, nu: float) -> float:
    """A surprise as a standard score: as rare as that of a Student t variable.

    Parameters
    ----------
    distance: from the middle of what was believed.
    scale, nu: scale and degrees of freedom of that belief.

    Notes
    -----
    z = (8 nu + 1) / (8 nu + 3) sqrt(nu ln(1 + t^2 / nu)), within 0.03 up to 4 from nu = 4 on.

    Reference: wallace-1959.
    """
    t = distance / scale
    bent = math.sqrt(nu * math.log1p(t * t / nu))
    return math.copysign((8.0 * nu + 1.0) / (8.0 * nu + 3.0) * bent, t)


def changes(scores: Iterable[float]) -> tuple[Change, ...]:
    """Every change that is told by the scores of batch after batch; after one the sums begin anew.

    Notes
    -----
    up = max(0, up + z - slack), down = max(0, down - z - slack); told where one is above the limit.

    Reference: nist-handbook, section 6.3.2.3.
    """
    found, sums, began = [], [0.0, 0.0], [0, 0]
    for at, score in enumerate(scores):
        for side, sign in enumerate((1.0, -1.0)):
            if sums[side] == 0.0:
                began[side] = at
            sums[side] = max(0.0, sums[side] + sign * score - SLACK)
        if max(sums) > LIMIT:
            side = sums.index(max(sums))
            found.append(Change(at, began[side], goes_up=side == 0))
            sums = [0.0, 0.0]
    return tuple(found)
