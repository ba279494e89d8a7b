"""After the pot: the middle bait lifted out, its carry-over or quench, and how far it has set."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.unknowns import Unknowns
from baitwright.physics.lethality import spore_time
from baitwright.physics.protein_set import (
    albumen_rate,
    set_extent,
    starch_extent,
    whey_rate,
    yolk_rate,
)
from baitwright.physics.radial import Ball, Bath, HeatRun, Leg, heat
from baitwright.recipe.bench import Bench, Quench
from baitwright.terms.quantity import Quantity, declared
from baitwright.terms.units import CELSIUS, MINUTES, PERCENT, SECONDS

_CARRY_OVER = 0.36
"""R^2/diffusivity watched after lifting out, 2 to 4 min; the centre peaks in a third of it."""
_STEPS = 120
"""Time steps in the pot, and as many after it; halving them moves the peak by less than 0.1 K."""


@dataclass(frozen=True, slots=True)
class Cooling:
    """What takes the heat out again: its temperature [K] and film coefficient [W/m2/K]."""

    temperature: float
    coefficient: float


@declared(
    "cooling",
    label="what the baits are lifted into",
    equation="its temperature and how it takes up heat",
    source="definition",
)
def cooling(temperature: Any, coefficient: Any) -> Cooling:
    """The surroundings after the pot."""
    return Cooling(temperature, coefficient)


@declared(
    "middle_run",
    label="the middle bait, into the pot and out again",
    equation="the same conduction, the advised time in the pot, then 0.36 R^2/diffusivity in air "
    "or cold water",
    source="crank-1975",
)
def middle_run(
    ball: Ball, pot: Bath, film: Any, start: Any, seconds: Any, cooling: Cooling
) -> HeatRun:
    """The middle bait through the pot and what comes after, with all its profiles."""
    radius, core_radius = float(np.median(ball.outer_radius)), float(np.median(ball.core_radius))
    middle = Ball(np.array([radius]), np.array([core_radius]), ball.shell, ball.core)
    shell = ball.shell
    diffusivity = shell.conductivity / (shell.density * shell.heat_capacity)
    after = _CARRY_OVER * radius**2 / float(diffusivity)
    legs = [
        Leg(seconds, pot, float(np.median(film)), step=seconds / _STEPS),
        Leg(after, cooling.temperature, cooling.coefficient, step=after / _STEPS),
    ]
    return heat(middle, legs, start=start, keep_profiles=True)


def cooling_on(bench: Bench, *, unknowns: Unknowns) -> Quantity:
    """What the baits are lifted into: air, or the quench on the bench."""
    match bench.pot.quench:
        case None:
            film = unknowns.default("air_coefficient")
            room = unknowns.stated("room_temperature", bench.room.temperature)
            return cooling(temperature=room, coefficient=film)
        case Quench.COLD_WATER:
            bowl = unknowns.default("cold_water")
        case Quench.ICE_WATER:
            bowl = unknowns.default("ice_water")
    return cooling(temperature=bowl, coefficient=unknowns.default("quench_coefficient"))


@declared(
    "coldest_when_lifted",
    label="coldest paste when lifted out",
    unit=CELSIUS,
    equation="temperature at the core's wall, or the centre, at the advised time",
    source="crank-1975",
)
def coldest_when_lifted(run: HeatRun, seconds: Any) -> Any:
    """Temperature of the coldest paste at the end of the boil."""
    return float(np.interp(seconds, run.times, run.innermost_shell[:, 0]))


@declared(
    "coldest_peak",
    label="coldest paste at its hottest, carried over",
    unit=CELSIUS,
    equation="highest temperature at the core's wall, or the centre, in the pot and after it",
    source="crank-1975",
)
def coldest_peak(run: HeatRun) -> Any:
    """Peak of the coldest paste after lifting out."""
    return float(np.max(run.innermost_shell))


@declared(
    "carried_over",
    label="carry-over is over",
    unit=SECONDS,
    equation="the end of the run of the middle bait",
    source="judgement",
)
def carried_over(run: HeatRun) -> float:
    """When nothing more sets."""
    return float(run.times[-1])


@declared(
    "albumen_set",
    label="egg white set",
    unit=PERCENT,
    equation="1 - exp(-integral of k dt) in the coldest paste, k held from 90 C up",
    source="di-lorenzo-2025",
    note="this one decides the seconds",
)
def albumen_set(run: HeatRun, until: Any) -> Any:
    """Egg white set in the coldest paste."""
    return _until(run, set_extent(run.times, run.innermost_shell, albumen_rate), until)


@declared(
    "yolk_set",
    label="egg yolk set",
    unit=PERCENT,
    equation="1 - exp(-integral of k dt) in the coldest paste, k held from 90 C up",
    source="di-lorenzo-2025",
    note="information: it sets before the white",
)
def yolk_set(run: HeatRun, until: Any) -> Any:
    """Egg yolk set in the coldest paste."""
    return _until(run, set_extent(run.times, run.innermost_shell, yolk_rate), until)


@declared(
    "whey_set",
    label="whey protein set, where there is any",
    unit=PERCENT,
    equation="1 - (1 + integral of k dt / 2)^-2 in the coldest paste, k held from 90 C up",
    source="lyster-1970",
    note="information: by beta-lactoglobulin in milk; a paste is drier",
)
def whey_set(run: HeatRun, until: Any) -> Any:
    """Whey protein set in the coldest paste."""
    extent = set_extent(run.times, run.innermost_shell, whey_rate, order=1.5)
    return _until(run, extent, until)


@declared(
    "starch_set",
    label="starch swollen",
    unit=PERCENT,
    equation="a logistic curve from 60 to 95 C at the hottest the coldest paste has been",
    source="judgement",
    note="information: with so little water it swells in part only",
)
def starch_set(run: HeatRun, until: Any) -> Any:
    """Starch swollen in the coldest paste."""
    hottest = np.maximum.accumulate(run.innermost_shell, axis=0)
    return _until(run, np.asarray(starch_extent(hottest)), until)


def _until(run: HeatRun, extent: Any, until: Any) -> float:
    return float(np.interp(until, run.times, extent[:, 0]))


@dataclass(frozen=True, slots=True)
class CoreSet:
    """How far the coldest paste has set: egg white decides, the others are information."""

    albumen: Quantity
    yolk: Quantity
    whey: Quantity
    starch: Quantity


def core_set(run: Quantity, until: Quantity) -> CoreSet:
    """How far the coldest paste of the middle bait has set by then."""
    return CoreSet(
        albumen=albumen_set(run=run, until=until),
        yolk=yolk_set(run=run, until=until),
        whey=whey_set(run=run, until=until),
        starch=starch_set(run=run, until=until),
    )


@declared(
    "spore_minutes",
    label="heat on spores, as minutes at 90 °C in the coldest paste",
    unit=MINUTES,
    equation="integral of 10^((T - 90 C) / z) dt, z = 9 K below 90 C and 10 K above",
    source="fsa-vacuum-packing",
    note="held against ten minutes; where egg white is, even those may not do (wachnicka-2016)",
)
def spore_minutes(run: HeatRun) -> Any:
    """What boil and carry-over do to spores."""
    return float(spore_time(run.times, run.innermost_shell)[-1, 0])
