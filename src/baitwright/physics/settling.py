"""How fast a sphere sinks or rises through still water once it has found its pace."""

from __future__ import annotations

from collections.abc import Callable
from typing import NamedTuple

import numpy as np

from baitwright.physics.constants import STANDARD_GRAVITY
from baitwright.physics.limits import Array, Values, within

REYNOLDS_LIMIT = 2e5  # beyond, the drag of a smooth sphere collapses and both curves end
_REYNOLDS_FLOOR = 1e-12
_DENSEST_WATER = 1100.0  # kg/m3; no sphere in it can miss more than that


class Speeds(NamedTuple):
    """The slower and the faster speed that published drag laws give [m/s]."""

    slow: Values
    fast: Values


def haider_levenspiel(reynolds: Values) -> Values:
    """Drag coefficient of a settling sphere.

    Parameters
    ----------
    reynolds: Reynolds number on the diameter, above 0 to 2e5 [1]

    Returns
    -------
    Drag coefficient [1]

    Raises
    ------
    RangeError: number outside these limits.

    Notes
    -----
    C = 24/Re (1 + 0.1806 Re^0.6459) + 0.4251 / (1 + 6880.95 / Re).

    Reference: haider-levenspiel-1989, sphere.
    """
    re = _reynolds(reynolds)
    return 24.0 / re * (1.0 + 0.1806 * re**0.6459) + 0.4251 / (1.0 + 6880.95 / re)


def clift_gauvin(reynolds: Values) -> Values:
    """Drag coefficient of a settling sphere, by the older curve.

    Parameters
    ----------
    reynolds: Reynolds number on the diameter, above 0 to 2e5 [1]

    Returns
    -------
    Drag coefficient [1]

    Raises
    ------
    RangeError: number outside these limits.

    Notes
    -----
    C = 24/Re (1 + 0.152 Re^0.677) + 0.417 / (1 + 5070 Re^-0.94).

    Reference: clift-gauvin-1971.
    """
    re = _reynolds(reynolds)
    return 24.0 / re * (1.0 + 0.152 * re**0.677) + 0.417 / (1.0 + 5070.0 * re**-0.94)


def karamanev(archimedes: Values) -> Values:
    """Drag coefficient of a light sphere that rises freely.

    Parameters
    ----------
    archimedes: Archimedes number g d^3 |drho| rho / mu^2, above 0 to 1e10 [1]

    Returns
    -------
    Drag coefficient; 0.95 from an Archimedes number of 13 000 on [1]

    Raises
    ------
    RangeError: number outside these limits.

    Notes
    -----
    C = 432/Ar (1 + 0.047 Ar^(2/3)) + 0.517 / (1 + 154 Ar^(-1/3)) below. A light sphere zigzags and
    spirals, so that it rises more slowly than a heavy one of the same difference sinks.

    Reference: karamanev-1992, in its form for the Archimedes number.
    """
    ar = within("archimedes", archimedes, low=_REYNOLDS_FLOOR, high=1e10)
    creeping = 432.0 / ar * (1.0 + 0.047 * ar ** (2.0 / 3.0))
    curve = creeping + 0.517 / (1.0 + 154.0 * ar ** (-1.0 / 3.0))
    return np.where(ar > 13_000.0, 0.95, curve)


def terminal_velocity(
    diameter: Values,
    excess_density: Values,
    *,
    water_density: Values,
    water_viscosity: Values,
    drag: Callable[[Values], Values] = haider_levenspiel,
) -> Values:
    """Speed at which a sphere denser than water sinks.

    Parameters
    ----------
    diameter: diameter, 1e-5 to 0.1 [m]
    excess_density: density of the sphere less that of the water, 0 to 20 000 [kg/m3]
    water_density: density of the water [kg/m3]
    water_viscosity: dynamic viscosity of the water [Pa s]
    drag: drag coefficient as a function of the Reynolds number [function]

    Returns
    -------
    Speed downward, zero for a sphere that hangs [m/s]

    Raises
    ------
    RangeError: a sphere lighter than water (it rises by another law: see ``rising_velocity``), a
        value outside these limits, or a speed beyond a Reynolds number of 2e5.

    Notes
    -----
    Bisection in log Re of C(Re) Re^2 = 4/3 Ar, whose left side only rises.

    Reference: haider-levenspiel-1989 for the drag.
    """
    length = _diameter(diameter)
    excess = _difference("excess_density", excess_density, other="rising_velocity")
    ar = _archimedes(length, excess, water_density=water_density, water_viscosity=water_viscosity)
    wanted = 4.0 / 3.0 * ar
    top = float(drag(REYNOLDS_LIMIT)) * REYNOLDS_LIMIT**2
    within("archimedes", ar, low=0.0, high=0.75 * top, hint="Too fast for the drag curve.")
    low = np.full_like(wanted, np.log(_REYNOLDS_FLOOR))
    high = np.full_like(wanted, np.log(REYNOLDS_LIMIT))
    for _ in range(60):
        middle = 0.5 * (low + high)
        re = np.minimum(np.exp(middle), REYNOLDS_LIMIT)
        over = drag(re) * re**2 > wanted
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    re = np.where(ar > 0.0, np.exp(0.5 * (low + high)), 0.0)
    speed: Array = re * np.asarray(water_viscosity) / (np.asarray(water_density) * length)
    return speed


def rising_velocity(
    diameter: Values, missing_density: Values, *, water_density: Values, water_viscosity: Values
) -> Speeds:
    """Speed at which a sphere lighter than water rises, as a range.

    Parameters
    ----------
    diameter: diameter, 1e-5 to 0.1 [m]
    missing_density: density of the water less that of the sphere, 0 to 1100 [kg/m3]
    water_density: density of the water [kg/m3]
    water_viscosity: dynamic viscosity of the water [Pa s]

    Returns
    -------
    Slow: free rise with zigzag; fast: as if the settling curve held upward [m/s]

    Raises
    ------
    RangeError: a sphere denser than water (it sinks: see ``terminal_velocity``), or a value
        outside these limits.

    Notes
    -----
    v = (4 g d drho / (3 C rho))^(1/2) with Karamanev's C for the slow one. Experiments find drag in
    between, by density ratio and by where the sphere's weight sits: treat both as rough.

    Reference: karamanev-1992; haider-levenspiel-1989; will-krug-2021 for the caution.
    """
    length = _diameter(diameter)
    missing = _difference(
        "missing_density", missing_density, high=_DENSEST_WATER, other="terminal_velocity"
    )
    ar = _archimedes(length, missing, water_density=water_density, water_viscosity=water_viscosity)
    coefficient = karamanev(np.maximum(ar, _REYNOLDS_FLOOR))
    re = np.sqrt(4.0 / 3.0 * ar / coefficient)
    free = re * np.asarray(water_viscosity) / (np.asarray(water_density) * length)
    settling = terminal_velocity(
        length, missing, water_density=water_density, water_viscosity=water_viscosity
    )
    return Speeds(np.minimum(free, settling), np.maximum(free, settling))


def _reynolds(reynolds: Values) -> Array:
    return within("reynolds", reynolds, low=0.5 * _REYNOLDS_FLOOR, high=REYNOLDS_LIMIT)


def _diameter(diameter: Values) -> Array:
    return within("sphere.diameter", diameter, low=1e-5, high=0.1, unit="m")


def _archimedes(
    diameter: Array, difference: Array, *, water_density: Values, water_viscosity: Values
) -> Array:
    density = within("water.density", water_density, low=950.0, high=_DENSEST_WATER, unit="kg/m3")
    viscosity = within("water.viscosity", water_viscosity, low=1e-4, high=1e-2, unit="Pa s")
    return STANDARD_GRAVITY * diameter**3 * difference * density / viscosity**2


def _difference(field: str, difference: Values, *, other: str, high: float = 20_000.0) -> Array:
    """A difference of densities, refused when its sign would send it through the wrong law."""
    hint = f"Below zero it moves the other way: see {other}."
    return within(field, difference, low=0.0, high=high, unit="kg/m3", hint=hint)
