"""In the pot: how long until the coldest paste has set, and what is lost meanwhile."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from baitwright.batch.advice import Margin, margin_for, pot_seconds, set_share
from baitwright.batch.carry_over import (
    CoreSet,
    carried_over,
    coldest_peak,
    coldest_when_lifted,
    cooling_on,
    core_set,
    middle_run,
    spore_minutes,
)
from baitwright.batch.front import per_ball, set_front
from baitwright.batch.leach import leached, pot_loss
from baitwright.batch.ledger import Ledger
from baitwright.batch.pot import pot_boils
from baitwright.batch.setting import BindingProtein, binding_protein
from baitwright.batch.state import BaitState
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.cores import Core as CoreRow
from baitwright.materials.cores import core as core_row
from baitwright.materials.defaults import hardness
from baitwright.materials.fillers import Filler as FillerRow
from baitwright.physics import food
from baitwright.physics.lethality import log_reduction
from baitwright.physics.protein_set import albumen_rate, set_extent, time_to_reach
from baitwright.physics.radial import Ball, Bath, HeatRun, Layer, Leg, heat
from baitwright.recipe.bench import Bench
from baitwright.recipe.model import Core, Hardness, Recipe
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given, unwrap
from baitwright.terms.units import CELSIUS, PERCENT, SECONDS

_STEPS = 240
"""Time steps of a run; halving them moves the seconds by less than 0.2 s."""
_REACH = 0.45
"""Runs last this many R^2/diffusivity: a solid ball's centre sets well before."""
_WORKING = 333.15
"""Properties are taken at 60 C, the middle of the way (variable ones move the time by 2 %), K."""


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
    longest = _REACH * float(np.max(np.square(ball.outer_radius) / diffusivity))
    film = per_ball(film, ball)
    leg = Leg(longest, pot, film)
    return heat(ball, [leg], start=start, step=longest / _STEPS)


@dataclass(frozen=True, slots=True)
class Setting:
    """Egg white set in the coldest paste of each bait as time goes on."""

    times: Any
    extent: Any


@declared(
    "setting",
    label="egg white setting in the coldest paste",
    equation="1 - exp(-integral of k dt), k held from 90 C up",
    source="di-lorenzo-2025",
    note="constants are for intact egg; in stiff paste set comes later, by about 5 K",
)
def setting(run: HeatRun) -> Setting:
    """How the coldest paste sets."""
    return Setting(run.times, set_extent(run.times, run.innermost_shell, albumen_rate))


@declared(
    "model_seconds",
    label="coldest paste has set, by the heat model",
    unit=SECONDS,
    equation="first time the egg white's set reaches what is wanted",
    source="di-lorenzo-2025",
)
def model_seconds(setting: Setting, wanted: Any, diameter: Any) -> Any:
    """Seconds in the pot until the coldest paste point has set; never is infinite."""
    seconds = time_to_reach(setting.times, setting.extent, wanted)
    return np.where(np.isnan(seconds), np.inf, seconds).reshape(np.shape(diameter))


@declared(
    "set_seconds",
    label="coldest paste has set",
    unit=SECONDS,
    equation="time by the heat model x factor",
    source="di-lorenzo-2025",
)
def set_seconds(model: Any, factor: Any) -> Any:
    """Seconds in the pot until the coldest paste point has set, in the maker's kitchen."""
    return model * factor


@declared(
    "followed",
    label="the pot was followed for",
    unit=SECONDS,
    equation="0.45 R^2 / diffusivity of the largest bait",
    source="judgement",
)
def followed(setting: Setting) -> float:
    """How long the heat model looked."""
    return float(setting.times[-1])


@declared(
    "log_reduction",
    label="salmonella of wet egg in the coldest paste: powers of ten fewer",
    equation="integral of dt / D(T) up to boil / factor, D held from 70 C up",
    source="doyle-mazzotta-2000",
    note="information beside the set; for wet egg, not for dry dust on the crust",
)
def decades(run: HeatRun, seconds: Any, factor: Any, diameter: Any) -> Any:
    """Decades by which Salmonella in wet egg fall at the coldest paste point in the pot."""
    fallen = log_reduction(run.times, run.innermost_shell)
    when = np.broadcast_to(seconds / factor, np.shape(diameter)).ravel()
    after = np.clip(np.searchsorted(run.times, when), 1, run.times.size - 1)
    before, bait = after - 1, np.arange(when.size)
    part = (when - run.times[before]) / (run.times[after] - run.times[before])
    part = np.clip(part, 0.0, 1.0)
    reached = (1.0 - part) * fallen[before, bait] + part * fallen[after, bait]
    return reached.reshape(np.shape(diameter))


@declared(
    "dips_to",
    label="the water dips to, with a basket in it",
    unit=CELSIUS,
    equation="coldest water of the run, in the middle of the draws",
    source="incropera-dewitt",
)
def dips_to(run: HeatRun) -> float:
    """How far one basket of baits cools the pot."""
    return float(np.median(np.min(run.surroundings, axis=0)))


@dataclass(frozen=True, slots=True)
class HardnessOption:
    """One hardness: its seconds and what they cost in attractor."""

    hardness: Hardness
    seconds: Quantity
    loss: Quantity


@dataclass(frozen=True, slots=True)
class BoilStage:
    """The boil: seconds, what sets when, what it costs, and the bait afterwards.

    ``lifted`` and ``cooled`` tell how far the coldest paste of the middle bait has set when it
    leaves the pot and when its carry-over is done.
    """

    boiling_point: Quantity
    dips_to: Quantity
    set_seconds: Quantity
    seconds: Quantity
    margin: Margin
    set_share: Quantity
    loss: Quantity
    when_lifted: Quantity
    peak: Quantity
    lifted: CoreSet
    cooled: CoreSet
    decades: Quantity
    spores: Quantity
    front: Quantity
    options: tuple[HardnessOption, ...]
    protein: BindingProtein | None
    bait: BaitState


@dataclass(frozen=True, slots=True)
class HotPot:
    """Baits in the pot as the heat model sees them."""

    ball: Quantity
    bath: Quantity
    film: Quantity
    start: Quantity


def boil(state: BaitState, recipe: Recipe, *, bench: Bench, unknowns: Unknowns) -> BoilStage:
    """Boil a tray of baits to the hardness wanted.

    Raises
    ------
    InputError: a pot that cannot be.
    """
    boiling = pot_boils(bench, unknowns=unknowns)
    pot = hot_pot(_ball(state, recipe.bait.core), boiling, bench=bench, unknowns=unknowns)
    run = heat_run(ball=pot.ball, pot=pot.bath, film=pot.film, start=pot.start)
    sets = setting(run=run)
    options = {choice: _option(choice, sets, state, unknowns=unknowns) for choice in Hardness}
    chosen = options[recipe.bait.hardness]
    seconds = chosen.option.seconds
    middle = middle_run(
        ball=pot.ball,
        pot=pot.bath,
        film=pot.film,
        start=pot.start,
        seconds=seconds,
        cooling=cooling_on(bench, unknowns=unknowns),
    )
    factor = unknowns.factor("cook")
    bait = leached(state, chosen.option.loss)
    return BoilStage(
        boiling_point=boiling,
        dips_to=dips_to(run=run),
        set_seconds=chosen.set_seconds,
        seconds=seconds,
        margin=margin_for(chosen.set_seconds, chosen.model_seconds, factor),
        set_share=set_share(set_seconds=chosen.set_seconds, seconds=seconds),
        loss=chosen.option.loss,
        when_lifted=coldest_when_lifted(run=middle, seconds=seconds),
        peak=coldest_peak(run=middle),
        lifted=core_set(middle, seconds),
        cooled=core_set(middle, carried_over(run=middle)),
        decades=decades(run=run, seconds=seconds, factor=factor, diameter=state.diameter),
        spores=spore_minutes(run=middle),
        front=set_front(run=middle, seconds=seconds),
        options=tuple(choice.option for choice in options.values()),
        protein=binding_protein(recipe),
        bait=replace(bait, ledger=_with_heat(bait.ledger, run.value)),
    )


def hot_pot(ball: Quantity, boiling: Quantity, *, bench: Bench, unknowns: Unknowns) -> HotPot:
    """The pot on the bench with these baits going into it."""
    pot = bench.pot
    bath = pot_bath(
        water_volume=unknowns.stated("pot_volume", pot.water_volume),
        net_power=unknowns.stated("pot_power", pot.net_power),
        basket=unknowns.stated("basket", None if pot.basket is None else float(pot.basket)),
        boiling=boiling,
    )
    film = unknowns.drawn_default("surface_coefficient")
    start = unknowns.stated("paste_temperature", bench.start_temperature)
    return HotPot(ball, bath, film, start)


def _ball(state: BaitState, core: Core | None) -> Quantity:
    return bait_ball(
        diameter=state.diameter,
        core_diameter=state.core_diameter,
        paste=paste_layer(state),
        core=core_layer(core if state.corks is None else None),
    )


def paste_layer(state: BaitState) -> Quantity:
    """How the paste conducts and holds heat, by its composition and what lies in it.

    Light grains and a few small cores are spread through it as small balls (Maxwell-Eucken); what
    they hold of heat adds up.
    """
    air = air_share(state)
    make_up = state.make_up
    layer = Layer(
        conductivity=float(food.conductivity(make_up, _WORKING, air_fraction=air)),
        density=float(food.density(make_up, _WORKING, air_fraction=air)),
        heat_capacity=float(food.heat_capacity(make_up, _WORKING)),
    )
    room = _paste_room(state)
    for one in state.inclusions:
        volume = _values(one.volume)
        room = room + volume
        layer = _spread(layer, _layer(one.material), share=float(np.median(volume / room)))
    return _record(
        "paste_layer", layer, label="paste: how it takes up heat", source="choi-okos-1986"
    )


def _spread(paste: Layer, grains: Layer, *, share: float) -> Layer:
    """Paste with grains in a share of its room."""
    parts = ((1.0 - share, paste), (share, grains))
    density = sum(room * float(part.density) for room, part in parts)
    capacity = sum(room * float(part.density) * float(part.heat_capacity) for room, part in parts)
    held = food.maxwell_eucken(paste.conductivity, grains.conductivity, fraction=share)
    return Layer(float(held), density, capacity / density)


def air_share(state: BaitState) -> float:
    """Share of the paste's room that is air, at its middle."""
    return float(np.median(_values(state.air) / _paste_room(state)))


def _paste_room(state: BaitState) -> Any:
    """Room of the paste alone [m3]."""
    shell = np.pi / 6.0 * (_values(state.diameter) ** 3 - _values(state.core_diameter) ** 3)
    return shell - sum(_values(one.volume) for one in state.inclusions)


def _values(quantity: Quantity) -> Any:
    return np.asarray(unwrap(quantity.value))


def core_layer(core: Core | None) -> Quantity:
    """How the core conducts and holds heat."""
    row = None if core is None else core_row(core.material)
    if row is None:
        return _record("core_layer", None, label="no core", source="definition")
    layer = _layer(row)
    label = f"{row.name}: how it takes up heat"
    return _record("core_layer", layer, label=label, source=row.source)


def _layer(row: CoreRow | FillerRow) -> Layer:
    return Layer(row.conductivity, row.density, row.heat_capacity)


def _record(name: str, value: Any, *, label: str, source: str) -> Quantity:
    return given(name, value, label=label, backing=Backing(Origin.TABLE, source, Evidence.READ))


@dataclass(frozen=True, slots=True)
class _Choice:
    option: HardnessOption
    model_seconds: Quantity
    set_seconds: Quantity


def _option(choice: Hardness, sets: Quantity, state: BaitState, *, unknowns: Unknowns) -> _Choice:
    row = hardness(choice.value)
    wanted = given("set_wanted", row.extent, label="set wanted in the coldest paste", unit=PERCENT)
    hold = given("hold", row.hold, label="hold after that", unit=SECONDS)
    model = model_seconds(setting=sets, wanted=wanted, diameter=state.diameter)
    until = set_seconds(model=model, factor=unknowns.factor("cook"))
    seconds = pot_seconds(followed=followed(setting=sets), set_seconds=until, hold=hold)
    loss = pot_loss(
        diffusivity=unknowns.drawn_default("hot_diffusivity"),
        diameter=state.diameter,
        core_diameter=state.core_diameter,
        seconds=seconds,
    )
    return _Choice(HardnessOption(choice, seconds, loss), model, until)


def _with_heat(ledger: Ledger, run: HeatRun) -> Ledger:
    """Heat that crossed the surface against heat stored, from the start of the run to its end."""
    before = run.capacities.sum(axis=0) * run.shell_mean[0]
    after = (run.capacities * run.profile).sum(axis=0)
    return ledger.with_entry("boil", "heat", before=before, after=after, gone=-run.heat_in[-1])
