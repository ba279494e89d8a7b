"""The air over the tray, stretch by stretch: the room, a fan, a dryer, the night."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np

from baitwright.batch.unknowns import Unknowns
from baitwright.physics.air import (
    AirState,
    sphere_coefficients,
    viscosity,
    warmed,
    wet_surface_temperature,
)
from baitwright.physics.air import density as air_density
from baitwright.physics.limits import within
from baitwright.quantities import show
from baitwright.recipe.bench import LaterAir, Room
from baitwright.terms.errors import InputError, RangeError
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import Quantity, declared, given
from baitwright.terms.units import CELSIUS, HOURS

HORIZON = 96.0 * 3600.0
"""Drying is followed for four days, s."""
_MEASURED_REYNOLDS = 200.0
"""Drops were measured up to here for a sphere in a stream (ranz-marshall-1952)."""
_ISOTHERMS_STAND = (278.15, 308.15)
"""Air in which isotherms taken at 20 C still serve, K (judgement)."""


@declared(
    "room_air",
    label="the air in the room",
    equation="temperature, humidity and movement of the air",
    source="ashrae-fundamentals",
)
def room_air(temperature: Any, humidity: Any, speed: Any) -> AirState:
    """The air the baits dry in."""
    return AirState(temperature, humidity, speed)


@declared(
    "same_air",
    label="the same air at another temperature",
    equation="humidity x saturation pressure stays",
    source="ashrae-fundamentals",
    note="as much water to a kilogram of air as before; warmed air dries, cooled air dampens",
)
def same_air(before: AirState, temperature: Any, speed: Any) -> AirState:
    """Air that was warmed or cooled and kept its water."""
    try:
        air = warmed(before, temperature)
    except RangeError:
        raise InputError(
            "room.then.humidity",
            None,
            "the humidity of air cooled so far, since dew falls from it",
            hint=f"Room air cooled to {show(float(temperature), 'C')} cannot hold its water.",
        ) from None
    return AirState(air.temperature, air.relative_humidity, speed)


@dataclass(frozen=True, slots=True)
class Film:
    """Exchange of vapour [m/s] and heat [W/m2/K] between bait and air, and the Reynolds number."""

    mass: Any
    heat: Any
    reynolds: float


@declared(
    "drying_film",
    label="exchange with the air",
    equation="Churchill and Ranz-Marshall for a sphere with radiation, x exposure x factor",
    source="churchill-1983",
    note="a tray hides part of the bait; the share is judged",
)
def drying_film(air: AirState, diameter: Any, exposure: Any, factor: Any) -> Film:
    """How fast the air takes water off the middle bait."""
    middle = float(np.median(diameter))
    surface = wet_surface_temperature(middle, air=air)
    film = sphere_coefficients(middle, air=air, surface_temperature=surface)
    share = exposure * factor
    kinematic = viscosity(air.temperature) / air_density(air)
    return Film(
        float(film.mass_coefficient) * share,
        float(film.heat_coefficient) * share,
        float(air.speed * middle / kinematic),
    )


@dataclass(frozen=True, slots=True)
class Stretch:
    """Air and exchange with it, from a time on the tray [s] on."""

    start: float
    air: AirState
    film: Film


@declared(
    "tray_stretch",
    label="a stretch of time in the same air",
    equation="air and exchange with it, from a time on",
    source="definition",
)
def tray_stretch(start: Any, air: AirState, film: Film) -> Stretch:
    """Air that stays as it is for a while."""
    return Stretch(float(start), air, film)


@dataclass(frozen=True, slots=True)
class _Setting:
    """The room's air in one stretch, with what it is made of, and the dryer in it."""

    room: Quantity
    temperature: Quantity
    speed: Quantity
    fan_stated: bool
    dryer: float | None


def stretches(room: Room, diameter: Quantity, *, unknowns: Unknowns) -> tuple[Quantity, ...]:
    """The surroundings in order, each a `Stretch`; the last one lasts to the horizon.

    Raises
    ------
    InputError: the room's air, the dryer or a time is not possible.
    """
    _check(room)
    exposure = (
        unknowns.drawn_default("tray_exposure")
        if room.exposure is None
        else unknowns.stated("tray_exposure", room.exposure)
    )
    reach = {"exposure": exposure, "factor": unknowns.factor("air_film"), "diameter": diameter}
    made = []
    for start, setting in _settings(room, unknowns):
        air = _over_tray(setting, unknowns)
        begins = given("from", start, label="on the tray from", unit=HOURS)
        made.append(tray_stretch(start=begins, air=air, film=drying_film(air=air, **reach)))
    return tuple(made)


def _settings(room: Room, unknowns: Unknowns) -> list[tuple[float, _Setting]]:
    temperature = unknowns.stated("room_temperature", room.temperature)
    speed = unknowns.stated("air_speed", room.air_speed)
    humidity = unknowns.stated("room_humidity", room.humidity)
    air = room_air(temperature=temperature, humidity=humidity, speed=speed)
    setting = _Setting(air, temperature, speed, room.air_speed is not None, room.dryer)
    settings = [(0.0, setting)]
    for later in room.then:
        setting = _later(setting, later, unknowns)
        settings.append((later.after, setting))
    return settings


def _later(before: _Setting, later: LaterAir, unknowns: Unknowns) -> _Setting:
    temperature, speed = before.temperature, before.speed
    if later.temperature is not None:
        temperature = unknowns.stated("room_temperature", later.temperature)
    if later.air_speed is not None:
        speed = unknowns.stated("air_speed", later.air_speed)
    if later.humidity is None:
        air = same_air(before=before.room, temperature=temperature, speed=speed)
    else:
        humidity = unknowns.stated("room_humidity", later.humidity)
        air = room_air(temperature=temperature, humidity=humidity, speed=speed)
    fan_stated = before.fan_stated or later.air_speed is not None
    return _Setting(air, temperature, speed, fan_stated, later.dryer)


def _over_tray(setting: _Setting, unknowns: Unknowns) -> Quantity:
    """The room's air, or that air warmed in a dryer and blown by its fan."""
    if setting.dryer is None:
        return setting.room
    if setting.dryer < float(setting.room.value.temperature):
        accepted = "a temperature no lower than the room's"
        raise InputError("room.dryer", show(setting.dryer, "C"), accepted)
    fan = setting.speed if setting.fan_stated else unknowns.default("dryer_air_speed")
    return same_air(
        before=setting.room,
        temperature=given("dryer", setting.dryer, label="the dryer", unit=CELSIUS),
        speed=fan,
    ).labelled("the room's air in the dryer")


def _check(room: Room) -> None:
    """Refuse surroundings that no kitchen has, under the names the maker knows them by."""
    later = ((f"room.then[{at}]", air) for at, air in enumerate(room.then, start=1))
    for place, air in (("room", room), *later):
        for name, low, high, unit in (
            ("temperature", 273.15, 323.15, "K"),
            ("humidity", 0.0, 1.0, ""),
            ("air_speed", 0.0, 5.0, "m/s"),
            ("dryer", 293.15, 343.15, "K"),
        ):
            value = getattr(air, name)
            if value is not None:
                within(f"{place}.{name}", value, low=low, high=high, unit=unit)
    if room.exposure is not None:
        within("room.exposure", room.exposure, low=0.2, high=1.0)
    starts = [0.0, *(later.after for later in room.then)]
    for before, after in pairwise(starts):
        if not before + 1.0 <= after < HORIZON:
            accepted = "times on the tray that follow each other within four days"
            raise InputError("room.then.after", show(after, "h"), accepted)


def cautious_of(tray: Sequence[Quantity]) -> list[Note]:
    """Where the surroundings lie beyond what a correlation was measured in."""
    notes = []
    fastest = max(tray, key=lambda one: one.value.film.reynolds).value
    if fastest.film.reynolds > _MEASURED_REYNOLDS:
        text = (
            f"Air of {show(float(fastest.air.speed), 'm/s')} past baits of this size is faster "
            "than the formula for its exchange was measured in (Reynolds number "
            f"{fastest.film.reynolds:.0f}, measured to {_MEASURED_REYNOLDS:.0f}). It runs low "
            "there: they may be ready sooner."
        )
        notes.append(Note("dry", text, "ranz-marshall-1952", Weight.DOUBT))
    low, high = _ISOTHERMS_STAND
    for one in tray:
        warmth = float(one.value.air.temperature)
        if not low <= warmth <= high:
            text = (
                f"At {show(warmth, 'C')} the water the baits hold is taken from isotherms at "
                "20 C; hot air leaves them a little drier, cold air a little moister."
            )
            notes.append(Note("dry", text, "judgement", Weight.DOUBT))
            break
    return notes
