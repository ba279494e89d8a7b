"""Water as it is poured, boiled and fished in: density, viscosity, vapour pressure, heat."""

from __future__ import annotations

import numpy as np

from baitwright.physics.constants import CELSIUS_ZERO, STANDARD_PRESSURE
from baitwright.physics.limits import Array, Values, within

# Liquid water lies between 4178 and 4217 J/kg/K from 0 to 100 C (iapws-sr6-08): one figure
# holds within 0.7 %, far inside what is known of any pot.
HEAT_CAPACITY = 4190.0  # J/kg/K


def density(temperature: Values, *, salinity: Values = 0.0) -> Values:
    """Density of air-free water at one atmosphere, fresh or salt.

    Parameters
    ----------
    temperature: water temperature, 273.15 to 313.15 [K]
    salinity: dissolved sea salt per mass of water, 0 to 0.042 [kg/kg]

    Returns
    -------
    Density [kg/m3]

    Raises
    ------
    RangeError: temperature or salinity outside these limits.

    Notes
    -----
    Fresh water by Tanaka, rho = a5 (1 - (t+a1)^2 (t+a2) / (a3 (t+a4))); the salt adds the
    difference EOS-80(S) - EOS-80(0), so that fresh water keeps Tanaka's accuracy. EOS-80 was made
    for sea salt: for the hardness of a lake it is an estimate. Its temperature is of the scale of
    1968, 1.00024 times ours.

    Reference: tanaka-2001, eq. 1 and table 1; unesco-44, one-atmosphere equation of state.
    """
    kelvin = within("water.temperature", temperature, low=273.15, high=313.15, unit="K")
    salt = within("water.salinity", salinity, low=0.0, high=0.042, unit="kg/kg")
    celsius = kelvin - CELSIUS_ZERO
    fresh = 999.974950 * (
        1.0 - (celsius - 3.983035) ** 2 * (celsius + 301.797) / (522_528.9 * (celsius + 69.34881))
    )
    return fresh + _salt_excess(salt * 1000.0 * 35.0 / 35.16504, celsius * 1.00024)


def _salt_excess(practical_salinity: Array, celsius_1968: Array) -> Array:
    """Density gained by sea salt at one atmosphere [kg/m3]; Horner form of unesco-44."""
    t = celsius_1968
    first = 0.824493 + t * (-4.0899e-3 + t * (7.6438e-5 + t * (-8.2467e-7 + t * 5.3875e-9)))
    second = -5.72466e-3 + t * (1.0227e-4 - t * 1.6546e-6)
    salt = practical_salinity
    return salt * (first + second * np.sqrt(salt) + 4.8314e-4 * salt)


def viscosity(temperature: Values) -> Values:
    """Dynamic viscosity of liquid water at about one atmosphere.

    Parameters
    ----------
    temperature: water temperature, 273.15 to 373.15 [K]

    Returns
    -------
    Dynamic viscosity [Pa s]

    Raises
    ------
    RangeError: temperature outside these limits.

    Notes
    -----
    mu = 1e-6 sum a_i (T / 300 K)^b_i; the source claims 1 % over the whole range.

    Reference: iapws-sr6-08, viscosity at 0.1 MPa.
    """
    kelvin = within("water.temperature", temperature, low=273.15, high=373.15, unit="K")
    reduced = kelvin / 300.0
    return 1e-6 * (
        280.68 * reduced**-1.9
        + 511.45 * reduced**-7.7
        + 61.131 * reduced**-19.6
        + 0.45903 * reduced**-40.0
    )


# Coefficients n1 to n10 of the saturation line; iapws-if97, table 34.
_N = (
    0.11670521452767e4,
    -0.72421316703206e6,
    -0.17073846940092e2,
    0.12020824702470e5,
    -0.32325550322333e7,
    0.14915108613530e2,
    -0.48232657361591e4,
    0.40511340542057e6,
    -0.23855557567849,
    0.65017534844798e3,
)


def saturation_pressure(temperature: Values) -> Values:
    """Vapour pressure over liquid water.

    Parameters
    ----------
    temperature: temperature of the surface, 253.15 to 647.096 [K]

    Returns
    -------
    Saturation pressure [Pa]

    Raises
    ------
    RangeError: temperature outside these limits.

    Notes
    -----
    The source starts at 273.15 K. Between 253.15 K and there the line is carried on over
    supercooled water, within 0.1 % of murphy-koop-2005 eq. 10; over ice the pressure is lower.

    Reference: iapws-if97, eq. 30.
    """
    kelvin = within("temperature", temperature, low=253.15, high=647.096, unit="K")
    theta = kelvin + _N[8] / (kelvin - _N[9])
    a = theta**2 + _N[0] * theta + _N[1]
    b = _N[2] * theta**2 + _N[3] * theta + _N[4]
    c = _N[5] * theta**2 + _N[6] * theta + _N[7]
    return 1e6 * (2.0 * c / (-b + np.sqrt(b**2 - 4.0 * a * c))) ** 4


def saturation_temperature(pressure: Values) -> Values:
    """Temperature at which water boils under a pressure, or at which its vapour condenses.

    Parameters
    ----------
    pressure: pressure of the vapour, 125 to 22.064e6 [Pa]

    Returns
    -------
    Saturation temperature [K]

    Raises
    ------
    RangeError: pressure outside these limits.

    Notes
    -----
    The exact inverse of ``saturation_pressure``, with the same extension below 611.213 Pa.

    Reference: iapws-if97, eq. 31.
    """
    pascal = within("pressure", pressure, low=125.0, high=22.064e6, unit="Pa")
    beta = (pascal / 1e6) ** 0.25
    e = beta**2 + _N[2] * beta + _N[5]
    f = _N[0] * beta**2 + _N[3] * beta + _N[6]
    g = _N[1] * beta**2 + _N[4] * beta + _N[7]
    d = 2.0 * g / (-f - np.sqrt(f**2 - 4.0 * e * g))
    return 0.5 * (_N[9] + d - np.sqrt((_N[9] + d) ** 2 - 4.0 * (_N[8] + _N[9] * d)))


def latent_heat(temperature: Values) -> Values:
    """Heat taken by evaporating water.

    Parameters
    ----------
    temperature: temperature of the surface, 253.15 to 373.15 [K]

    Returns
    -------
    Latent heat of evaporation [J/kg]

    Raises
    ------
    RangeError: temperature outside these limits.

    Notes
    -----
    A polynomial in the square root of the Celsius temperature, within 0.03 % of IAPWS-95. Below
    273.15 K, over supercooled water, only its linear term is carried on.

    Reference: popiel-wojtkowiak-1998, latent heat of vaporization.
    """
    kelvin = within("temperature", temperature, low=253.15, high=373.15, unit="K")
    t = kelvin - CELSIUS_ZERO
    warm = np.maximum(t, 0.0)
    return 1e3 * (
        2500.304
        - 2.2521025 * t
        - 0.021465847 * warm**1.5
        + 3.1750136e-4 * warm**2.5
        - 2.8607959e-5 * warm**3
    )


def standard_pressure(altitude: Values) -> Values:
    """Air pressure at a height above the sea in the standard atmosphere.

    Parameters
    ----------
    altitude: height above mean sea level, -500 to 11000 [m]

    Returns
    -------
    Air pressure [Pa]

    Raises
    ------
    RangeError: altitude outside these limits.

    Notes
    -----
    p = 101325 (1 - 0.0065 h / 288.15)^5.25588. Weather moves the true pressure by some 3 %.

    Reference: icao-7488, the layer below 11 km.
    """
    metres = within("altitude", altitude, low=-500.0, high=11_000.0, unit="m")
    return STANDARD_PRESSURE * (1.0 - 0.0065 * metres / 288.15) ** 5.25588
