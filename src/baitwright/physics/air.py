"""Moist air, and what a sphere hanging in it exchanges: vapour, heat, radiation."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from baitwright.physics.constants import (
    CELSIUS_ZERO,
    GAS_CONSTANT,
    STANDARD_GRAVITY,
    STANDARD_PRESSURE,
    VAPOUR_GAS_CONSTANT,
)
from baitwright.physics.limits import Array, Values, within
from baitwright.physics.water import latent_heat, saturation_pressure, saturation_temperature
from baitwright.terms.errors import InputError

DRY_AIR_GAS_CONSTANT = GAS_CONSTANT / 0.028966  # J/kg/K, molar mass from ashrae-fundamentals
MASS_RATIO = DRY_AIR_GAS_CONSTANT / VAPOUR_GAS_CONSTANT  # kg/kg, water over air
HEAT_CAPACITY = 1006.0  # J/kg/K, dry air at room temperature; ashrae-fundamentals
STEFAN_BOLTZMANN = 5.670374419e-8  # W/m2/K4, exact since the SI of 2019
EMISSIVITY = 0.9  # of a moist organic surface; judgement, 0.85 to 0.97

# Four published correlations lie between 0 and 3.2 % above ours at 20 C and between 0 and 5.1 % at
# 60 C: one standard deviation of that is about 2 %.
VAPOUR_DIFFUSIVITY_SPREAD = 0.02


@dataclass(frozen=True, slots=True)
class AirState:
    """Air around a body: a room, a dryer, a cool box.

    Parameters
    ----------
    temperature: air temperature, 253.15 to 373.15 [K]
    relative_humidity: vapour pressure over its saturation value, 0 to 1 [1]
    speed: speed of the air past the body, 0 for a still room, at most 20 [m/s]
    pressure: air pressure, 20 000 to 110 000 [Pa]

    Raises
    ------
    RangeError: a value outside these limits.
    InputError: more than nine tenths of it would be vapour.
    """

    temperature: Values
    relative_humidity: Values
    speed: Values = 0.0
    pressure: Values = STANDARD_PRESSURE

    def __post_init__(self) -> None:
        within("air.temperature", self.temperature, low=253.15, high=373.15, unit="K")
        within("air.relative_humidity", self.relative_humidity, low=0.0, high=1.0)
        within("air.speed", self.speed, low=0.0, high=20.0, unit="m/s")
        within("air.pressure", self.pressure, low=20_000.0, high=110_000.0, unit="Pa")
        if np.any(np.asarray(self.vapour_pressure) > 0.9 * np.asarray(self.pressure)):
            raise InputError("air.relative_humidity", self.relative_humidity, "air and not steam")

    @property
    def vapour_pressure(self) -> Values:
        """Partial pressure of the water vapour [Pa]."""
        return self.relative_humidity * saturation_pressure(self.temperature)


@dataclass(frozen=True, slots=True)
class AirFilm:
    """Exchange coefficients between a surface and the air around it.

    Parameters
    ----------
    mass_coefficient: vapour flux per difference of vapour density [m/s]
    convection_coefficient: heat flux by moving air per difference of temperature [W/m2/K]
    radiation_coefficient: heat flux by radiation per difference of temperature [W/m2/K]
    """

    mass_coefficient: Values
    convection_coefficient: Values
    radiation_coefficient: Values

    @property
    def heat_coefficient(self) -> Values:
        """Heat flux by air and radiation together per difference of temperature [W/m2/K]."""
        return self.convection_coefficient + self.radiation_coefficient


def vapour_diffusivity(temperature: Values, *, pressure: Values = STANDARD_PRESSURE) -> Values:
    """Diffusivity of water vapour in air.

    Parameters
    ----------
    temperature: air temperature, 253.15 to 373.15 [K]
    pressure: air pressure, 20 000 to 110 000 [Pa]

    Returns
    -------
    Diffusivity, relative spread ``VAPOUR_DIFFUSIVITY_SPREAD`` [m2/s]

    Raises
    ------
    RangeError: temperature or pressure outside these limits.

    Notes
    -----
    D = 2.12e-5 (T / 273.15 K)^1.75 (101 325 Pa / p). Other correlations run up to 3 % higher at
    20 C.

    Reference: monteith-unsworth, power law for water vapour.
    """
    kelvin = within("air.temperature", temperature, low=253.15, high=373.15, unit="K")
    pascal = within("air.pressure", pressure, low=20_000.0, high=110_000.0, unit="Pa")
    return 2.12e-5 * (kelvin / CELSIUS_ZERO) ** 1.75 * (STANDARD_PRESSURE / pascal)


def viscosity(temperature: Values) -> Values:
    """Dynamic viscosity of air.

    Parameters
    ----------
    temperature: film temperature, 223.15 to 473.15 [K]

    Returns
    -------
    Dynamic viscosity [Pa s]

    Reference: us-standard-atmosphere-1976, eq. 51.
    """
    kelvin = within("air.temperature", temperature, low=223.15, high=473.15, unit="K")
    return 1.458e-6 * kelvin**1.5 / (kelvin + 110.4)


def conductivity(temperature: Values) -> Values:
    """Thermal conductivity of air.

    Parameters
    ----------
    temperature: film temperature, 223.15 to 473.15 [K]

    Returns
    -------
    Thermal conductivity [W/m/K]

    Reference: us-standard-atmosphere-1976, eq. 53.
    """
    kelvin = within("air.temperature", temperature, low=223.15, high=473.15, unit="K")
    return 2.64638e-3 * kelvin**1.5 / (kelvin + 245.4 * 10.0 ** (-12.0 / kelvin))


def density(air: AirState) -> Values:
    """Density of moist air as a mixture of ideal gases.

    Parameters
    ----------
    air: state of the air [record]

    Returns
    -------
    Density [kg/m3]

    Notes
    -----
    rho = (p - pv) / (Ra T) + pv / (Rv T).

    Reference: ashrae-fundamentals, ch. 1, perfect gas relations.
    """
    return _moist_density(air.temperature, air.vapour_pressure, air.pressure)


def humidity_ratio(air: AirState) -> Values:
    """Vapour carried by each kilogram of dry air.

    Parameters
    ----------
    air: state of the air [record]

    Returns
    -------
    Humidity ratio [kg/kg]

    Notes
    -----
    W = 0.6219 pv / (p - pv).

    Reference: ashrae-fundamentals, ch. 1, eq. 20.
    """
    return MASS_RATIO * air.vapour_pressure / (air.pressure - air.vapour_pressure)


def warmed(air: AirState, temperature: Values) -> AirState:
    """The same air brought to another temperature without adding or taking water.

    Parameters
    ----------
    air: state of the air before [record]
    temperature: temperature after, not below the dew point [K]

    Returns
    -------
    Air at that temperature, its relative humidity moved accordingly [record]

    Raises
    ------
    RangeError: the air would have to lose water, or the temperature is outside the limits of air.
    """
    humidity = air.vapour_pressure / saturation_pressure(temperature)
    return AirState(temperature, humidity, air.speed, air.pressure)


def dew_point(air: AirState) -> Values:
    """Temperature at which dew forms on a cooled surface.

    Parameters
    ----------
    air: state of the air, vapour pressure at least 125 Pa [record]

    Returns
    -------
    Dew point; below 273.15 K over supercooled water, not frost [K]

    Raises
    ------
    RangeError: the air is drier than a dew point of 253.15 K.

    Reference: iapws-if97, eq. 31.
    """
    return saturation_temperature(air.vapour_pressure)


def wet_bulb(air: AirState) -> Values:
    """Temperature of a wet, well ventilated thermometer.

    Parameters
    ----------
    air: state of the air [record]

    Returns
    -------
    Wet-bulb temperature; below 273.15 K that of supercooled water [K]

    Raises
    ------
    InputError: the wet bulb lies below 253.15 K.

    Notes
    -----
    Bisection of W = ((2501 - 2.326 t*) Ws* - 1.006 (t - t*)) / (2501 + 1.86 t - 4.186 t*).

    Reference: ashrae-fundamentals, ch. 1, eq. 33.
    """
    dry = np.asarray(air.temperature) - CELSIUS_ZERO
    actual = np.asarray(humidity_ratio(air))

    def surplus(kelvin: Array) -> Array:
        bulb = kelvin - CELSIUS_ZERO
        saturated = saturation_pressure(kelvin)
        ratio = MASS_RATIO * saturated / (air.pressure - saturated)
        full = (2501.0 - 2.326 * bulb) * ratio - 1.006 * (dry - bulb)
        return np.asarray(full - actual * (2501.0 + 1.86 * dry - 4.186 * bulb))

    high = np.asarray(air.temperature) + np.zeros_like(actual)
    return _settle(surplus, high)


def natural_sphere(rayleigh: Values, prandtl: Values) -> Values:
    """Nusselt number of a sphere in air or water that moves only by its own buoyancy.

    Parameters
    ----------
    rayleigh: Grashof times Prandtl number, on the diameter, 0 to 1e11 [1]
    prandtl: Prandtl number, or for mass the Schmidt number, 0.5 to 1e4 [1]

    Returns
    -------
    Nusselt, or for mass the Sherwood number, 2 in still fluid [1]

    Raises
    ------
    RangeError: a number outside these limits.

    Notes
    -----
    Nu = 2 + 0.589 Ra^(1/4) / p^(4/9) (1 + 7.44e-8 Ra / p^(16/9))^(1/12) with
    p = 1 + (0.469 / Pr)^(9/16).

    Reference: churchill-1983, sphere (as given in Schluender, Heat Exchanger Design Handbook).
    """
    ra = within("rayleigh", rayleigh, low=0.0, high=1e11)
    pr = within("prandtl", prandtl, low=0.5, high=1e4)
    shape = 1.0 + (0.469 / pr) ** (9.0 / 16.0)
    turbulent = (1.0 + 7.44e-8 * ra / shape ** (16.0 / 9.0)) ** (1.0 / 12.0)
    return 2.0 + 0.589 * ra**0.25 / shape ** (4.0 / 9.0) * turbulent


def forced_sphere(reynolds: Values, prandtl: Values) -> Values:
    """Nusselt number of a sphere in a stream.

    Parameters
    ----------
    reynolds: Reynolds number on the diameter, 0 to 1e5 [1]
    prandtl: Prandtl number, or for mass the Schmidt number, 0.5 to 1e4 [1]

    Returns
    -------
    Nusselt, or for mass the Sherwood number, 2 in still fluid [1]

    Raises
    ------
    RangeError: a number outside these limits.

    Notes
    -----
    Nu = 2 + 0.6 Re^(1/2) Pr^(1/3). Measured on drops up to Re of some 200; carried on beyond as is
    usual, where it runs low.

    Reference: ranz-marshall-1952.
    """
    re = within("reynolds", reynolds, low=0.0, high=1e5)
    pr = within("prandtl", prandtl, low=0.5, high=1e4)
    return 2.0 + 0.6 * np.sqrt(re) * np.cbrt(pr)


def sphere_coefficients(
    diameter: Values, *, air: AirState, surface_temperature: Values, surface_activity: Values = 1.0
) -> AirFilm:
    """Exchange coefficients of a moist sphere that hangs free in air.

    Parameters
    ----------
    diameter: diameter of the sphere, 1e-4 to 0.2 [m]
    air: state of the air [record]
    surface_temperature: temperature of the surface, 253.15 to 373.15 [K]
    surface_activity: water activity of the surface, 0 to 1 [1]

    Returns
    -------
    Coefficients for vapour, convection and radiation [record]

    Raises
    ------
    RangeError: a value outside these limits.

    Notes
    -----
    Sh = 2 + (Shn^3 + Shf^3)^(1/3), natural (Churchill) and forced (Ranz-Marshall) each without its
    2; the Grashof number uses the density difference of moist air, from temperature and vapour.
    Heat follows by the Lewis relation h = km rho cp Le^(2/3). Radiation to surroundings at air
    temperature, with ``EMISSIVITY``. Properties of dry air at the mean of both temperatures.

    Reference: churchill-1983; ranz-marshall-1952; judgement for the combination.
    """
    length = within("sphere.diameter", diameter, low=1e-4, high=0.2, unit="m")
    surface = within("surface.temperature", surface_temperature, low=253.15, high=373.15, unit="K")
    activity = within("surface.activity", surface_activity, low=0.0, high=1.0)
    film = 0.5 * (surface + air.temperature)
    film_density = _moist_density(film, 0.0, air.pressure)
    kinematic = viscosity(film) / film_density
    diffusivity = vapour_diffusivity(film, pressure=air.pressure)
    schmidt = kinematic / diffusivity
    vapour = activity * saturation_pressure(surface)
    difference = np.abs(_moist_density(surface, vapour, air.pressure) - density(air))
    grashof = STANDARD_GRAVITY * length**3 * difference / film_density / kinematic**2
    natural = natural_sphere(grashof * schmidt, schmidt) - 2.0
    forced = forced_sphere(air.speed * length / kinematic, schmidt) - 2.0
    mass = (2.0 + np.cbrt(natural**3 + forced**3)) * diffusivity / length
    lewis = conductivity(film) / (film_density * HEAT_CAPACITY) / diffusivity
    convection = mass * film_density * HEAT_CAPACITY * lewis ** (2.0 / 3.0)
    radiation = (
        EMISSIVITY
        * STEFAN_BOLTZMANN
        * (surface + air.temperature)
        * (surface**2 + np.asarray(air.temperature) ** 2)
    )
    return AirFilm(mass, convection, radiation)


def evaporation_flux(
    film: AirFilm, *, air: AirState, surface_temperature: Values, surface_activity: Values = 1.0
) -> Values:
    """Water leaving a moist surface; negative where it gathers water.

    Parameters
    ----------
    film: exchange coefficients of the surface [record]
    air: state of the air [record]
    surface_temperature: temperature of the surface, 253.15 to 373.15 [K]
    surface_activity: water activity of the surface, 0 to 1 [1]

    Returns
    -------
    Mass flux [kg/m2/s]

    Raises
    ------
    RangeError: a value outside these limits.

    Notes
    -----
    J = km (aw psat(Ts) - RH psat(Ta)) / (Rv Tf), Tf the mean of both temperatures.

    Reference: monteith-unsworth, mass transfer of vapour.
    """
    surface = within("surface.temperature", surface_temperature, low=253.15, high=373.15, unit="K")
    activity = within("surface.activity", surface_activity, low=0.0, high=1.0)
    drive = activity * saturation_pressure(surface) - air.vapour_pressure
    mean = 0.5 * (surface + air.temperature)
    return film.mass_coefficient * drive / (VAPOUR_GAS_CONSTANT * mean)


def wet_surface_temperature(
    diameter: Values, *, air: AirState, surface_activity: Values = 1.0
) -> Values:
    """Temperature at which a moist sphere settles when all its heat goes into evaporation.

    Parameters
    ----------
    diameter: diameter of the sphere, 1e-4 to 0.2 [m]
    air: state of the air [record]
    surface_activity: water activity of the surface, at least that of the air [1]

    Returns
    -------
    Surface temperature; above the wet bulb in still air, since radiation warms it too [K]

    Raises
    ------
    RangeError: a value outside these limits.
    InputError: the surface would be colder than 253.15 K.

    Notes
    -----
    Bisection of h (Ta - Ts) = L(Ts) J(Ts).

    Reference: monteith-unsworth, heat balance of a wet surface.
    """
    within("surface.activity", surface_activity, low=float(np.max(air.relative_humidity)), high=1.0)

    def surplus(surface: Array) -> Array:
        film = sphere_coefficients(
            diameter, air=air, surface_temperature=surface, surface_activity=surface_activity
        )
        flux = evaporation_flux(
            film, air=air, surface_temperature=surface, surface_activity=surface_activity
        )
        gained = film.heat_coefficient * (air.temperature - surface)
        return np.asarray(latent_heat(surface) * flux - gained)

    size = np.asarray(diameter) + np.asarray(surface_activity)
    return _settle(surplus, air.temperature + 0.0 * (air.vapour_pressure + air.speed + size))


def _moist_density(temperature: Values, vapour_pressure: Values, pressure: Values) -> Array:
    kelvin, vapour = np.asarray(temperature), np.asarray(vapour_pressure)
    dry = (pressure - vapour) / (DRY_AIR_GAS_CONSTANT * kelvin)
    result: Array = dry + vapour / (VAPOUR_GAS_CONSTANT * kelvin)
    return result


def _settle(surplus: Callable[[Array], Array], high: Array) -> Array:
    """Root of a rising function between 253.15 K and ``high``, by bisection to 1e-10 K."""
    low = np.full_like(high, 253.15)
    cold = surplus(low) > 0.0
    if cold.any():
        raise InputError(
            "air", "air too cold and dry", "air whose wet surfaces stay above 253.15 K"
        )
    for _ in range(40):
        middle = 0.5 * (low + high)
        over = surplus(middle) > 0.0
        low, high = np.where(over, low, middle), np.where(over, middle, high)
    return 0.5 * (low + high)
