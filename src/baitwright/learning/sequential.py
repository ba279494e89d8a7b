"""A trial that may stop early: a rule set before the first night, and where it stands."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from baitwright.terms.errors import RangeError

WRONG, MISSED = 0.05, 0.20


class Standing(StrEnum):
    """Where a sequential trial stands."""

    GO_ON = "go on"
    FIRST = "stop: the first bait's rate is the higher one"
    NO_SUCH = "stop: a difference as large as that is not there"


@dataclass(frozen=True, slots=True)
class SequentialPlan:
    """The rule of a trial on paired rods: each bite adds, and the sum meets one of two bounds.

    ``upper`` and ``lower`` are the bounds, ``first`` and ``second`` what a bite on either bait
    adds when both rods were out for as long.

    Notes
    -----
    Wald's test of p = ratio / (1 + ratio) against one half: bounds ln((1 - missed) / wrong) and
    ln(missed / (1 - wrong)); a bite on the first adds ln(2 p), one on the second ln(2 (1 - p)).

    Reference: wald-1947.
    """

    ratio: float
    upper: float
    lower: float
    first: float
    second: float

    def after(self, first: int, second: int) -> float:
        """The sum after so many bites of each."""
        return first * self.first + second * self.second

    def standing(self, bites: Iterable[tuple[int, int]]) -> tuple[Standing, int, float]:
        """Where the trial stands: at which night it stopped, or how many it has had, and its sum.

        Parameters
        ----------
        bites: of the first and the second bait, night after night in their order.
        """
        total, night = 0.0, 0
        for night, (first, second) in enumerate(bites, start=1):
            total += self.after(first, second)
            if total >= self.upper:
                return Standing.FIRST, night, total
            if total <= self.lower:
                return Standing.NO_SUCH, night, total
        return Standing.GO_ON, night, total

    def bites_expected(self, ratio: float) -> float:
        """Bites of both baits until it stops on average, where ``ratio`` is the true one.

        Notes
        -----
        Wald's approximation, which overlooks how far the last bite steps over a bound.

        Reference: wald-1947.
        """
        share = ratio / (1.0 + ratio)
        drift = share * self.first + (1.0 - share) * self.second
        if abs(drift) < 1e-9:
            return -self.upper * self.lower / (self.first * -self.second)
        power = self._stops_at_upper(share)
        return (power * self.upper + (1.0 - power) * self.lower) / drift

    def _stops_at_upper(self, share: float) -> float:
        """Chance of ending at the upper bound, by Wald's equation for its exponent."""

        def left(h: float) -> float:
            return (
                share * math.exp(h * self.first) + (1.0 - share) * math.exp(h * self.second) - 1.0
            )

        drift = share * self.first + (1.0 - share) * self.second
        sign = -1.0 if drift > 0.0 else 1.0
        far = sign
        while left(far) < 0.0:
            far *= 2.0
        near = 1e-9 * sign
        for _ in range(200):
            middle = 0.5 * (near + far)
            near, far = (middle, far) if left(middle) < 0.0 else (near, middle)
        up, down = math.exp(far * self.upper), math.exp(far * self.lower)
        return (1.0 - down) / (up - down)


def sequential_plan(
    ratio: float, *, wrong: float = WRONG, missed: float = MISSED
) -> SequentialPlan:
    """The stopping rule of a trial that looks for a ratio.

    Parameters
    ----------
    ratio: that the first bait's rate is so many times the second's.
    wrong: how often it may stop for the first bait where both are alike.
    missed: how often it may miss a ratio as large as that.

    Raises
    ------
    RangeError: a ratio of 1 or less, or chances beyond a half.
    """
    if not 1.0 < ratio < math.inf:
        raise RangeError("ratio", ratio, low=1.01, high=100.0)
    for name, chance in (("wrong", wrong), ("missed", missed)):
        if not 0.0 < chance < 0.5:
            raise RangeError(name, chance, low=0.001, high=0.499)
    share = ratio / (1.0 + ratio)
    return SequentialPlan(
        ratio,
        upper=math.log((1.0 - missed) / wrong),
        lower=math.log(missed / (1.0 - wrong)),
        first=math.log(2.0 * share),
        second=math.log(2.0 * (1.0 - share)),
    )
