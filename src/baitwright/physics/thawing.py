"""How long a frozen pack takes to thaw in air or water, and how a bag of balls conducts heat."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from baitwright.physics.food import AIR_CONDUCTIVITY
from baitwright.physics.freezing import Shape
from baitwright.physics.limits import Array, Values, within


@dataclass(frozen=True, slots=True)
class ThawingBody:
    """What a frozen solid takes to thaw.

    Parameters
    ----------
    density: density of the pack, 50 to 3000 [kg/m3]
    latent_heat: heat that its ice takes up as it melts, 0 to 3.4e5 [J/kg]
    heat_capacity: heat capacity of the thawed solid, 500 to 4500 [J/kg/K]
    conductivity: thermal conductivity of the thawed solid, 0.01 to 5 [W/m/K]

    Raises
    ------
    RangeError: a value outside these limits.
    """

    density: Values
    latent_heat: Values
    heat_capacity: Values
    conductivity: Values

    def __post_init__(self) -> None:
        within("body.density", self.density, low=50.0, high=3000.0, unit="kg/m3")
        within("body.latent_heat", self.latent_heat, low=0.0, high=3.4e5, unit="J/kg")
        within("body.heat_capacity", self.heat_capacity, low=500.0, high=4500.0, unit="J/kg/K")
        within("body.conductivity", self.conductivity, low=0.01, high=5.0, unit="W/m/K")


@dataclass(frozen=True, slots=True)
class ThawingCourse:
    """From how cold, past which melting point, and in what surroundings.

    Parameters
    ----------
    start: temperature of the frozen pack, 213.15 to 273.15 [K]
    melts: temperature at which its ice melts, no colder than the start [K]
    surroundings: temperature of air or water around it, up to 323.15, warmer than that [K]
    coefficient: heat transfer at its surface, 0.5 to 5000 [W/m2/K]

    Raises
    ------
    RangeError: a value outside these limits.
    """

    start: Values
    melts: Values
    surroundings: Values
    coefficient: Values

    def __post_init__(self) -> None:
        within("course.start", self.start, low=213.15, high=273.15, unit="K")
        within("course.melts", self.melts, low=213.15, high=273.15, unit="K")
        rise = np.asarray(self.melts) - self.start
        within("course.melts less start", rise, low=0.0, high=60.0, unit="K")
        within("course.surroundings", self.surroundings, low=213.15, high=323.15, unit="K")
        within(
            "course.surroundings less melts",
            np.asarray(self.surroundings) - self.melts,
            low=0.1,
            high=110.0,
            unit="K",
            hint="The surroundings must be warmer than the ice.",
        )
        within("coefficient", self.coefficient, low=0.5, high=5000.0, unit="W/m2/K")


def thawing_time(
    thickness: Values, shape: Shape, *, body: ThawingBody, course: ThawingCourse
) -> Values:
    """Time until the last ice of a pack has melted.

    Parameters
    ----------
    thickness: of a slab, or diameter, 1e-3 to 0.5 [m]
    shape: what it is like [record]
    body: what it is made of [record]
    course: from where, and in what surroundings [record]

    Returns
    -------
    Thawing time [s]

    Raises
    ------
    RangeError: a value outside these limits.

    Notes
    -----
    t = rho V / A (1 / h + D / (4 k)) (c (Tm - T0) / (Ta - (T0 + Tm) / 2) + dH / (Ta - Tm)), Plank's
    resistances through the thawed solid, once while the ice warms, at its mean temperature as in
    Pham's equation, and once while it melts, with dH = L + c (Ts - Tm) / 2: the ice, and the warmth
    of the thawed solid, whose temperature runs straight from the ice to the skin at Ts. A frozen
    solid holds less heat than ``heat_capacity`` and conducts better, so this errs to the long side.

    Reference: plank-1913, pham-1986.
    """
    length = within("thickness", thickness, low=1e-3, high=0.5, unit="m")
    film, through = np.asarray(course.coefficient), np.asarray(body.conductivity)
    drive = np.asarray(course.surroundings) - course.melts
    skin = drive * film * length / (film * length + 2.0 * through)
    cold, capacity = np.asarray(course.melts) - course.start, np.asarray(body.heat_capacity)
    warming = capacity * cold / (drive + 0.5 * cold)
    melting = (np.asarray(body.latent_heat) + 0.5 * capacity * skin) / drive
    resistance = 1.0 / film + length / (4.0 * through)
    time: Array = np.asarray(body.density) * shape.value * length * resistance * (warming + melting)
    return time


def packed_conductivity(solid: Values, packing: Values) -> Values:
    """Thermal conductivity of balls with air between them.

    Parameters
    ----------
    solid: conductivity of the balls, 0.026 to 5 [W/m/K]
    packing: share of the room that they fill, 0 to 1 [m3/m3]

    Returns
    -------
    Conductivity of the whole [W/m/K]

    Raises
    ------
    RangeError: a value outside these limits.

    Notes
    -----
    The geometric mean, k = ks^p ka^(1 - p), fair where the parts are no more than twenty times
    apart.

    Reference: woodside-messmer-1961.
    """
    balls = within("solid", solid, low=AIR_CONDUCTIVITY, high=5.0, unit="W/m/K")
    share = within("packing", packing, low=0.0, high=1.0)
    whole: Array = balls**share * AIR_CONDUCTIVITY ** (1.0 - share)
    return whole
