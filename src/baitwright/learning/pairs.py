"""Two baits side by side: the ratio of their rates, given what a night brought in all.

Whatever two rods share on a night, the weather or the fish that are there, multiplies both rates.
Given the night's total, the first bait's share of it depends on the ratio alone, and the night
cancels. Baits that never fished the same night are one long night of their totals.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from baitwright.learning.rates import CHANCE_ALONE, Dispersion, Fished
from baitwright.uncertainty.special import chi_squared_above, halved
from baitwright.uncertainty.spreads import Floats

_FARTHEST = 40.0
"""Logarithm of the largest ratio that is looked at."""
_UNLIKE = 12
"""From more different odds of hours on they are rounded to two digits, as well as hours are known
(judgement)."""
_TOLD = (0.5, 0.8, 0.95)


@dataclass(frozen=True, slots=True)
class Pair:
    """One night on which both baits fished; or all nights of both, where no night has both."""

    first: Fished
    second: Fished

    @property
    def bites(self) -> int:
        """Of both."""
        return self.first.bites + self.second.bites

    @property
    def odds(self) -> float:
        """Hours of the first bait for one of the second."""
        return self.first.rod_hours / self.second.rod_hours


@dataclass(frozen=True, slots=True)
class Interval:
    """Ratios that a confidence does not rule out; nothing and without end where one had no bite."""

    level: float
    low: float
    high: float


class Split:
    """How the first bait's bites fall for every ratio, given each night's total.

    Notes
    -----
    On a night of n bites with r hours for one, k of the first is binomial with share
    p = ratio r / (1 + ratio r). Nights of equal r are one binomial; unlike ones are convolved, so
    that the sum's distribution is exact.

    Reference: gu-2008, section 2, conditional test; derived here for nights of unlike hours.
    """

    def __init__(self, pairs: Sequence[Pair]) -> None:
        """Sum up the nights by their hours' odds."""
        told = [one for one in pairs if one.bites]
        if len({one.odds for one in told}) > _UNLIKE:
            odds = [float(f"{one.odds:.2g}") for one in told]
        else:
            odds = [one.odds for one in told]
        totals: Counter[float] = Counter()
        for of, one in zip(odds, told, strict=True):
            totals[of] += one.bites
        self._nights = tuple(totals.items())
        self._ways = [_log_ways(bites) for bites in totals.values()]
        self.seen = sum(one.first.bites for one in pairs)
        self.bites = totals.total()

    def below(self, ratio: float, *, mid: bool = False) -> float:
        """Chance of as few as seen; with ``mid``, half of the chance of exactly as many."""
        likely = self._likely(ratio)
        at = float(likely[self.seen])
        return float(likely[: self.seen].sum()) + (0.5 if mid else 1.0) * at

    def above(self, ratio: float, *, mid: bool = False) -> float:
        """Chance of as many as seen; with ``mid``, half of the chance of exactly as many."""
        likely = self._likely(ratio)
        at = float(likely[self.seen])
        return float(likely[self.seen + 1 :].sum()) + (0.5 if mid else 1.0) * at

    def as_unlikely(self, ratio: float = 1.0, *, mid: bool = False) -> float:
        """Chance of all splits no likelier than the one seen, the two-sided test; never shown."""
        likely = self._likely(ratio)
        at = float(likely[self.seen])
        every = float(likely[likely <= at * (1.0 + 1e-7)].sum())
        return min(1.0, every - (0.5 * at if mid else 0.0))

    def interval(self, level: float, *, mid: bool = False) -> Interval:
        """The ratios at which neither tail is below half of what the level leaves out."""
        if not self.bites:
            return Interval(level, 0.0, math.inf)
        out = 0.5 * (1.0 - level)
        low, high = 0.0, math.inf
        if self.seen:
            low = self._crossing(lambda ratio: self.above(ratio, mid=mid) - out)
        if self.seen < self.bites:
            high = self._crossing(lambda ratio: out - self.below(ratio, mid=mid))
        return Interval(level, low, high)

    @property
    def ratio(self) -> float:
        """The likeliest ratio: the first bait's expected bites are those seen."""
        if not 0 < self.seen < self.bites:
            return math.nan if not self.bites else (math.inf if self.seen else 0.0)
        return self._crossing(lambda ratio: self._expected(ratio) - self.seen)

    def _crossing(self, rising: Callable[[float], float]) -> float:
        found = halved(lambda log: rising(math.exp(log)), -_FARTHEST, _FARTHEST)
        return math.exp(found)

    def _expected(self, ratio: float) -> float:
        return math.fsum(n * ratio * odds / (1.0 + ratio * odds) for odds, n in self._nights)

    def _likely(self, ratio: float) -> Floats:
        whole = np.ones(1)
        for (odds, bites), ways in zip(self._nights, self._ways, strict=True):
            log = math.log(ratio * odds)
            below = bites * (max(log, 0.0) + math.log1p(math.exp(-abs(log))))
            whole = np.convolve(whole, np.exp(ways + np.arange(bites + 1) * log - below))
        return whole


def _log_ways(count: int) -> Floats:
    """Logarithms of the ways to choose none to all."""
    at = np.arange(1, count + 1)
    return np.concatenate(([0.0], np.cumsum(np.log((count + 1 - at) / at))))


@dataclass(frozen=True, slots=True)
class RateRatio:
    """How many times the first bait's rate is the second's.

    ``exact`` and ``mid`` are the intervals of 50, 80 and 95 % by either way; ``widened`` is the
    last of ``mid`` with the nights' own scatter, the same where that is no more than chance.
    """

    ratio: float
    exact: tuple[Interval, ...]
    mid: tuple[Interval, ...]
    widened: Interval
    dispersion: Dispersion


def rate_ratio(pairs: Sequence[Pair]) -> RateRatio:
    """The ratio of two rates given every night's total, with its intervals.

    Notes
    -----
    Exact limits put half of what the level leaves out into either tail; mid limits count half of
    the split seen, and hold their level on the whole where exact ones hold more. Where nights
    scatter more than chance, the mid limits' distance is taken times the dispersion's root.

    Reference: gu-2008; clopper-pearson-1934; judgement for the widening.
    """
    split = Split(pairs)
    mid = tuple(split.interval(level, mid=True) for level in _TOLD)
    scatter = dispersion_within(pairs, split.ratio)
    widened = _widened(mid[-1], split.ratio, math.sqrt(scatter.widens))
    exact = tuple(split.interval(level) for level in _TOLD)
    return RateRatio(split.ratio, exact, mid, widened, scatter)


def _widened(interval: Interval, ratio: float, times: float) -> Interval:
    if times == 1.0 or not 0.0 < ratio < math.inf:
        return interval
    low, high = (ratio * (end / ratio) ** times for end in (interval.low, interval.high))
    return Interval(interval.level, low, high)


def dispersion_within(pairs: Sequence[Pair], ratio: float) -> Dispersion:
    """How much the split of a night's bites scatters beyond chance.

    Notes
    -----
    Only nights of two bites or more can tell: chi2 = sum of (k - n p)^2 / (n p (1 - p)), by
    their number less one. A single bite is as far off as it can be, whatever the cause.

    Reference: recalled, Pearson's dispersion of binomials.
    """
    nights = [one for one in pairs if one.bites > 1]
    if len(nights) < 2 or not 0.0 < ratio < math.inf:
        return CHANCE_ALONE
    weighted = 0.0
    for one in nights:
        share = ratio * one.odds / (1.0 + ratio * one.odds)
        off = one.first.bites - one.bites * share
        weighted += off * off / (one.bites * share * (1.0 - share))
    degrees = len(nights) - 1
    return Dispersion(weighted / degrees, degrees, chi_squared_above(weighted, degrees), 0.0)
