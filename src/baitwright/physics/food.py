"""What a moist solid weighs and how it takes up and conducts heat, from its composition."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import NamedTuple

import numpy as np

from baitwright.physics.constants import CELSIUS_ZERO
from baitwright.physics.limits import Array, Values, within
from baitwright.terms.errors import InputError

# Analyses are rounded and rarely close exactly; beyond this a part is missing or counted twice.
CLOSURE_TOLERANCE = 0.03
AIR_CONDUCTIVITY = 0.026  # W/m/K, dry air near 25 C; computed, us-standard-atmosphere-1976 eq. 53


class Bounds(NamedTuple):
    """The least and the greatest value that any arrangement of the parts can have."""

    low: Values
    high: Values


class Properties(NamedTuple):
    """Density [kg/m3], specific heat capacity [J/kg/K] and thermal conductivity [W/m/K]."""

    density: Values
    heat_capacity: Values
    conductivity: Values


# Constant, linear and square coefficient in Celsius of density, heat capacity and conductivity:
# choi-okos-1986, component models. The constant for the heat capacity of water is 4.1762,
# not the 4.1289 that some handbooks print: it meets IAPWS-97 within 0.2 % from 20 to 95 C, where
# the other falls 1 % short.
_COMPONENTS = {
    "water": (
        (997.18, 3.1439e-3, -3.7574e-3),
        (4176.2, -9.0864e-2, 5.4731e-3),
        (0.57109, 1.7625e-3, -6.7036e-6),
    ),
    "protein": (
        (1329.9, -0.5184, 0.0),
        (2008.2, 1.2089, -1.3129e-3),
        (0.17881, 1.1958e-3, -2.7178e-6),
    ),
    "fat": (
        (925.59, -0.41757, 0.0),
        (1984.2, 1.4733, -4.8008e-3),
        (0.18071, -2.7604e-4, -1.7749e-7),
    ),
    "carbohydrate": (
        (1599.1, -0.31046, 0.0),
        (1548.8, 1.9625, -5.9399e-3),
        (0.20141, 1.3874e-3, -4.3312e-6),
    ),
    "fibre": (
        (1311.5, -0.36589, 0.0),
        (1845.9, 1.8306, -4.6509e-3),
        (0.18331, 1.2497e-3, -3.1683e-6),
    ),
    "ash": (
        (2423.8, -0.28063, 0.0),
        (1092.6, 1.8896, -3.6817e-3),
        (0.32962, 1.4011e-3, -2.9069e-6),
    ),
}


@dataclass(frozen=True, slots=True)
class Composition:
    """Mass fractions of a moist solid; floats, or arrays that broadcast.

    Parameters
    ----------
    water: fraction of water [kg/kg]
    protein: fraction of protein [kg/kg]
    fat: fraction of fat [kg/kg]
    carbohydrate: fraction of starch and sugars [kg/kg]
    fibre: fraction of fibre [kg/kg]
    ash: fraction of minerals [kg/kg]

    Raises
    ------
    InputError: a fraction is negative or not a number, or they miss a sum of 1 by over 3 %.
    """

    water: Values
    protein: Values
    fat: Values
    carbohydrate: Values
    fibre: Values = 0.0
    ash: Values = 0.0

    def __post_init__(self) -> None:
        for name, fraction in self.parts():
            values = np.asarray(fraction, dtype=np.float64)
            wrong = ~(values >= 0.0)
            if wrong.any():
                got = float(values[wrong].flat[0])
                raise InputError(f"composition.{name}", got, "a mass fraction from 0 to 1")
        total = np.asarray(self.total, dtype=np.float64)
        wrong = ~(np.abs(total - 1.0) <= CLOSURE_TOLERANCE)
        if wrong.any():
            got = round(float(total[wrong].flat[0]), 4)
            raise InputError(
                "composition",
                got,
                "mass fractions that sum to 1 within 3 %",
                hint="Is a part missing, or are these percentages?",
            )

    @classmethod
    def mixed(cls, parts: Sequence[tuple[Values, Composition]]) -> Composition:
        """The composition of several lots stirred into one.

        Parameters
        ----------
        parts: mass and composition of each lot [kg]

        Returns
        -------
        Mass-weighted composition [kg/kg]

        Raises
        ------
        InputError: there is no part, a mass is negative, or all masses are zero.
        """
        if not parts:
            raise InputError("composition.parts", None, "at least one mass with its composition")
        total: Values = 0.0
        for mass, _ in parts:
            if not np.all(np.asarray(mass) >= 0.0):
                raise InputError("composition.mass", mass, "masses of zero or more")
            total = total + np.asarray(mass, dtype=np.float64)
        if not np.all(np.asarray(total) > 0.0):
            raise InputError("composition.mass", 0.0, "masses that are not all zero")
        sums: dict[str, Values] = {}
        for name in _COMPONENTS:
            gathered: Values = 0.0
            for mass, composition in parts:
                gathered = gathered + mass * getattr(composition, name)
            sums[name] = gathered / total
        return cls(**sums)

    def parts(self) -> list[tuple[str, Values]]:
        """Name and mass fraction of every component.

        Returns
        -------
        The six components in order [kg/kg]
        """
        return [(field.name, getattr(self, field.name)) for field in fields(self)]

    @property
    def dry_matter(self) -> Values:
        """Fraction that stays when all water has gone [kg/kg]."""
        return self.protein + self.fat + self.carbohydrate + self.fibre + self.ash

    @property
    def total(self) -> Values:
        """Sum of all fractions, which an analysis leaves near 1 [kg/kg]."""
        return self.water + self.dry_matter

    def normalised(self) -> Composition:
        """The same composition scaled to a sum of exactly 1.

        Returns
        -------
        Composition whose fractions sum to 1 [kg/kg]
        """
        return Composition(**{name: value / self.total for name, value in self.parts()})


def component(name: str, temperature: Values) -> Properties:
    """Properties of one component without pores.

    Parameters
    ----------
    name: water, protein, fat, carbohydrate, fibre or ash [text]
    temperature: temperature, 233.15 to 423.15 [K]

    Returns
    -------
    Density [kg/m3], specific heat capacity [J/kg/K] and thermal conductivity [W/m/K]

    Raises
    ------
    InputError: the name is not one of the six.
    RangeError: temperature outside these limits.

    Notes
    -----
    Quadratics in t = T - 273.15 K. The density of water runs 0.25 % low near 20 C, which moves a
    paste of one third water by 0.1 %; ``water.density`` is the one to use for water alone.

    Reference: choi-okos-1986, component models.
    """
    if name not in _COMPONENTS:
        raise InputError("component", name, f"one of {', '.join(_COMPONENTS)}")
    kelvin = within("temperature", temperature, low=233.15, high=423.15, unit="K")
    t = kelvin - CELSIUS_ZERO
    return Properties(*(a + t * (b + t * c) for a, b, c in _COMPONENTS[name]))


def density(composition: Composition, temperature: Values, *, air_fraction: Values = 0.0) -> Values:
    """Density of a moist solid whose parts keep their own volumes.

    Parameters
    ----------
    composition: mass fractions [kg/kg]
    temperature: temperature, 233.15 to 423.15 [K]
    air_fraction: volume of air per volume of the whole, 0 to 0.95 [m3/m3]

    Returns
    -------
    Density [kg/m3]

    Raises
    ------
    RangeError: temperature or air fraction outside these limits.

    Notes
    -----
    rho = (1 - e) / sum(x_i / rho_i), on the composition scaled to a sum of 1.

    Reference: choi-okos-1986, mixing rule for density.
    """
    porosity = _porosity(air_fraction)
    volume = _total([share for _, share in _specific_volumes(composition, temperature)])
    return (1.0 - porosity) / volume


def heat_capacity(composition: Composition, temperature: Values) -> Values:
    """Heat capacity of a moist solid; air in its pores weighs nothing.

    Parameters
    ----------
    composition: mass fractions [kg/kg]
    temperature: temperature, 233.15 to 423.15 [K]

    Returns
    -------
    Specific heat capacity [J/kg/K]

    Raises
    ------
    RangeError: temperature outside these limits.

    Notes
    -----
    c = sum x_i c_i, on the composition scaled to a sum of 1. No heat of melting or setting in it.

    Reference: choi-okos-1986, mixing rule for specific heat.
    """
    shares = composition.normalised().parts()
    return _total([x * component(name, temperature).heat_capacity for name, x in shares])


def conductivity(
    composition: Composition, temperature: Values, *, air_fraction: Values = 0.0
) -> Values:
    """Thermal conductivity of a moist solid with air spread through it in small pores.

    Parameters
    ----------
    composition: mass fractions [kg/kg]
    temperature: temperature, 233.15 to 423.15 [K]
    air_fraction: volume of air per volume of the whole, 0 to 0.95 [m3/m3]

    Returns
    -------
    Thermal conductivity [W/m/K]

    Raises
    ------
    RangeError: temperature or air fraction outside these limits.

    Notes
    -----
    Maxwell-Eucken twice: the solids (lumped by volume) spread in the water, then air in that. In
    a body dried until water no longer surrounds the solids it is an upper estimate;
    ``conductivity_bounds`` holds for any arrangement.

    Reference: fricke-becker-2001, Maxwell-Eucken model; choi-okos-1986 for the components.
    """
    porosity = _porosity(air_fraction)
    volumes = dict(_specific_volumes(composition, temperature))
    water_volume = volumes.pop("water")
    solid_volume = _total(list(volumes.values()))
    water = component("water", temperature).conductivity
    carried = _total(
        [volume * component(name, temperature).conductivity for name, volume in volumes.items()]
    )
    # Without any solids the lump has no volume, and whatever conductivity it is given drops out.
    solid = carried / np.where(solid_volume > 0.0, solid_volume, 1.0)
    dense = maxwell_eucken(water, solid, fraction=solid_volume / (water_volume + solid_volume))
    return maxwell_eucken(dense, AIR_CONDUCTIVITY, fraction=porosity)


def conductivity_bounds(
    composition: Composition, temperature: Values, *, air_fraction: Values = 0.0
) -> Bounds:
    """Least and greatest thermal conductivity that any arrangement of the dense parts can have.

    Parameters
    ----------
    composition: mass fractions [kg/kg]
    temperature: temperature, 233.15 to 423.15 [K]
    air_fraction: volume of air per volume of the whole, 0 to 0.95 [m3/m3]

    Returns
    -------
    Dense parts in series (low) and in parallel (high) [W/m/K]

    Raises
    ------
    RangeError: temperature or air fraction outside these limits.

    Notes
    -----
    Series 1 / sum(v_i / k_i), parallel sum(v_i k_i), with v_i the volume fractions; the pores
    are then spread through either as in ``conductivity``.

    Reference: fricke-becker-2001, series and parallel models.
    """
    porosity = _porosity(air_fraction)
    volumes = _specific_volumes(composition, temperature)
    whole = _total([volume for _, volume in volumes])
    resistance, conductance = np.zeros(()), np.zeros(())
    for name, volume in volumes:
        own = component(name, temperature).conductivity
        resistance = resistance + volume / whole / own
        conductance = conductance + volume / whole * own
    low, high = (
        maxwell_eucken(dense, AIR_CONDUCTIVITY, fraction=porosity)
        for dense in (1.0 / resistance, conductance)
    )
    return Bounds(low, high)


def maxwell_eucken(continuous: Values, dispersed: Values, *, fraction: Values) -> Values:
    """Conductivity of a material with small spheres of another spread in it.

    Parameters
    ----------
    continuous: conductivity of the material all around [W/m/K]
    dispersed: conductivity of the spheres [W/m/K]
    fraction: volume of the spheres per volume of the whole, 0 to 1 [m3/m3]

    Returns
    -------
    Thermal conductivity [W/m/K]

    Raises
    ------
    RangeError: fraction outside these limits.

    Notes
    -----
    k = kc (2 kc + kd - 2 f (kc - kd)) / (2 kc + kd + f (kc - kd)).

    Reference: fricke-becker-2001, Maxwell-Eucken model.
    """
    share = within("dispersed.fraction", fraction, low=0.0, high=1.0)
    step = np.asarray(continuous) - np.asarray(dispersed)
    both = 2.0 * np.asarray(continuous) + np.asarray(dispersed)
    result: Array = continuous * (both - 2.0 * share * step) / (both + share * step)
    return result


def _porosity(air_fraction: Values) -> Array:
    return within("air_fraction", air_fraction, low=0.0, high=0.95)


def _specific_volumes(composition: Composition, temperature: Values) -> list[tuple[str, Array]]:
    """Volume that each part brings to one kilogram [m3/kg]."""
    shares = composition.normalised().parts()
    return [(name, np.asarray(x / component(name, temperature).density)) for name, x in shares]


def _total(values: Sequence[Values]) -> Array:
    total = np.zeros(())
    for value in values:
        total = total + value
    return total
