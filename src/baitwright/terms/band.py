"""A result with its uncertainty: a median and three nested bands."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

SHARES = (0.5, 0.25, 0.75, 0.1, 0.9, 0.025, 0.975)
"""Shares of a distribution below the middle and the ends of the bands."""


@dataclass(frozen=True, slots=True)
class Band:
    """What is believed of one number.

    ``low50`` to ``high50`` holds it in one case of two, the 80 band in four of five, the 95 band in
    nineteen of twenty. All values stand in ``unit``. ``draws`` says how many draws the band rests
    on: 1 for a number that is known, 0 for one whose distribution is known in closed form.
    """

    name: str
    unit: str
    median: float
    low50: float
    high50: float
    low80: float
    high80: float
    low95: float
    high95: float
    draws: int

    @classmethod
    def known(cls, name: str, value: float, unit: str) -> Band:
        """The band of a number without uncertainty."""
        return cls(name, unit, *(value,) * 7, draws=1)

    @classmethod
    def of(cls, name: str, unit: str, quantile: Callable[[float], float]) -> Band:
        """The band of a number by what lies below each share of its distribution."""
        median, low50, high50, low80, high80, low95, high95 = map(quantile, SHARES)
        return cls(name, unit, median, low50, high50, low80, high80, low95, high95, draws=0)

    @property
    def is_known(self) -> bool:
        """Whether the band has no width."""
        return self.low95 == self.high95

    def holds(self, value: float) -> int:
        """The narrowest of the bands 50, 80 and 95 that holds a value, or 0 when none does."""
        bounds = {
            50: (self.low50, self.high50),
            80: (self.low80, self.high80),
            95: (self.low95, self.high95),
        }
        return next((level for level, (low, high) in bounds.items() if low <= value <= high), 0)


def log_sd(low: float, high: float) -> float:
    """Standard deviation of the log of what lies within a range in 19 cases of 20 [1]."""
    return math.log(high / low) / 3.92
