"""Water leaving baits hour after hour, and what a bait is after so much of it has gone."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.state import BaitState
from baitwright.batch.tray_air import HORIZON, Stretch
from baitwright.physics.diffusion import moisture_diffusivity
from baitwright.physics.limits import Array
from baitwright.physics.radial import AirLeg, MoistBall, MoistureLaws, MoistureRun
from baitwright.physics.radial import dry as drying
from baitwright.physics.sorption_blend import Blend
from baitwright.physics.water import latent_heat, saturation_pressure
from baitwright.terms.quantity import Quantity, declared
from baitwright.terms.units import (
    DIFFUSIVITY,
    GRAMS,
    GRAMS_PER_MILLILITRE,
    MILLILITRES,
    MILLIMETRES,
    PERCENT,
)

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


def as_moist(state: BaitState) -> Quantity:
    """A bait for the moisture model."""
    return bait_as_moist(
        diameter=state.diameter,
        core_diameter=state.core_diameter,
        solids=state.solids,
        liquids=state.solute_mass,
        water=state.water,
        air=state.air,
    )


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


@dataclass(frozen=True, slots=True)
class MoistPaste:
    """How water moves in the paste and how firmly it is held: the laws of drying, draw by draw."""

    diffusivity: Any
    activation: Any
    crust: Any
    holds: Blend
    scale: Any


@declared(
    "moist_paste",
    label="how water moves in the paste and is held by it",
    equation="D(T, X) = D20 exp(-E/R (1/T - 1/293 K)) exp(crust (X - X0)); aw(X / scale)",
    source="litchfield-okos-1992",
    note="the crust, a skin that slows water as it dries, is left out until baits show one",
)
def moist_paste(
    diffusivity: Any, activation: Any, crust: Any, holds: Blend, scale: Any
) -> MoistPaste:
    """The laws water follows in the bait."""
    return MoistPaste(diffusivity, activation, crust, holds, scale)


@declared(
    "drying_run",
    label="water leaving the bait",
    equation="diffusion in shrinking shells, evaporation balanced against heat from the air",
    source="crank-1975",
)
def drying_run(ball: MoistBall, paste: MoistPaste, **stretches: Any) -> MoistureRun:
    """Four days on the tray."""
    return _on_the_tray(ball, paste, list(stretches.values()), until=HORIZON)


def _on_the_tray(
    ball: MoistBall, paste: MoistPaste, tray: list[Stretch], *, until: float
) -> MoistureRun:
    count = np.asarray(ball.outer_radius).size
    ends = [*(later.start for later in tray[1:]), until]
    legs = [
        AirLeg(
            min(end, until) - one.start,
            one.air.temperature,
            one.air.relative_humidity,
            each(one.film.mass, count),
            each(one.film.heat, count),
        )
        for one, end in zip(tray, ends, strict=True)
        if one.start < until
    ]
    warmth = float(np.mean([one.air.temperature for one in tray]))
    return drying(ball, legs, laws=_laws(paste, ball, float(latent_heat(warmth))))


@declared(
    "leaving_run",
    label="water leaving the bait, up to when it leaves the tray",
    equation="the same diffusion, for the time on the tray only",
    source="crank-1975",
)
def leaving_run(ball: MoistBall, paste: MoistPaste, until: Any, **stretches: Any) -> MoistureRun:
    """The tray up to when the baits are taken off it, with their shells as they are then."""
    return _on_the_tray(ball, paste, list(stretches.values()), until=until)


def each(value: Any, count: int) -> Array:
    """A number of the batch as one to each bait imagined, batch after batch."""
    values = np.atleast_2d(value)
    return np.repeat(values.ravel(), count // values.size)


def _laws(paste: MoistPaste, ball: MoistBall, heat: float) -> MoistureLaws:
    count = np.asarray(ball.outer_radius).size
    at_20, activation, scale = (
        each(value, count) for value in (paste.diffusivity, paste.activation, paste.scale)
    )
    start, crust = np.asarray(ball.water_content), paste.crust

    def diffusivity(kelvin: Array, content: Array) -> Array:
        moves = moisture_diffusivity(kelvin, at_20C=at_20, activation=activation)
        return np.asarray(moves * np.exp(crust * (content - start)) if crust else moves)

    return MoistureLaws(
        diffusivity=diffusivity,
        # A dry skin may overshoot by a rounding or a step: without water it gives none off.
        water_activity=lambda content: paste.holds.water_activity(np.maximum(content, 0.0) / scale),
        saturation_pressure=saturation_pressure,
        latent_heat=heat,
    )


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
    note="water taken up in damp air swells the bait once it has no air left to fill",
)
def dried_diameter(diameter: Any, lost: Any, shrinkage: Any, air: Any) -> Any:
    """Diameter after water has left."""
    closed = np.minimum(shrinkage * lost / _WATER, air + lost / _WATER)
    return np.cbrt(diameter**3 - 6.0 / np.pi * closed)


@declared(
    "air_gained",
    label="air in the bait, dried",
    unit=MILLILITRES,
    equation="air + (1 - chi) lost / water density, nothing at least",
    source="definition",
)
def air_gained(air: Any, lost: Any, shrinkage: Any) -> Any:
    """Air in the bait after water has left."""
    return np.maximum(air + (1.0 - shrinkage) * lost / _WATER, 0.0)


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


@declared(
    "dried_density",
    label="density of the whole bait",
    unit=GRAMS_PER_MILLILITRE,
    equation="density = mass / (pi D^3 / 6)",
    source="definition",
)
def dried_density(mass: Any, diameter: Any) -> Any:
    """Core, paste and air together."""
    return mass / (np.pi / 6.0 * diameter**3)


@declared(
    "bait_activity",
    label="water activity, evened out",
    equation="aw = isotherm(water / (solids + liquids) / scale)",
    source="foster-2005",
    note="of the whole bait, as it settles in a closed bag; the skin is drier until then",
)
def bait_activity(start: BaitAsMoist, water: Any, holds: Blend, scale: Any) -> Any:
    """Water activity of a bait once its water has spread evenly."""
    return holds.water_activity(np.maximum(water, 0.0) / start.solids / scale)


@declared(
    "hardness_index",
    label="hardness beside the fresh bait's",
    equation="index = exp(slope x (X0 - X)), X water over dry matter",
    source="judgement",
    note="a judged index, 1 as boiled; no measurement behind it",
)
def hardness_index(start: BaitAsMoist, water: Any, slope: Any) -> Any:
    """How many times as hard as boiled."""
    return np.exp(slope * (start.water - water) / start.solids)
