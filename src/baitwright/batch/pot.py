"""The pot on the bench: what it may be, and the temperature at which its water boils."""

from __future__ import annotations

from typing import Any

from baitwright.batch.unknowns import Unknowns
from baitwright.materials.defaults import default
from baitwright.physics import water
from baitwright.quantities import from_si
from baitwright.recipe.bench import Bench
from baitwright.terms.errors import InputError, RangeError
from baitwright.terms.quantity import Quantity, declared, given
from baitwright.terms.units import CELSIUS, GRAMS, Unit

_HECTOPASCALS = Unit("Pa", "hPa")
_KELVINS = Unit("K", "K")
_EBULLIOSCOPIC = 0.512
"""Kelvin that one mole of particles in a kilogram of water adds to its boiling point."""
_SALT = 0.05844
"""kg/mol of sodium chloride, which falls into two particles."""
_COLD_WATER = 998.2
"""Water is measured into the pot cold, kg/m3 (tanaka-2001, 20 C)."""
_MOST_SALT = 0.1
"""Salt per mass of water up to which the rise is in proportion."""


@declared(
    "air_pressure",
    label="air pressure in the kitchen",
    unit=_HECTOPASCALS,
    equation="pressure of the standard atmosphere at this altitude",
    source="icao-7488",
    note="weather moves it by some 30 hPa and the boiling point by 0.8 K; a barometer tells",
)
def air_pressure(altitude: Any) -> Any:
    """The usual pressure at an altitude."""
    return water.standard_pressure(altitude)


@declared(
    "salt_rise",
    label="salt in the pot lifts its boiling point by",
    unit=_KELVINS,
    equation="rise = 0.512 K kg/mol x 2 x salt / (58.44 g/mol x water)",
    source="crc-handbook",
)
def salt_rise(salt: Any, water_volume: Any) -> Any:
    """How much hotter salted water boils."""
    return _EBULLIOSCOPIC * 2.0 * salt / _SALT / (_COLD_WATER * water_volume)


@declared(
    "boiling_point",
    label="the pot boils at",
    unit=CELSIUS,
    equation="saturation temperature at this pressure + what salt adds",
    source="iapws-if97",
)
def boiling_point(pressure: Any, rise: Any) -> Any:
    """Where the pot's water boils."""
    return water.saturation_temperature(pressure) + rise


def pot_boils(bench: Bench, *, unknowns: Unknowns) -> Quantity:
    """The temperature of the boiling pot: by thermometer, by barometer or by altitude.

    Raises
    ------
    InputError: something about the pot is not possible, or altitude and pressure are both given.
    """
    check_pot(bench)
    pot = bench.pot
    if pot.boils_at is not None:
        return given("boiling_point", pot.boils_at, label="the pot boils at", unit=CELSIUS)
    rise = salt_rise(
        salt=given("pot_salt", pot.salt or 0.0, label="salt in the pot", unit=GRAMS),
        water_volume=unknowns.stated("pot_volume", pot.water_volume),
    )
    if bench.pressure is None:
        pressure = air_pressure(altitude=unknowns.stated("altitude", bench.altitude))
    else:
        label = "air pressure in the kitchen"
        pressure = given("air_pressure", bench.pressure, label=label, unit=_HECTOPASCALS)
    return boiling_point(pressure=pressure, rise=rise)


def check_pot(bench: Bench) -> None:
    """Refuse a pot that cannot be, naming the field as the bench file does.

    Raises
    ------
    InputError: a number outside its limits or none at all, or altitude and pressure together.
    """
    pot = bench.pot
    _within("pot.boils_at", pot.boils_at, (353.15, 374.15), unit="C")
    _within("pressure", bench.pressure, (48_000.0, 108_500.0), unit="hPa")
    _within("altitude", bench.altitude, (-400.0, 5_000.0), unit="m")
    _within("paste", bench.start_temperature, (273.15, 333.15), unit="C")
    _within("pot.water", pot.water_volume, (0.2e-3, 50e-3), unit="l")
    _within("pot.power", pot.net_power, (100.0, 20_000.0), unit="W")
    _within("pot.basket", pot.basket, (1, 1000), unit="")
    held = default("pot_volume").value if pot.water_volume is None else pot.water_volume
    _within("pot.salt", pot.salt, (0.0, _MOST_SALT * _COLD_WATER * held), unit="g")
    if bench.pressure is not None and bench.altitude is not None:
        accepted = "either pressure, as a barometer in the kitchen shows it, or altitude"
        hint = "A weather report's pressure is for sea level: give the altitude alone."
        raise InputError("pressure", "pressure and altitude", accepted, hint=hint)


def _within(field: str, value: float | None, limits: tuple[float, float], *, unit: str) -> None:
    if value is None or limits[0] <= value <= limits[1]:
        return
    shown, low, high = (round(from_si(one, unit), 3) for one in (value, *limits))
    raise RangeError(field, shown, low=low, high=high, unit=unit)
