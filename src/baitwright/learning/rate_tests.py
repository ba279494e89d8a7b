"""Tests of two unpaired rates: what a trial of fixed length may ask once, at its end.

Nothing here is shown while bites still come in: who looks often enough finds a difference where
there is none.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from statistics import NormalDist

import numpy as np

from baitwright.learning.rates import Fished
from baitwright.uncertainty.spreads import Floats

_FAR = 12.0
"""Standard deviations beyond which no bites are looked at."""


@dataclass(frozen=True, slots=True)
class Statistics:
    """Five statistics of two unpaired rates.

    Each is about standard normal where the rates are equal.
    """

    wald: float
    score: float
    log_wald: float
    log_score: float
    root: float


def statistics_of(first: Fished, second: Fished) -> Statistics:
    """The five statistics that compare two unpaired rates.

    Notes
    -----
    With d = T2 / T1, wald = (k1 - k2/d) / sqrt(k1 + k2/d^2), score the same over
    sqrt((k1 + k2) / d); log wald = ln(k1 d / k2) / sqrt(1/k1 + 1/k2), log score over
    sqrt((2 + 1/d + d) / (k1 + k2)); root = 2 (sqrt(k1 + 3/8) - sqrt((k2 + 3/8)/d)) /
    sqrt(1 + 1/d).

    Reference: gu-2008, table 1.
    """
    d = second.rod_hours / first.rod_hours
    k1, k2 = first.bites, second.bites
    off = k1 - k2 / d
    ratio = math.log(k1 * d / k2)
    return Statistics(
        wald=off / math.sqrt(k1 + k2 / d**2),
        score=off / math.sqrt((k1 + k2) / d),
        log_wald=ratio / math.sqrt(1.0 / k1 + 1.0 / k2),
        log_score=ratio / math.sqrt((2.0 + 1.0 / d + d) / (k1 + k2)),
        root=2.0 * (math.sqrt(k1 + 0.375) - math.sqrt((k2 + 0.375) / d)) / math.sqrt(1.0 + 1.0 / d),
    )


def tail(statistic: float) -> float:
    """Chance that a standard normal variable lies above a statistic."""
    return 1.0 - NormalDist().cdf(statistic)


def e_test(first: Fished, second: Fished) -> float:
    """Chance of a difference as large as the one seen, if both rates were the pooled one.

    Notes
    -----
    Sum over all (x1, x2) of Poisson chances at the pooled rate wherever |T(x1, x2)| >= |T seen|,
    T = (x1/T1 - x2/T2) / sqrt(x1/T1^2 + x2/T2^2). Two-sided.

    Reference: krishnamoorthy-2004, E-test.
    """
    seen = abs(float(_difference((first, second), first.bites, second.bites)))
    rate = (first.bites + second.bites) / (first.rod_hours + second.rod_hours)
    x1, likely1 = _poisson(rate * first.rod_hours)
    x2, likely2 = _poisson(rate * second.rod_hours)
    far = np.abs(_difference((first, second), x1[:, None], x2[None, :])) >= seen * (1.0 - 1e-12)
    return float((likely1[:, None] * likely2[None, :] * far).sum())


def _difference(both: tuple[Fished, Fished], x1: Floats | int, x2: Floats | int) -> Floats:
    first, second = both
    one, two = np.asarray(x1) / first.rod_hours, np.asarray(x2) / second.rod_hours
    spread = np.sqrt(one / first.rod_hours + two / second.rod_hours)
    return np.asarray((one - two) / np.where(spread > 0.0, spread, 1.0))


def _poisson(mean: float) -> tuple[Floats, Floats]:
    """Counts that are worth looking at, and their chances."""
    most = math.ceil(mean + _FAR * math.sqrt(mean) + 30.0)
    at = np.arange(most + 1, dtype=float)
    steps = np.concatenate(([0.0], np.cumsum(np.log(np.arange(1, most + 1)))))
    return at, np.asarray(np.exp(at * math.log(mean) - mean - steps)) if mean > 0.0 else at == 0.0


def power_of_difference(
    rates: tuple[float, float], hours: tuple[float, float], *, level: float = 0.05
) -> float:
    """Chance that two unpaired rates of so many hours show which is higher, one-sided.

    Notes
    -----
    Phi(difference / sqrt(r1 / T1 + r2 / T2) - z of 1 - level).

    Reference: gu-2008, Wald's statistic.
    """
    spread = math.sqrt(rates[0] / hours[0] + rates[1] / hours[1])
    bell = NormalDist()
    return bell.cdf(abs(rates[0] - rates[1]) / spread - bell.inv_cdf(1.0 - level))
