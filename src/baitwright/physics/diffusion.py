"""How fast water and dissolved things move through water, gels and moist solids."""

from __future__ import annotations

import numpy as np

from baitwright.physics.constants import GAS_CONSTANT
from baitwright.physics.limits import Array, Values, within
from baitwright.physics.water import viscosity

# Two published lines on how much a set solid slows a solute differ by a factor of twenty or more:
# obstruction models give about 0.1, leaching from heat-set protein 0.005. Nobody has measured
# which holds here, so the factor is uncertain on a logarithmic scale between these.
HINDRANCE_RANGE = (0.005, 0.15)


def moisture_diffusivity(
    temperature: Values,
    *,
    at_20C: Values = 5e-11,  # noqa: N803  the unit is written as it is
    activation: Values = 26e3,
) -> Values:
    """Diffusivity of water in a dense moist solid.

    Parameters
    ----------
    temperature: temperature of the solid, 253.15 to 373.15 [K]
    at_20C: diffusivity at 293.15 K, plausible from 1e-11 to 3e-10 [m2/s]
    activation: activation energy, plausible from 20e3 to 38e3 [J/mol]

    Returns
    -------
    Diffusivity [m2/s]

    Raises
    ------
    RangeError: a value outside 253.15 to 373.15 K, 1e-14 to 3e-9 m2/s, or 0 to 1e5 J/mol.

    Notes
    -----
    D = D20 exp(-(E/R)(1/T - 1/293.15)). The default stands in the geometric middle between pasta
    and fish or feed; a weighing after some hours of drying replaces it.

    Reference: judgement, between jangam-mujumdar table 1.6 and litchfield-okos-1992.
    """
    kelvin = within("temperature", temperature, low=253.15, high=373.15, unit="K")
    reference = within("diffusivity", at_20C, low=1e-14, high=3e-9, unit="m2/s")
    energy = within("activation", activation, low=0.0, high=1e5, unit="J/mol")
    return reference * np.exp(-energy / GAS_CONSTANT * (1.0 / kelvin - 1.0 / 293.15))


def hayduk_laudie(molar_volume: Values, temperature: Values) -> Values:
    """Diffusivity of a dissolved substance in much water.

    Parameters
    ----------
    molar_volume: molar volume at the boiling point (LeBas), 1e-5 to 1e-3 [m3/mol]
    temperature: water temperature, 273.15 to 373.15 [K]

    Returns
    -------
    Diffusivity, within some 15 % of measured values [m2/s]

    Raises
    ------
    RangeError: a value outside these limits.

    Notes
    -----
    D = 13.26e-9 / (mu^1.14 V^0.589), mu in mPa s, V in cm3/mol.

    Reference: hayduk-laudie-1974.
    """
    volume = _volume(molar_volume)
    return 13.26e-9 / ((1e3 * viscosity(temperature)) ** 1.14 * volume**0.589)


def wilke_chang(molar_volume: Values, temperature: Values, *, association: Values = 2.6) -> Values:
    """Diffusivity of a dissolved substance in much water, by the older correlation.

    Parameters
    ----------
    molar_volume: molar volume at the boiling point (LeBas), 1e-5 to 1e-3 [m3/mol]
    temperature: water temperature, 273.15 to 373.15 [K]
    association: association factor of water, 2.6 as first published, 2.26 as revised [1]

    Returns
    -------
    Diffusivity, within some 20 % of measured values [m2/s]

    Raises
    ------
    RangeError: a value outside these limits, or an association outside 1 to 3.

    Notes
    -----
    D = 7.4e-12 (phi M)^0.5 T / (mu V^0.6), M = 18.015 g/mol, mu in mPa s, V in cm3/mol.

    Reference: wilke-chang-1955.
    """
    factor = within("association", association, low=1.0, high=3.0)
    kelvin = np.asarray(temperature, dtype=np.float64)
    thickness = 1e3 * viscosity(kelvin)
    return 7.4e-12 * np.sqrt(factor * 18.015) * kelvin / (thickness * _volume(molar_volume) ** 0.6)


def at_temperature(
    diffusivity: Values, temperature: Values, *, known_at: Values = 298.15
) -> Values:
    """A diffusivity in water, known at one temperature, at another.

    Parameters
    ----------
    diffusivity: diffusivity at the known temperature [m2/s]
    temperature: wanted temperature, 273.15 to 373.15 [K]
    known_at: known temperature, 273.15 to 373.15 [K]

    Returns
    -------
    Diffusivity at the wanted temperature [m2/s]

    Raises
    ------
    RangeError: a temperature outside these limits.

    Notes
    -----
    D mu / T stays constant (Stokes-Einstein).

    Reference: reid-1987, ch. 11.
    """
    known = within("known_at", known_at, low=273.15, high=373.15, unit="K")
    ratio = viscosity(known) / viscosity(temperature)
    return diffusivity * ratio * np.asarray(temperature, dtype=np.float64) / known


def solids_volume(water_fraction: Values, *, solids_density: Values = 1350.0) -> Values:
    """Volume fraction of the solids in a moist solid without pores.

    Parameters
    ----------
    water_fraction: mass of water per mass of the whole, 0 to 1 [kg/kg]
    solids_density: density of the dry solids, 500 to 3000 [kg/m3]

    Returns
    -------
    Volume fraction of the solids [m3/m3]

    Raises
    ------
    RangeError: a value outside these limits.

    Notes
    -----
    Water at 1000 kg/m3; volumes add.
    """
    water = within("water_fraction", water_fraction, low=0.0, high=1.0)
    dense = within("solids_density", solids_density, low=500.0, high=3000.0, unit="kg/m3")
    solids = (1.0 - water) / dense
    return solids / (solids + water / 1000.0)


def mackie_meares(solids_fraction: Values) -> Values:
    """Factor by which solids in the way slow a small solute in a gel.

    Parameters
    ----------
    solids_fraction: volume of the solids per volume of the whole, 0 to 1 [m3/m3]

    Returns
    -------
    Diffusivity in the gel over that in water [1]

    Raises
    ------
    RangeError: fraction outside these limits.

    Notes
    -----
    f = ((1 - p) / (1 + p))^2: obstruction only. Heat-set protein may be twenty times slower still;
    see ``HINDRANCE_RANGE``.

    Reference: mackie-meares-1955.
    """
    solids = within("solids_fraction", solids_fraction, low=0.0, high=1.0)
    return ((1.0 - solids) / (1.0 + solids)) ** 2


def fraction_leached(diffusivity: Values, radius: Values, time: Values) -> Values:
    """Share of a solute gone from a solid sphere whose surface holds none.

    Parameters
    ----------
    diffusivity: diffusivity in the sphere, not negative [m2/s]
    radius: radius of the sphere, above zero [m]
    time: time since the start, not negative [s]

    Returns
    -------
    Share lost from 0 to 1, or taken up where it flows inward [1]

    Raises
    ------
    RangeError: a value outside these limits.

    Notes
    -----
    Up to D t / R^2 = 0.05 the short-time form 6 (Fo / pi)^(1/2) - 3 Fo, from there the series
    1 - (6 / pi^2) sum n^-2 exp(-n^2 pi^2 Fo); they meet within 1e-10.

    Reference: crank-1975, ch. 6, total uptake of a sphere (p. 91).
    """
    pace = within("diffusivity", diffusivity, low=0.0, high=1e-6, unit="m2/s")
    size = within("radius", radius, low=1e-9, high=1.0, unit="m")
    elapsed = within("time", time, low=0.0, high=1e12, unit="s")
    fourier = pace * elapsed / size**2
    short = 6.0 * np.sqrt(np.minimum(fourier, 0.05) / np.pi) - 3.0 * np.minimum(fourier, 0.05)
    remaining = np.zeros_like(fourier)
    for n in range(1, 9):  # the ninth term is below 1e-17 from 0.05 on
        remaining = remaining + np.exp(-((n * np.pi) ** 2) * fourier) / n**2
    return np.where(fourier < 0.05, short, 1.0 - 6.0 / np.pi**2 * remaining)


def peleg(
    time: Values, *, rate_constant: Values, capacity_constant: Values, initial: Values = 0.0
) -> Values:
    """Moisture of a solid that soaks, by the two-constant curve fitted to a soak test.

    Parameters
    ----------
    time: time under water [s]
    rate_constant: reciprocal of the first rate of uptake, above zero [s]
    capacity_constant: reciprocal of the final uptake, above zero [1]
    initial: moisture at the start, water over dry matter [kg/kg]

    Returns
    -------
    Moisture, water over dry matter [kg/kg]

    Raises
    ------
    RangeError: a negative time or a constant that is not above zero.

    Notes
    -----
    X = X0 + t / (k1 + k2 t).

    Reference: peleg-1988.
    """
    elapsed = within("time", time, low=0.0, high=1e12, unit="s")
    first = within("rate_constant", rate_constant, low=1e-12, high=1e12, unit="s")
    second = within("capacity_constant", capacity_constant, low=1e-12, high=1e12)
    return initial + elapsed / (first + second * elapsed)


def _volume(molar_volume: Values) -> Array:
    """Molar volume, checked, in the cm3/mol that the correlations are written in."""
    return 1e6 * within("molar_volume", molar_volume, low=1e-5, high=1e-3, unit="m3/mol")
