"""Gamma, beta and their kin in plain floats: what exact intervals of counts are made of.

Shares are found by series and continued fractions, values by halving; both to a few parts in 1e12.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from baitwright.terms.errors import ComputationError, RangeError

_TINY = 1e-300
_STEPS = 10_000
_HALVINGS = 200


def beta_below(x: float, a: float, b: float) -> float:
    """Chance that a Beta(a, b) variable lies below x.

    Raises
    ------
    RangeError: a or b is not above nothing.

    Reference: recalled, regularised incomplete beta function by Lentz's continued fraction.
    """
    _above_nothing(a=a, b=b)
    if x <= 0.0 or x >= 1.0:
        return 0.0 if x <= 0.0 else 1.0
    log_front = math.lgamma(a + b) - math.lgamma(a) - math.lgamma(b)
    front = math.exp(log_front + a * math.log(x) + b * math.log1p(-x))
    if x <= (a + 1.0) / (a + b + 2.0):
        return front * _beta_fraction(x, a, b) / a
    return 1.0 - front * _beta_fraction(1.0 - x, b, a) / b


def _beta_fraction(x: float, a: float, b: float) -> float:
    c, d = 1.0, 1.0 / _kept_from_nothing(1.0 - (a + b) * x / (a + 1.0))
    found = d
    for m in range(1, _STEPS):
        even = m * (b - m) * x / ((a + 2 * m - 1.0) * (a + 2 * m))
        odd = -(a + m) * (a + b + m) * x / ((a + 2 * m) * (a + 2 * m + 1.0))
        for step in (even, odd):
            d = 1.0 / _kept_from_nothing(1.0 + step * d)
            c = _kept_from_nothing(1.0 + step / c)
            found *= c * d
        if abs(c * d - 1.0) < 1e-15:
            return found
    raise ComputationError(f"beta fraction at {x:g}, {a:g}, {b:g}")


def gamma_below(x: float, a: float) -> float:
    """Chance that a Gamma(a) variable of rate 1 lies below x.

    Raises
    ------
    RangeError: a is not above nothing.

    Reference: recalled, regularised incomplete gamma function, series below a + 1 and continued
    fraction above.
    """
    _above_nothing(a=a)
    if x <= 0.0:
        return 0.0
    front = math.exp(a * math.log(x) - x - math.lgamma(a))
    if x >= a + 1.0:
        return 1.0 - front * _gamma_fraction(x, a)
    part = total = 1.0 / a
    for n in range(1, _STEPS):
        part *= x / (a + n)
        total += part
        if part < 1e-16 * total:
            return front * total
    raise ComputationError(f"gamma series at {x:g}, {a:g}")


def _gamma_fraction(x: float, a: float) -> float:
    b = x + 1.0 - a
    c, d = 1.0 / _TINY, 1.0 / _kept_from_nothing(b)
    found = d
    for n in range(1, _STEPS):
        step = -n * (n - a)
        b += 2.0
        d = 1.0 / _kept_from_nothing(step * d + b)
        c = _kept_from_nothing(b + step / c)
        found *= c * d
        if abs(c * d - 1.0) < 1e-15:
            return found
    raise ComputationError(f"gamma fraction at {x:g}, {a:g}")


def _kept_from_nothing(value: float) -> float:
    return value if abs(value) > _TINY else _TINY


def beta_quantile(share: float, a: float, b: float) -> float:
    """The value below which a Beta(a, b) variable lies with a chance of ``share``."""
    return halved(lambda x: beta_below(x, a, b) - share, 0.0, 1.0)


def gamma_quantile(share: float, a: float) -> float:
    """The value below which a Gamma(a) variable of rate 1 lies with a chance of ``share``."""
    high = a + 1.0
    while gamma_below(high, a) < share:
        high *= 2.0
    return halved(lambda x: gamma_below(x, a) - share, 0.0, high)


def chi_squared_above(x: float, degrees: float) -> float:
    """Chance that a chi-squared variable lies above x."""
    return 1.0 - gamma_below(0.5 * x, 0.5 * degrees)


def f_above(x: float, above: float, below: float) -> float:
    """Chance that an F variable with degrees ``above`` and ``below`` the line lies above x."""
    return beta_below(below / (below + above * x), 0.5 * below, 0.5 * above)


def student_quantile(share: float, degrees: float) -> float:
    """The value below which a Student t variable lies with a chance of ``share``."""
    if share == 0.5:
        return 0.0
    outside = 2.0 * min(share, 1.0 - share)
    within = beta_quantile(outside, 0.5 * degrees, 0.5)
    size = math.sqrt(degrees * (1.0 - within) / within)
    return size if share > 0.5 else -size


def halved(rising: Callable[[float], float], low: float, high: float) -> float:
    """Where a rising function crosses nothing between two ends, by halving.

    Parameters
    ----------
    rising: below nothing at the low end, above it at the high one.
    low, high: the ends.
    """
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        if middle in (low, high):
            break
        low, high = (middle, high) if rising(middle) < 0.0 else (low, middle)
    return 0.5 * (low + high)


def _above_nothing(**told: float) -> None:
    for name, value in told.items():
        if not 0.0 < value < math.inf:
            raise RangeError(name, value, low=_TINY, high=1e300)
