"""When and how fast a moist solid freezes."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import numpy as np

from baitwright.physics.constants import GAS_CONSTANT
from baitwright.physics.limits import Array, Values, within

MELTING_POINT = 273.15  # K
HEAT_OF_FUSION = 6010.0  # J/mol, of ice at its melting point
COLDEST_ICE = 213.15  # K, where ``ice_water_activity`` ends
DRIEST_WITH_ICE = 0.581  # its value there, rounded up


class Shape(Enum):
    """A body by its shape; the value is its volume over its surface and its thickness."""

    SLAB = 1.0 / 2.0
    CYLINDER = 1.0 / 4.0
    BALL = 1.0 / 6.0


@dataclass(frozen=True, slots=True)
class FreezingBody:
    """What Plank's equation needs to know of a solid that freezes.

    Parameters
    ----------
    density: density, 100 to 3000 [kg/m3]
    latent_heat: heat given off per mass of the whole as it freezes, 1e3 to 3.4e5 [J/kg]
    conductivity: thermal conductivity of the frozen solid, 0.01 to 5 [W/m/K]
    freezing_point: temperature at which it starts to freeze, 233.15 to 273.15 [K]

    Raises
    ------
    RangeError: a value outside these limits.
    """

    density: Values
    latent_heat: Values
    conductivity: Values
    freezing_point: Values

    def __post_init__(self) -> None:
        within("body.density", self.density, low=100.0, high=3000.0, unit="kg/m3")
        within("body.latent_heat", self.latent_heat, low=1e3, high=3.4e5, unit="J/kg")
        within("body.conductivity", self.conductivity, low=0.01, high=5.0, unit="W/m/K")
        within("body.freezing_point", self.freezing_point, low=233.15, high=273.15, unit="K")


def freezing_point(activity: Values) -> Values:
    """Temperature at which a moist solid of a given water activity starts to freeze.

    Parameters
    ----------
    activity: water activity, 0.7 to 1 [1]

    Returns
    -------
    Initial freezing point [K]

    Raises
    ------
    RangeError: activity outside these limits.

    Notes
    -----
    1/T = 1/T0 - (R / L) ln a with a constant molar heat of fusion. The heat falls as it gets
    colder, so this understates the depression: 2 % near -5 C, 6 % near -17 C. The exact relation
    is ``ice_water_activity``.

    Reference: fricke-becker-2001, ideal depression; heat of fusion from iapws-r10-06.
    """
    water = within("water_activity", activity, low=0.7, high=1.0)
    point: Array = 1.0 / (1.0 / MELTING_POINT - GAS_CONSTANT / HEAT_OF_FUSION * np.log(water))
    return point


def ice_water_activity(temperature: Values) -> Values:
    """Water activity of any solid in which ice is present.

    Parameters
    ----------
    temperature: temperature, 213.15 to 273.15 [K]

    Returns
    -------
    Vapour pressure of ice over that of supercooled water [1]

    Raises
    ------
    RangeError: temperature outside these limits.

    Notes
    -----
    What is drier than this does not freeze at that temperature.

    Reference: murphy-koop-2005, eqs. 7 and 10.
    """
    kelvin = within("temperature", temperature, low=213.15, high=273.15, unit="K")
    ratio: Array = np.exp(_log_ice_pressure(kelvin) - _log_water_pressure(kelvin))
    return ratio


def ice_temperature(activity: Values) -> Values:
    """Temperature at which ice is in balance with a moist solid: the exact freezing point.

    Parameters
    ----------
    activity: water activity, 0.581 to 1 [1]

    Returns
    -------
    Temperature below which ice can form in it [K]

    Raises
    ------
    RangeError: activity outside these limits.

    Notes
    -----
    The inverse of ``ice_water_activity`` by bisection to 1e-9 K; at an activity of 1 the melting
    point.

    Reference: murphy-koop-2005, eqs. 7 and 10.
    """
    water = within("water_activity", activity, low=DRIEST_WITH_ICE, high=1.0)
    cold, warm = np.full(water.shape, COLDEST_ICE), np.full(water.shape, MELTING_POINT)
    for _ in range(36):
        middle = 0.5 * (cold + warm)
        wetter = np.asarray(ice_water_activity(middle)) < water
        cold, warm = np.where(wetter, middle, cold), np.where(wetter, warm, middle)
    point: Array = 0.5 * (cold + warm)
    return point


def plank_time(
    diameter: Values,
    body: FreezingBody,
    *,
    air_temperature: Values,
    coefficient: Values,
    shape: Shape = Shape.BALL,
) -> Values:
    """Time for a body that stands at its freezing point to freeze through.

    Parameters
    ----------
    diameter: diameter, or a slab's thickness, 1e-3 to 0.5 [m]
    body: what it is made of [record]
    air_temperature: temperature around it, below its freezing point [K]
    coefficient: heat transfer at its surface, 0.5 to 5000 [W/m2/K]
    shape: what it is like; a sphere unless told [record]

    Returns
    -------
    Freezing time, without cooling before and after [s]

    Raises
    ------
    RangeError: a value outside these limits, or air no colder than the freezing point.

    Notes
    -----
    t = rho L / (Tf - Ta) (P d / h + P d^2 / (4 k)), P 1/2 for a slab, 1/4 and 1/6 for a cylinder
    and a sphere.

    Reference: plank-1913, sphere with P = 1/6 and R = 1/24; singh-heldman, ch. on freezing.
    """
    length = within("sphere.diameter", diameter, low=1e-3, high=0.5, unit="m")
    film = within("coefficient", coefficient, low=0.5, high=5000.0, unit="W/m2/K")
    fall = within(
        "freezing_point less air_temperature",
        np.asarray(body.freezing_point) - air_temperature,
        low=0.1,
        high=200.0,
        unit="K",
        hint="The air must be colder than the freezing point.",
    )
    through = length / (4.0 * np.asarray(body.conductivity))
    resistance = shape.value * length * (1.0 / film + through)
    heat = np.asarray(body.density) * np.asarray(body.latent_heat)
    time: Array = heat / fall * resistance
    return time


@dataclass(frozen=True, slots=True)
class FreezingCourse:
    """From which temperature to which a solid is cooled, in what air, and what it holds.

    Parameters
    ----------
    start: temperature at the start, 273.15 to 373.15 [K]
    end: temperature of the centre at the end, 213.15 to 268.15 [K]
    air: temperature of the air, colder than the end [K]
    heat_capacity: before freezing, 1000 to 4500 [J/kg/K]
    frozen_heat_capacity: after freezing, 1000 to 3000 [J/kg/K]

    Raises
    ------
    RangeError: a value outside these limits.
    """

    start: Values
    end: Values
    air: Values
    heat_capacity: Values
    frozen_heat_capacity: Values

    def __post_init__(self) -> None:
        within("course.start", self.start, low=273.15, high=373.15, unit="K")
        within("course.end", self.end, low=213.15, high=268.15, unit="K")
        within(
            "course.end less air",
            np.asarray(self.end) - self.air,
            low=0.1,
            high=100.0,
            unit="K",
            hint="The air must be colder than the end.",
        )
        within("heat_capacity", self.heat_capacity, low=1e3, high=4.5e3, unit="J/kg/K")
        within("frozen_heat_capacity", self.frozen_heat_capacity, low=1e3, high=3e3, unit="J/kg/K")


def pham_time(
    diameter: Values, body: FreezingBody, course: FreezingCourse, *, coefficient: Values
) -> Values:
    """Time for a moist sphere to cool, freeze and grow cold.

    Parameters
    ----------
    diameter: diameter, 1e-3 to 0.5 [m]
    body: what it is made of; it freezes near 272 K, as very moist food does [record]
    course: from where to where, and in what air [record]
    coefficient: heat transfer at its surface, 0.5 to 5000 [W/m2/K]

    Returns
    -------
    Time from start to end [s]

    Raises
    ------
    RangeError: a value outside these limits, or a freezing point below 270 K.

    Notes
    -----
    t = R / (3 h) (dH1 / dT1 + dH2 / dT2)(1 + Bi / 2), with cooling to and freezing about a mean
    Tfm = 1.8 + 0.263 Tend + 0.105 Tair in Celsius. Drier food, which freezes colder, is not
    covered: use ``plank_time``.

    Reference: pham-1986.
    """
    radius = 0.5 * within("sphere.diameter", diameter, low=1e-3, high=0.5, unit="m")
    film = within("coefficient", coefficient, low=0.5, high=5000.0, unit="W/m2/K")
    within("body.freezing_point", body.freezing_point, low=270.0, high=273.15, unit="K")
    air, end = np.asarray(course.air), np.asarray(course.end)
    mean = MELTING_POINT + 1.8 + 0.263 * (end - MELTING_POINT) + 0.105 * (air - MELTING_POINT)
    cooling = np.asarray(body.density) * course.heat_capacity * (course.start - mean)
    latent = np.asarray(body.latent_heat) + np.asarray(course.frozen_heat_capacity) * (mean - end)
    freezing = np.asarray(body.density) * latent
    biot = film * radius / np.asarray(body.conductivity)
    drives = cooling / (0.5 * (course.start + mean) - air) + freezing / (mean - air)
    time: Array = radius / (3.0 * film) * drives * (1.0 + 0.5 * biot)
    return time


def _log_ice_pressure(kelvin: Array) -> Array:
    """Logarithm of the vapour pressure over ice in Pa; murphy-koop-2005 eq. 7."""
    logarithm: Array = 9.550426 - 5723.265 / kelvin + 3.53068 * np.log(kelvin) - 0.00728332 * kelvin
    return logarithm


def _log_water_pressure(kelvin: Array) -> Array:
    """Logarithm of the vapour pressure over supercooled water in Pa; murphy-koop-2005 eq. 10."""
    colder = (53.878 - 1331.22 / kelvin - 9.44523 * np.log(kelvin) + 0.014025 * kelvin) * np.tanh(
        0.0415 * (kelvin - 218.8)
    )
    warm = 54.842763 - 6763.22 / kelvin - 4.210 * np.log(kelvin) + 0.000367 * kelvin
    logarithm: Array = warm + colder
    return logarithm
