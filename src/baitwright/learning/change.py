"""Has something changed? Sums of surprises, which see a change long before a factor has followed.

A factor with a memory moves slowly: five batches that are 15 % off have moved it a fifth of the way
by then. Each batch is held against what was believed before it instead, and surprises that all go
one way add up: since they began to, which sees a small change some day and a large one at once, and
over the last five batches, which misses fewer of those in between.
"""

from __future__ import annotations

import math
from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass

SLACK, LIMIT = 0.5, 4.0
"""What each batch is let off, and the sum that is told, in standard scores: made for a change of
one standard deviation, seen after 7 batches in the mean, and one of three after 2."""
LAST, LIMIT_OF_LAST = 5, 5.45
"""The last batches, and the sum of their scores that is told as well."""
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
    up = max(0, up + z - slack), down = max(0, down - z - slack); told where one is above its limit,
    or where the plain sum of the last scores since a change is above its own, either way. A sum of
    the last that is told leaves that side's other sum above nothing, so that it has a beginning.

    Reference: nist-handbook, section 6.3.2.3; the sum of the last and both limits worked out here.
    """
    found, sums, began = [], [0.0, 0.0], [0, 0]
    last: deque[float] = deque(maxlen=LAST)
    for at, score in enumerate(scores):
        last.append(score)
        together = sum(last)
        for side, sign in enumerate((1.0, -1.0)):
            if sums[side] == 0.0:
                began[side] = at
            sums[side] = max(0.0, sums[side] + sign * score - SLACK)
        if max(sums) > LIMIT or abs(together) > LIMIT_OF_LAST:
            side = sums.index(max(sums))
            found.append(Change(at, began[side], goes_up=side == 0))
            sums = [0.0, 0.0]
            last.clear()
    return tuple(found)
