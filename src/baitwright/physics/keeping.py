"""How fast microbes grow on a moist solid, and how long it stays free of mould."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from baitwright.physics.constants import CELSIUS_ZERO
from baitwright.physics.limits import Array, Values, within

# beuchat-1981: nothing that is known grows below this water activity.
NO_GROWTH_BELOW = 0.60
# The two lines of seiler-1976 are for these temperatures.
_COOL, _WARM = CELSIUS_ZERO + 21.0, CELSIUS_ZERO + 27.0
_DAY = 86_400.0


@dataclass(frozen=True, slots=True)
class SquareRootLaw:
    """How an organism's growth rate follows temperature while it is below its best.

    Parameters
    ----------
    slope: of the square root of the rate with temperature, 1e-6 to 0.01 [1/s0.5/K]
    zero: temperature at which the line meets zero, 250 to 290 [K]
    low: coldest temperature it was fitted to [K]
    high: warmest temperature it was fitted to [K]

    Raises
    ------
    RangeError: slope or zero outside these limits, or high below low.
    """

    slope: float
    zero: float
    low: float
    high: float

    def __post_init__(self) -> None:
        within("law.slope", self.slope, low=1e-6, high=0.01, unit="1/s0.5/K")
        within("law.zero", self.zero, low=250.0, high=290.0, unit="K")
        within("law.high", self.high, low=self.low, high=330.0, unit="K")


@dataclass(frozen=True, slots=True)
class Cardinal:
    """Where growth begins, is best and ends, on a scale of temperature or of water activity.

    Parameters
    ----------
    lowest: growth begins above this [K or 1]
    best: growth is fastest here [K or 1]
    highest: growth ends here [K or 1]

    Raises
    ------
    RangeError: they do not rise, or the best lies nearer the lowest than the highest.
    """

    lowest: float
    best: float
    highest: float

    def __post_init__(self) -> None:
        hint = "The cardinal model holds for a best that is nearer to the highest."
        middle = 0.5 * (self.lowest + self.highest)
        within("cardinal.best", self.best, low=middle, high=self.highest, hint=hint)


def square_root_rate(temperature: Values, law: SquareRootLaw) -> Array:
    """Specific growth rate on a moist and not acid surface.

    Parameters
    ----------
    temperature: within the law's own limits [K]
    law: of the organism on its food [record]

    Returns
    -------
    Growth rate, zero where it is colder than the law's zero [1/s]

    Raises
    ------
    RangeError: temperature outside what the law was fitted to.

    Notes
    -----
    mu = (b (T - T0))^2.

    Reference: ratkowsky-1982.
    """
    kelvin = within("temperature", temperature, low=law.low, high=law.high, unit="K")
    return (law.slope * np.maximum(kelvin - law.zero, 0.0)) ** 2


def activity_factor(activity: Values, driest: Values) -> Array:
    """Factor on a growth rate for water that is less free.

    Parameters
    ----------
    activity: water activity, 0 to 1 [1]
    driest: water activity at which growth ends, 0.5 to 0.99 [1]

    Returns
    -------
    1 in pure water, 0 at ``driest`` and below [1]

    Raises
    ------
    RangeError: a value outside these limits.

    Notes
    -----
    g = (a - a0) / (1 - a0).

    Reference: zwietering-1996.
    """
    water = within("water_activity", activity, low=0.0, high=1.0)
    end = within("driest", driest, low=0.5, high=0.99)
    return np.maximum(water - end, 0.0) / (1.0 - end)


def acidity_factor(acidity: Values, sourest: Values) -> Array:
    """Factor on a growth rate for acid.

    Parameters
    ----------
    acidity: pH, 0 to 8 [1]
    sourest: pH at which growth ends, 3 to 6 [1]

    Returns
    -------
    Nearly 1 in neutral food, 0 at ``sourest`` and below [1]

    Raises
    ------
    RangeError: a value outside these limits.

    Notes
    -----
    g = 1 - 10^(pH0 - pH).

    Reference: augustin-2005.
    """
    sour = within("acidity", acidity, low=0.0, high=8.0)
    end = within("sourest", sourest, low=3.0, high=6.0)
    return np.maximum(1.0 - 10.0 ** (end - sour), 0.0)


def cardinal_factor(value: Values, points: Cardinal) -> Array:
    """Factor on the best growth rate, by the cardinal model of the second order.

    Parameters
    ----------
    value: temperature or water activity [K or 1]
    points: where growth begins, is best and ends [record]

    Returns
    -------
    1 at the best, 0 at both ends and beyond them [1]

    Raises
    ------
    RangeError: value is not a number.

    Notes
    -----
    (x - x2)(x - x0)^2 / ((x1 - x0)((x1 - x0)(x - x1) - (x1 - x2)(x1 + x0 - 2 x))), with x0, x1
    and x2 the lowest, best and highest.

    Reference: rosso-1993.
    """
    place = within("value", value, low=-np.inf, high=np.inf)
    low, best, high = points.lowest, points.best, points.highest
    inside = np.clip(place, low, high)
    above = (inside - high) * (inside - low) ** 2
    under = (best - low) * (
        (best - low) * (inside - best) - (best - high) * (best + low - 2.0 * inside)
    )
    grows = (place > low) & (place < high)
    return np.where(grows, above / np.where(grows, under, 1.0), 0.0)


def growth_time(rate: Values, decades: Values) -> Array:
    """Time in which a count grows tenfold so many times, without a lag.

    Parameters
    ----------
    rate: specific growth rate, 0 to 0.01 [1/s]
    decades: powers of ten, 0 to 12 [1]

    Returns
    -------
    Time; infinite where nothing grows [s]

    Raises
    ------
    RangeError: a value outside these limits.

    Notes
    -----
    t = n ln 10 / mu; leaving out the lag errs to the short side.

    Reference: definition.
    """
    speed = within("rate", rate, low=0.0, high=0.01, unit="1/s")
    tenfold = within("decades", decades, low=0.0, high=12.0)
    with np.errstate(divide="ignore"):
        return np.where(speed > 0.0, tenfold * np.log(10.0) / speed, np.inf)


def mould_free_time(temperature: Values, activity: Values, *, in_cold: Cardinal) -> Array:
    """Time until mould shows on moist baked goods.

    Parameters
    ----------
    temperature: 265 to 310 [K]
    activity: water activity, 0 to 1 [1]
    in_cold: a mould's growth by temperature, used below 21 C [record]

    Returns
    -------
    Time free of visible mould; infinite below an activity of 0.60 or where the mould stops [s]

    Raises
    ------
    RangeError: a value outside these limits.

    Notes
    -----
    log10 days = 7.91 - 8.1 a at 21 C and 6.42 - 6.5 a at 27 C, read between activities of 0.74 and
    0.90 and carried on outside them; where the lines cross, near 0.93, the shorter one counts for
    both. Between the temperatures, and above them, the logarithm runs straight on. Below 21 C
    nothing was read: the days grow as the rate of ``in_cold`` falls.

    Reference: cauvain-seiler, lines for cakes; judgement for what is carried on.
    """
    kelvin = within("temperature", temperature, low=265.0, high=310.0, unit="K")
    water = within("water_activity", activity, low=0.0, high=1.0)
    cool = 7.91 - 8.1 * water
    warm = np.minimum(6.42 - 6.5 * water, cool)
    straight = cool + (warm - cool) * (np.maximum(kelvin, _COOL) - _COOL) / (_WARM - _COOL)
    pace = cardinal_factor(np.minimum(kelvin, _COOL), in_cold) / cardinal_factor(_COOL, in_cold)
    grows = (water >= NO_GROWTH_BELOW) & (pace > 0.0)
    days = 10.0**straight / np.where(grows, pace, 1.0)
    return np.where(grows, _DAY * days, np.inf)
