"""On the tray: water leaving hour after hour, when the baits are ready, and what they are then."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from baitwright.batch.state import BaitState
from baitwright.batch.unknowns import Unknowns
from baitwright.physics.air import AirState, sphere_coefficients, wet_surface_temperature
from baitwright.physics.diffusion import moisture_diffusivity
from baitwright.physics.radial import AirLeg, MoistBall, MoistureLaws, MoistureRun
from baitwright.physics.radial import dry as drying
from baitwright.physics.sorption import water_activity
from baitwright.physics.water import latent_heat, saturation_pressure
from baitwright.recipe.bench import Room
from baitwright.terms.quantity import Quantity, declared, given, unwrap
from baitwright.terms.units import DIFFUSIVITY, GRAMS, HOURS, MILLILITRES, MILLIMETRES, PERCENT

HORIZON = 96.0 * 3600.0
"""Drying is followed for four days, s."""
_READY_QUANTILE = 0.9
"""Baits are planned ready when 9 in 10 are."""
_HALF_HOUR = 1800.0
_WATER = 998.2
"""Water in the bait swells and shrinks it at this density, kg/m3 (tanaka-2001, 20 C)."""


@dataclass(frozen=True, slots=True)
class BaitAsMoist:
    """Sizes [m], masses [kg] and air [m3] of a bait as bare arrays."""

    diameter: Any
    core_diameter: Any
    solids: Any
    water: Any
    air: Any


@declared(
    "moist_ball",
    label="the bait as shells of moist solids",
    equation="solids density = solids / (V (1 - air) - water / water density)",
    source="mayor-sereno-2004",
)
def moist_ball(state: BaitAsMoist, shrinkage: Any) -> MoistBall:
    """The bait for the drying model; liquids count as solids, since they stay."""
    volume = np.pi / 6.0 * (state.diameter**3 - state.core_diameter**3)
    solids_volume = volume - state.air - state.water / _WATER
    arrays = np.broadcast_arrays(
        0.5 * state.diameter,
        0.5 * state.core_diameter,
        state.water / state.solids,
        state.solids / solids_volume,
        state.air / volume,
        shrinkage,
    )
    outer, inner, content, density, air, shrinks = (array.ravel() for array in arrays)
    return MoistBall(outer, inner, content, density, _WATER, air, shrinks)


@declared(
    "bait_as_moist",
    label="the bait before drying",
    equation="solids and liquids together, water, air, sizes",
    source="definition",
)
def bait_as_moist(
    diameter: Any, core_diameter: Any, solids: Any, liquids: Any, water: Any, air: Any
) -> BaitAsMoist:
    """What the drying model needs of a bait."""
    return BaitAsMoist(diameter, core_diameter, solids + liquids, water, air)


@declared(
    "shrinkage",
    label="share of the lost water's room that closes",
    unit=PERCENT,
    equation="chi = 1 / (1 + air left odds x factor)",
    source="judgement",
    note="the rest stays behind as air and lifts the bait; a dried bait pushed under tells",
)
def shrinkage(air_left: Any, factor: Any) -> Any:
    """Shrinkage from the share that stays as air; the factor acts on its odds."""
    return 1.0 / (1.0 + air_left / (1.0 - air_left) * factor)


@declared(
    "room_air",
    label="the air in the room",
    equation="temperature, humidity and movement of the air",
    source="ashrae-fundamentals",
)
def room_air(temperature: Any, humidity: Any, speed: Any) -> AirState:
    """The air the baits dry in."""
    return AirState(temperature, humidity, speed)


@dataclass(frozen=True, slots=True)
class Film:
    """Exchange of vapour [m/s] and heat [W/m2/K] between bait and air."""

    mass: Any
    heat: Any


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
    return Film(float(film.mass_coefficient) * share, float(film.heat_coefficient) * share)


@declared(
    "bait_diffusivity",
    label="how fast water moves in the bait, at 20 C",
    unit=DIFFUSIVITY,
    equation="D = 5e-11 m2/s x factor",
    source="jangam-mujumdar",
    note="between pasta and fish feed; known within a factor of 2.5 until baits are weighed",
)
def bait_diffusivity(table: Any, factor: Any) -> Any:
    """Diffusivity of water in the set paste."""
    return table * factor


@declared(
    "drying_run",
    label="water leaving the bait",
    equation="diffusion in shrinking shells, evaporation balanced against heat from the air",
    source="crank-1975",
)
def drying_run(ball: MoistBall, air: AirState, film: Film, diffusivity: Any) -> MoistureRun:
    """Four days on the tray."""
    count = np.asarray(ball.outer_radius).size
    each = {
        name: np.broadcast_to(np.repeat(values.ravel(), count // values.size), (count,))
        for name, values in (
            ("mass", np.atleast_2d(film.mass)),
            ("heat", np.atleast_2d(film.heat)),
            ("diffusivity", np.atleast_2d(diffusivity)),
        )
    }
    laws = MoistureLaws(
        diffusivity=lambda kelvin, _: moisture_diffusivity(kelvin, at_20C=each["diffusivity"]),
        water_activity=water_activity,
        saturation_pressure=saturation_pressure,
        latent_heat=float(latent_heat(air.temperature)),
    )
    leg = AirLeg(HORIZON, air.temperature, air.relative_humidity, each["mass"], each["heat"])
    return drying(ball, [leg], laws=laws)


@declared(
    "ready_time",
    label="ready",
    unit=HOURS,
    equation="first time the paste has lost the wanted share of its weight",
    source="judgement",
    note="ready means lighter by a tenth: dry skin, firm to the nail; your own mark wins",
)
def ready_time(run: MoistureRun, start: BaitAsMoist, wanted: Any) -> Any:
    """When each bait is ready; never, for one that is not within four days."""
    batches = np.asarray(start.diameter).shape[0]
    paste = (start.solids + start.water).ravel()
    wanted_loss = wanted * paste
    lost = run.evaporated
    reached = lost >= wanted_loss
    after = np.argmax(reached, axis=0)
    before = np.maximum(after - 1, 0)
    index = np.arange(lost.shape[1])
    low, high = lost[before, index], lost[after, index]
    part = (wanted_loss - low) / np.where(high > low, high - low, 1.0)
    time = run.times[before] + part * (run.times[after] - run.times[before])
    return np.where(reached.any(axis=0), time, np.inf).reshape(batches, -1)


@declared(
    "tray_time",
    label="leave on the tray",
    unit=HOURS,
    equation="the time by which 9 baits in 10 are ready, no less than overnight, in half hours",
    source="common-practice",
)
def tray_time(ready: Any, least: Any) -> float:
    """How long to plan for the tray; four days at most."""
    enough = float(np.quantile(np.minimum(ready, HORIZON), _READY_QUANTILE))
    enough = max(enough, least)
    return float(_HALF_HOUR * np.ceil(enough / _HALF_HOUR - 1e-9))


def at_time(run: MoistureRun, series: Any, time: float, *, like: Any) -> Any:
    """One of a run's series at a time between its steps, shaped as the tray."""
    after = int(np.clip(np.searchsorted(run.times, time), 1, run.times.size - 1))
    before = after - 1
    part = (time - run.times[before]) / (run.times[after] - run.times[before])
    return ((1.0 - part) * series[before] + part * series[after]).reshape(np.shape(like))


@declared(
    "water_lost",
    label="water lost on the tray",
    unit=GRAMS,
    equation="evaporated by then",
    source="crank-1975",
)
def water_lost(run: MoistureRun, time: Any, like: Any) -> Any:
    """Water one bait has lost after a time on the tray."""
    return at_time(run, run.evaporated, time, like=like)


@declared(
    "water_left",
    label="water left in the bait",
    unit=GRAMS,
    equation="left = water - lost",
    source="definition",
)
def water_left(water: Any, lost: Any) -> Any:
    """Water still in one bait."""
    return water - lost


@declared(
    "dried_diameter",
    label="diameter dried",
    unit=MILLIMETRES,
    equation="D^3 = D0^3 - 6 chi lost / (pi water density)",
    source="mayor-sereno-2004",
)
def dried_diameter(diameter: Any, lost: Any, shrinkage: Any) -> Any:
    """Diameter after water has left."""
    return np.cbrt(diameter**3 - 6.0 / np.pi * shrinkage * lost / _WATER)


@declared(
    "air_gained",
    label="air in the bait, dried",
    unit=MILLILITRES,
    equation="air + (1 - chi) lost / water density",
    source="definition",
)
def air_gained(air: Any, lost: Any, shrinkage: Any) -> Any:
    """Air in the bait after water has left."""
    return air + (1.0 - shrinkage) * lost / _WATER


@declared(
    "loss_share",
    label="weight lost by the paste",
    unit=PERCENT,
    equation="lost / (solids + liquids + water as rolled)",
    source="definition",
)
def loss_share(lost: Any, start: BaitAsMoist) -> Any:
    """Share of the paste's weight that has gone."""
    return lost / (start.solids + start.water)


@dataclass(frozen=True, slots=True)
class DryingPoint:
    """The baits after some hours: weight lost and weight."""

    time: float
    loss: Quantity
    mass: Quantity


@dataclass(frozen=True, slots=True)
class DryStage:
    """The tray: when ready, how long to leave them, and the bait then."""

    ready: Quantity
    time: Quantity
    lost: Quantity
    loss: Quantity
    mass: Quantity
    diameter: Quantity
    shrinkage: Quantity
    run: Quantity
    curve: tuple[DryingPoint, ...]
    bait: BaitState


_CURVE_HOURS = (0.0, 2.0, 4.0, 8.0, 12.0, 16.0, 24.0, 36.0, 48.0)


def dry(state: BaitState, room: Room, *, unknowns: Unknowns) -> DryStage:
    """Dry a tray of boiled baits in the room's air until they are ready."""
    start = bait_as_moist(
        diameter=state.diameter,
        core_diameter=state.core_diameter,
        solids=state.solids,
        liquids=state.solute_mass,
        water=state.water,
        air=state.air,
    )
    shrinks = shrinkage(air_left=unknowns.base("air_left"), factor=unknowns.factor("air_left"))
    run = _run(state, start, shrinks, room=room, unknowns=unknowns)
    ready = ready_time(run=run, start=start, wanted=unknowns.default("ready_loss"))
    time = tray_time(ready=ready, least=unknowns.default("least_tray_time"))
    lost = water_lost(run=run, time=time, like=state.diameter)
    dried = _dried(state, lost, shrinks)
    return DryStage(
        ready=ready,
        time=time,
        lost=lost,
        loss=loss_share(lost=lost, start=start),
        mass=dried.mass,
        diameter=dried.diameter,
        shrinkage=shrinks,
        run=run,
        curve=tuple(
            _point(state, run, start, time=3600.0 * hours, shrinks=shrinks)
            for hours in _CURVE_HOURS
        ),
        bait=dried,
    )


def _run(
    state: BaitState, start: Quantity, shrinks: Quantity, *, room: Room, unknowns: Unknowns
) -> Quantity:
    air = room_air(
        temperature=unknowns.stated("room_temperature", room.temperature),
        humidity=unknowns.stated("room_humidity", room.humidity),
        speed=unknowns.stated("air_speed", room.air_speed),
    )
    film = drying_film(
        air=air,
        diameter=state.diameter,
        exposure=unknowns.drawn_default("tray_exposure"),
        factor=unknowns.factor("air_film"),
    )
    moves = bait_diffusivity(
        table=unknowns.default("moisture_diffusivity"), factor=unknowns.factor("drying")
    )
    ball = moist_ball(state=start, shrinkage=shrinks)
    return drying_run(ball=ball, air=air, film=film, diffusivity=moves)


def _point(
    state: BaitState, run: Quantity, start: Quantity, *, time: float, shrinks: Quantity
) -> DryingPoint:
    at = given("hours", time, label="on the tray", unit=HOURS)
    lost = water_lost(run=run, time=at, like=state.diameter)
    return DryingPoint(time, loss_share(lost=lost, start=start), _dried(state, lost, shrinks).mass)


def _dried(state: BaitState, lost: Quantity, shrinks: Quantity) -> BaitState:
    """The bait after water has left, with its water account closed."""
    water = water_left(water=state.water, lost=lost)
    entry = {
        "before": unwrap(state.water.value),
        "after": unwrap(water.value),
        "gone": unwrap(lost.value),
    }
    return replace(
        state,
        diameter=dried_diameter(diameter=state.diameter, lost=lost, shrinkage=shrinks),
        water=water,
        air=air_gained(air=state.air, lost=lost, shrinkage=shrinks),
        ledger=state.ledger.with_entry("dry", "water", **entry),
    )
