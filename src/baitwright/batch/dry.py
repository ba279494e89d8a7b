"""On the tray: when the baits are ready, how long to leave them, and what they are then."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from baitwright.batch.drying import (
    BaitAsMoist,
    air_gained,
    as_moist,
    bait_activity,
    bait_diffusivity,
    dried_density,
    dried_diameter,
    drying_run,
    hardness_index,
    loss_share,
    moist_ball,
    moist_paste,
    shrinkage,
    water_left,
    water_lost,
)
from baitwright.batch.sorption import moisture_at
from baitwright.batch.state import BaitState
from baitwright.batch.tray_air import HORIZON, cautious_of, stretches
from baitwright.batch.unknowns import Unknowns
from baitwright.physics.limits import Array, within
from baitwright.physics.radial import MoistureRun
from baitwright.physics.sorption_blend import Blend
from baitwright.recipe.bench import ReadyMark, Room
from baitwright.terms.errors import InputError
from baitwright.terms.notes import Note
from baitwright.terms.quantity import IDENTITY, Quantity, declared, given, unwrap
from baitwright.terms.units import HOURS

_READY_QUANTILE = 0.9
"""Baits are planned ready when 9 in 10 are."""
_HALF_HOUR = 1800.0


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
    paste = (start.solids + start.water).ravel()
    return _first(run, run.evaporated - wanted * paste, like=start.diameter)


@declared(
    "ready_by_activity",
    label="ready",
    unit=HOURS,
    equation="first time the water left, evened out, has the wanted water activity",
    source="foster-2005",
    note="of the whole bait, as it settles in a closed bag",
)
def ready_by_activity(
    run: MoistureRun, start: BaitAsMoist, holds: Blend, scale: Any, wanted: Any
) -> Any:
    """When each bait has dried to a water activity; never, if not within four days."""
    like = start.diameter
    limit = np.broadcast_to(moisture_at(holds, scale, wanted), np.shape(like)).ravel()
    return _first(run, limit - run.mean_content, like=like)


def _first(run: MoistureRun, over: Array, *, like: Any) -> Array:
    """First time [s] at which a series of the run is no longer negative, shaped as the tray."""
    reached = over >= 0.0
    after = np.argmax(reached, axis=0)
    before = np.maximum(after - 1, 0)
    index = np.arange(over.shape[1])
    low, high = over[before, index], over[after, index]
    part = np.where(high > low, -low / np.where(high > low, high - low, 1.0), 0.0)
    time = run.times[before] + part * (run.times[after] - run.times[before])
    shape = (np.shape(like)[0], -1)
    return np.asarray(np.where(reached.any(axis=0), time, np.inf).reshape(shape))


@declared(
    "tray_time",
    label="leave on the tray",
    unit=HOURS,
    equation="the time by which 9 baits in 10 are ready, no less than overnight, in half hours",
    source="common-practice",
    note="overnight is the least in a room by the usual mark; not in a dryer, nor by your own mark",
)
def tray_time(ready: Any, least: Any) -> float:
    """How long to plan for the tray; four days at most."""
    enough = float(np.quantile(np.minimum(ready, HORIZON), _READY_QUANTILE))
    enough = max(enough, least)
    return float(_HALF_HOUR * np.ceil(enough / _HALF_HOUR - 1e-9))


@dataclass(frozen=True, slots=True)
class DryingPoint:
    """The baits after some hours; ``activity`` and ``density`` are of the whole bait."""

    time: float
    loss: Quantity
    mass: Quantity
    diameter: Quantity
    density: Quantity
    activity: Quantity
    hardness: Quantity


@dataclass(frozen=True, slots=True)
class DryStage:
    """The tray: when ready, how long to leave them, and the bait then."""

    ready: Quantity
    time: Quantity
    lost: Quantity
    loss: Quantity
    mass: Quantity
    diameter: Quantity
    density: Quantity
    activity: Quantity
    hardness: Quantity
    shrinkage: Quantity
    holds: Quantity
    holds_scale: Quantity
    run: Quantity
    curve: tuple[DryingPoint, ...]
    bait: BaitState
    notes: tuple[Note, ...]


_CURVE_HOURS = (0.0, 2.0, 4.0, 8.0, 12.0, 16.0, 24.0, 36.0, 48.0)


def dry(state: BaitState, room: Room, *, holds: Quantity, unknowns: Unknowns) -> DryStage:
    """Dry a tray of boiled baits in the room's air until they are ready.

    Parameters
    ----------
    state: the bait as it comes onto the tray.
    room: the air over the tray and the mark the baits are dried to.
    holds: the isotherm of the bait's dry matter.
    unknowns: factors, defaults and draws.

    Raises
    ------
    InputError: surroundings or a mark that cannot be.
    """
    tray = _Tray(
        state=state,
        start=as_moist(state),
        shrinks=shrinkage(air_left=unknowns.base("air_left"), factor=unknowns.factor("air_left")),
        holds=holds,
        scale=unknowns.drawn_default("isotherm_scale"),
        slope=unknowns.default("hardness_slope"),
    )
    air = stretches(room, state.diameter, unknowns=unknowns)
    run = _run(tray, air, unknowns)
    ready = _ready(tray, run, room.ready, unknowns=unknowns)
    time = tray_time(ready=ready, least=_least(room, unknowns))
    lost = water_lost(run=run, time=time, like=state.diameter)
    end, bait = _after(tray, lost, time=float(unwrap(time.value)))
    curve = []
    for hours in _CURVE_HOURS:
        at = given("hours", 3600.0 * hours, label="on the tray", unit=HOURS, backing=IDENTITY)
        gone = water_lost(run=run, time=at, like=state.diameter)
        curve.append(_after(tray, gone, time=3600.0 * hours)[0])
    return DryStage(
        ready=ready,
        time=time,
        lost=lost,
        loss=end.loss,
        mass=end.mass,
        diameter=end.diameter,
        density=end.density,
        activity=end.activity,
        hardness=end.hardness,
        shrinkage=tray.shrinks,
        holds=holds,
        holds_scale=tray.scale,
        run=run,
        curve=tuple(curve),
        bait=bait,
        notes=tuple(cautious_of(air)),
    )


@dataclass(frozen=True, slots=True)
class _Tray:
    """The baits as they come onto the tray, and how they shrink, hold water and harden."""

    state: BaitState
    start: Quantity
    shrinks: Quantity
    holds: Quantity
    scale: Quantity
    slope: Quantity


def _run(tray: _Tray, air: tuple[Quantity, ...], unknowns: Unknowns) -> Quantity:
    paste = moist_paste(
        diffusivity=bait_diffusivity(
            table=unknowns.default("moisture_diffusivity"), factor=unknowns.factor("drying")
        ),
        activation=unknowns.drawn_default("moisture_activation"),
        crust=unknowns.default("crust"),
        holds=tray.holds,
        scale=tray.scale,
    )
    ball = moist_ball(state=tray.start, shrinkage=tray.shrinks)
    stretch = {f"stretch_{at}": one for at, one in enumerate(air, start=1)}
    return drying_run(ball=ball, paste=paste, **stretch)


def _ready(tray: _Tray, run: Quantity, mark: ReadyMark | None, *, unknowns: Unknowns) -> Quantity:
    """When the baits are ready by the maker's mark, or by the usual one."""
    if mark is None:
        return ready_time(run=run, start=tray.start, wanted=unknowns.default("ready_loss"))
    stated = [mark.loss, mark.water_activity, mark.time]
    if sum(value is not None for value in stated) != 1:
        raise InputError("room.ready", mark, "one mark: weight lost, water activity, or a time")
    if mark.time is not None:
        within("room.ready", mark.time, low=1800.0, high=HORIZON, unit="s")
        return given("ready_by_clock", mark.time, label="ready", unit=HOURS)
    if mark.loss is not None:
        within("room.ready", mark.loss, low=0.01, high=0.4)
        wanted = unknowns.stated("ready_loss", mark.loss)
        return ready_time(run=run, start=tray.start, wanted=wanted)
    activity = float(within("room.ready", mark.water_activity or 0.0, low=0.3, high=0.97))
    wanted = given("ready_activity", activity, label="water activity wanted")
    return ready_by_activity(
        run=run, start=tray.start, holds=tray.holds, scale=tray.scale, wanted=wanted
    )


def _least(room: Room, unknowns: Unknowns) -> Quantity:
    """Overnight in a room by the usual mark; a dryer or the maker's own mark asks for no more."""
    dryers = [room.dryer, *(later.dryer for later in room.then)]
    if room.ready is None and all(dryer is None for dryer in dryers):
        return unknowns.default("least_tray_time")
    return given("no_least_time", 0.0, label="no least time", unit=HOURS, backing=IDENTITY)


def _after(tray: _Tray, lost: Quantity, *, time: float) -> tuple[DryingPoint, BaitState]:
    """The bait after water has left, with its water account closed, and what is told of it."""
    state, start = tray.state, tray.start
    water = water_left(water=state.water, lost=lost)
    entry = {
        "before": unwrap(state.water.value),
        "after": unwrap(water.value),
        "gone": unwrap(lost.value),
    }
    bait = replace(
        state,
        diameter=dried_diameter(
            diameter=state.diameter, lost=lost, shrinkage=tray.shrinks, air=state.air
        ),
        water=water,
        air=air_gained(air=state.air, lost=lost, shrinkage=tray.shrinks),
        ledger=state.ledger.with_entry("dry", "water", **entry),
    )
    mass = bait.mass
    point = DryingPoint(
        time=time,
        loss=loss_share(lost=lost, start=start),
        mass=mass,
        diameter=bait.diameter,
        density=dried_density(mass=mass, diameter=bait.diameter),
        activity=bait_activity(start=start, water=water, holds=tray.holds, scale=tray.scale),
        hardness=hardness_index(start=start, water=water, slope=tray.slope),
    )
    return point, bait
