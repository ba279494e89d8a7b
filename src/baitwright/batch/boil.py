"""In the pot: how long until the coldest paste has set, and what is lost meanwhile."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from baitwright.batch.carry_over import coldest_peak, coldest_when_lifted, middle_run, set_front
from baitwright.batch.ledger import Ledger
from baitwright.batch.state import BaitState, Solute
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.cores import core as core_row
from baitwright.materials.defaults import hardness
from baitwright.materials.liquids import carrier
from baitwright.physics import food, water
from baitwright.physics.protein_set import albumen_rate, set_extent, time_to_reach
from baitwright.physics.radial import Ball, Bath, HeatRun, Layer, Leg, heat
from baitwright.recipe.bench import Bench
from baitwright.recipe.model import Core, Hardness, WantedBait
from baitwright.terms.quantity import (
    Backing,
    Evidence,
    Origin,
    Quantity,
    declared,
    given,
    tabled,
    unwrap,
)
from baitwright.terms.units import CELSIUS, GRAMS, PERCENT, SECONDS
from baitwright.uncertainty.bands import quantiles

_TIMER_STEP = 5.0
"""A kitchen timer is set in steps of 5 s."""
_STEPS = 240
"""Time steps of a run; halving them moves the seconds by less than 0.2 s."""
_REACH = 0.45
"""Runs last this many R^2/diffusivity: a solid ball's centre sets well before."""
_WORKING = 333.15
"""Properties are taken at 60 C, the middle of the way (variable ones move the time by 2 %), K."""


@declared(
    "boiling_point",
    label="the pot boils at",
    unit=CELSIUS,
    equation="saturation temperature at the standard pressure of this altitude",
    source="iapws-if97",
)
def boiling_point(altitude: Any) -> Any:
    """Where water boils at an altitude; weather moves it by 0.8 K."""
    return water.saturation_temperature(water.standard_pressure(altitude))


@declared(
    "bait_ball",
    label="the bait as two layers",
    equation="paste by its composition at 60 C round a core",
    source="choi-okos-1986",
)
def bait_ball(diameter: Any, core_diameter: Any, paste: Layer, core: Layer | None) -> Ball:
    """The bait for the heat model."""
    outer, inner = np.broadcast_arrays(np.atleast_2d(diameter), core_diameter)
    return Ball(0.5 * outer.ravel(), 0.5 * inner.ravel(), paste, core)


@declared(
    "pot_bath",
    label="the pot as a bath",
    equation="m c dT/dt = P - baits x heat into one, never above boiling",
    source="incropera-dewitt",
)
def pot_bath(water_volume: Any, net_power: Any, basket: Any, boiling: Any) -> Bath:
    """The pot for the heat model; the load is one basket."""
    mass = water_volume * _HOT_WATER_DENSITY
    return Bath(mass * _HOT_WATER_HEAT, net_power, boiling, basket)


_HOT_WATER_DENSITY = 958.4
"""kg/m3 at 100 C (iapws-95)."""
_HOT_WATER_HEAT = 4216.0
"""J/kg/K at 100 C (iapws-95)."""


@declared(
    "heat_run",
    label="heat into the bait",
    equation="conduction in two layers with a surface film, second order in space and time",
    source="crank-1975",
)
def heat_run(ball: Ball, pot: Bath, film: Any, start: Any) -> HeatRun:
    """The bait in the boiling pot, long enough to set."""
    shell = ball.shell
    diffusivity = shell.conductivity / (shell.density * shell.heat_capacity)
    longest = _REACH * float(np.max(ball.outer_radius)) ** 2 / float(np.min(diffusivity))
    film = _per_ball(film, ball)
    leg = Leg(longest, pot, film)
    return heat(ball, [leg], start=start, step=longest / _STEPS)


def _per_ball(values: Any, ball: Ball) -> Any:
    """Draws per batch, once for each bait of the batch."""
    bare = np.asarray(values)
    if bare.ndim == 0:
        return float(bare)
    count = np.asarray(ball.outer_radius).size
    return np.repeat(bare.ravel(), count // bare.size) if bare.size < count else bare.ravel()


@declared(
    "set_seconds",
    label="coldest paste has set",
    unit=SECONDS,
    equation="first time the albumen's set reaches what is wanted x factor",
    source="di-lorenzo-2025",
    note="constants are for intact egg; in stiff paste set comes later, by about 5 K",
)
def set_seconds(run: HeatRun, wanted: Any, factor: Any) -> Any:
    """Seconds in the pot until the coldest paste point has set."""
    extent = set_extent(run.times, run.innermost_shell, albumen_rate)
    seconds = time_to_reach(run.times, extent, wanted)
    batches = np.asarray(factor).shape[0]
    return np.where(np.isnan(seconds), np.inf, seconds).reshape(batches, -1) * factor


@declared(
    "pot_seconds",
    label="boil",
    unit=SECONDS,
    equation="the time by which 9 baits in 10 have set, plus the hold, up to the next 5 s; where "
    "they do not set, as long as the run was followed",
    source="judgement",
    note="measure by cutting one open; a set centre earlier or later teaches your cook factor",
)
def pot_seconds(run: HeatRun, set_seconds: Any, hold: Any) -> float:
    """What to set the timer to."""
    enough = quantiles(np.ravel(set_seconds), (0.9,))[0] + hold
    followed = min(enough, float(run.times[-1]))
    return float(_TIMER_STEP * np.ceil(followed / _TIMER_STEP - 1e-9))


@declared(
    "set_share",
    label="baits set through when lifted out",
    unit=PERCENT,
    equation="share of draws whose coldest paste has set by then",
    source="definition",
)
def set_share(set_seconds: Any, seconds: Any) -> float:
    """The share of baits set at the advised time."""
    return float(np.mean(np.asarray(set_seconds) <= seconds))


@declared(
    "pot_loss",
    label="soluble attractor lost to the pot",
    unit=PERCENT,
    equation="loss = (S/V) 2 sqrt(D t / pi), S/V = 6 D^2/(D^3 - d^3)",
    source="crank-1975",
    note="short-time form, right within a tenth up to a loss of 30 %; D is a guess within 2.5x",
)
def pot_loss(diffusivity: Any, diameter: Any, core_diameter: Any, seconds: Any) -> Any:
    """Share of what dissolves that leaves in the pot."""
    surface = 6.0 * diameter**2 / (diameter**3 - core_diameter**3)
    return surface * 2.0 * np.sqrt(diffusivity * seconds / np.pi)


@declared(
    "liquid_left",
    label="liquid left after boiling",
    unit=GRAMS,
    equation="left = mass (1 - loss x solubility)",
    source="definition",
)
def liquid_left(mass: Any, loss: Any, solubility: Any) -> Any:
    """What one bait keeps of a liquid."""
    return mass * (1.0 - loss * solubility)


@dataclass(frozen=True, slots=True)
class HardnessOption:
    """One hardness: its seconds and what they cost in attractor."""

    hardness: Hardness
    seconds: Quantity
    loss: Quantity


@dataclass(frozen=True, slots=True)
class BoilStage:
    """The boil: seconds, what sets when, what it costs, and the bait afterwards."""

    boiling_point: Quantity
    set_seconds: Quantity
    seconds: Quantity
    set_share: Quantity
    loss: Quantity
    when_lifted: Quantity
    peak: Quantity
    front: Quantity
    options: tuple[HardnessOption, ...]
    bait: BaitState


@dataclass(frozen=True, slots=True)
class _Pot:
    """The bait in the pot as the heat model sees it."""

    ball: Quantity
    bath: Quantity
    film: Quantity
    start: Quantity
    run: Quantity


def boil(state: BaitState, wanted: WantedBait, *, bench: Bench, unknowns: Unknowns) -> BoilStage:
    """Boil a tray of baits to the hardness wanted."""
    boiling = boiling_point(altitude=unknowns.stated("altitude", bench.altitude))
    pot = _heat_up(state, wanted.core, boiling, bench=bench, unknowns=unknowns)
    options = {choice: _option(choice, pot.run, state, unknowns=unknowns) for choice in Hardness}
    chosen = options[wanted.hardness]
    seconds = chosen.option.seconds
    middle = middle_run(
        ball=pot.ball,
        pot=pot.bath,
        film=pot.film,
        air_film=unknowns.default("air_coefficient"),
        seconds=seconds,
        start=pot.start,
    )
    return BoilStage(
        boiling_point=boiling,
        set_seconds=chosen.set_seconds,
        seconds=seconds,
        set_share=set_share(set_seconds=chosen.set_seconds, seconds=seconds),
        loss=chosen.option.loss,
        when_lifted=coldest_when_lifted(run=middle, seconds=seconds),
        peak=coldest_peak(run=middle),
        front=set_front(run=middle, seconds=seconds),
        options=tuple(choice.option for choice in options.values()),
        bait=_boiled(state, pot.run, chosen.option.loss),
    )


def _heat_up(
    state: BaitState, core: Core | None, boiling: Quantity, *, bench: Bench, unknowns: Unknowns
) -> _Pot:
    pot = bench.pot
    ball = bait_ball(
        diameter=state.diameter,
        core_diameter=state.core_diameter,
        paste=paste_layer(state),
        core=core_layer(core),
    )
    bath = pot_bath(
        water_volume=unknowns.stated("pot_volume", pot.water_volume),
        net_power=unknowns.stated("pot_power", pot.net_power),
        basket=unknowns.stated("basket", None if pot.basket is None else float(pot.basket)),
        boiling=boiling,
    )
    film = unknowns.drawn_default("surface_coefficient")
    start = unknowns.stated("paste_temperature", bench.start_temperature)
    return _Pot(ball, bath, film, start, heat_run(ball=ball, pot=bath, film=film, start=start))


def paste_layer(state: BaitState) -> Quantity:
    """How the paste conducts and holds heat, by its composition."""
    air = unwrap(_air_share(state))
    make_up = state.make_up
    layer = Layer(
        conductivity=float(food.conductivity(make_up, _WORKING, air_fraction=air)),
        density=float(food.density(make_up, _WORKING, air_fraction=air)),
        heat_capacity=float(food.heat_capacity(make_up, _WORKING)),
    )
    return _record(
        "paste_layer", layer, label="paste: how it takes up heat", source="choi-okos-1986"
    )


def _air_share(state: BaitState) -> float:
    air, shell = unwrap(state.air.value), state.diameter.value
    volume = np.pi / 6.0 * (unwrap(shell) ** 3 - unwrap(state.core_diameter.value) ** 3)
    return float(np.median(np.asarray(air) / volume))


def core_layer(core: Core | None) -> Quantity:
    """How the core conducts and holds heat."""
    row = None if core is None else core_row(core.material)
    if row is None:
        return _record("core_layer", None, label="no core", source="definition")
    layer = Layer(row.conductivity, row.density, row.heat_capacity)
    label = f"{row.name}: how it takes up heat"
    return _record("core_layer", layer, label=label, source=row.source)


def _record(name: str, value: Any, *, label: str, source: str) -> Quantity:
    return given(name, value, label=label, backing=Backing(Origin.TABLE, source, Evidence.READ))


@dataclass(frozen=True, slots=True)
class _Choice:
    option: HardnessOption
    set_seconds: Quantity


def _option(choice: Hardness, run: Quantity, state: BaitState, *, unknowns: Unknowns) -> _Choice:
    row = hardness(choice.value)
    wanted = given(
        "set_wanted",
        row.extent,
        label="set wanted in the coldest paste",
        unit=PERCENT,
        backing=tabled(row),
    )
    hold = given("hold", row.hold, label="hold after that", unit=SECONDS, backing=tabled(row))
    until = set_seconds(run=run, wanted=wanted, factor=unknowns.factor("cook"))
    seconds = pot_seconds(run=run, set_seconds=until, hold=hold)
    loss = pot_loss(
        diffusivity=unknowns.drawn_default("hot_diffusivity"),
        diameter=state.diameter,
        core_diameter=state.core_diameter,
        seconds=seconds,
    )
    return _Choice(HardnessOption(choice, seconds, loss), until)


def _boiled(state: BaitState, run: Quantity, loss: Quantity) -> BaitState:
    """The bait after the pot: less of what dissolves, and the heat account closed."""
    solutes, ledger = [], state.ledger
    for solute in state.solutes:
        row = carrier(solute.carrier)
        soluble = row.mixes_with_water
        share = given("solubility", float(soluble), label="dissolves in water", backing=tabled(row))
        left = liquid_left(mass=solute.mass, loss=loss, solubility=share)
        solutes.append(Solute(solute.name, solute.carrier, left.labelled(solute.mass.label)))
        before, after = unwrap(solute.mass.value), unwrap(left.value)
        gone = before * unwrap(loss.value) * float(soluble)
        ledger = ledger.with_entry("boil", solute.name, before=before, after=after, gone=gone)
    return replace(state, solutes=tuple(solutes), ledger=_with_heat(ledger, run.value))


def _with_heat(ledger: Ledger, run: HeatRun) -> Ledger:
    """Heat that crossed the surface against heat stored, from the start of the run to its end."""
    before = run.capacities.sum(axis=0) * run.shell_mean[0]
    after = (run.capacities * run.profile).sum(axis=0)
    return ledger.with_entry("boil", "heat", before=before, after=after, gone=-run.heat_in[-1])
