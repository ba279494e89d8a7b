"""Flavour leaving a bait in the lake: each liquid by its own carrier, size and love of fat."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from baitwright.batch.drying import BaitAsMoist, as_moist, each
from baitwright.batch.state import BaitState
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.solutes import Solute, solute
from baitwright.physics.diffusion import (
    HINDRANCE_RANGE,
    hayduk_laudie,
    mackie_meares,
    solids_volume,
)
from baitwright.physics.limits import Array
from baitwright.physics.radial import MoistureRun
from baitwright.physics.release import held_in_fat, layer_remaining, shell_remaining
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given, tabled
from baitwright.terms.units import DIFFUSIVITY, GRAMS, HOURS, MILLIMETRES, PERCENT
from baitwright.uncertainty.spreads import LogNormal, Uniform

_FAT_DENSITY = 920.0
"""kg/m3; choi-okos-1986 gives 913 to 926 from 25 to 0 C."""
_WATER = 998.2
_RECIPE = Backing(Origin.TABLE, "definition", Evidence.COMPUTED, "the middle of the paste's draws")


@dataclass(frozen=True, slots=True)
class ReleasePath:
    """The share left [1], (times, baits in one row), at the times [s] of a soak."""

    times: Array
    left: Array

    def at(self, time: float) -> Array:
        """The share left [1] of each bait at a time [s]."""
        after = int(np.clip(np.searchsorted(self.times, time), 1, self.times.size - 1))
        before = after - 1
        part = (time - self.times[before]) / (self.times[after] - self.times[before])
        return np.asarray((1.0 - part) * self.left[before] + part * self.left[after])


@declared(
    "flavour_in_water",
    label="how fast it moves in the lake's water",
    unit=DIFFUSIVITY,
    equation="D0 = 13.26e-9 / (viscosity^1.14 V^0.589), mPa s and cm3/mol",
    source="hayduk-laudie-1974",
    note="within some 15 % of measured values",
)
def flavour_in_water(molar_volume: Any, temperature: Any) -> Any:
    """Diffusivity of a flavour in much water."""
    return hayduk_laudie(molar_volume, temperature)


@declared(
    "set_hindrance",
    label="how much the set bait slows a flavour",
    equation="f = 1 / (1 + (1/f0 - 1) / factor)",
    source="judgement",
    note="your factor acts on the odds, so that nothing moves faster than in water",
)
def set_hindrance(table: Any, factor: Any) -> Any:
    """Hindrance from the table's middle and the maker's own factor."""
    return 1.0 / (1.0 + (1.0 / table - 1.0) / factor)


def hindrance(unknowns: Unknowns) -> Quantity:
    """Hindrance of flavour in the set bait, once per batch.

    Until the maker's own batches say more, any value between the two published lines is as likely
    as any other on a logarithmic scale.
    """
    if unknowns.factors.find("flavour_release").batches:
        return set_hindrance(
            table=unknowns.base("flavour_release"), factor=unknowns.factor("flavour_release")
        )
    low, high = HINDRANCE_RANGE
    logs = unknowns.draws.per_batch("flavour_release", Uniform(np.log(low), np.log(high)))
    note = (
        "0.005 by leaching from heat-set protein, 0.15 by obstruction; a bait soaked overnight and "
        "smelled against a fresh one narrows it"
    )
    return given(
        "hindrance",
        replace(logs, values=np.exp(logs.values)),
        label="how much the set bait slows a flavour",
        backing=Backing(Origin.FACTOR, "kvale-2006", Evidence.JUDGEMENT, note),
    )


@declared(
    "fat_in_bait",
    label="fat in a bait",
    unit=GRAMS,
    equation="fat = fat share of the dry paste x (solids + liquids)",
    source="definition",
)
def fat_in_bait(share: Any, solids: Any, liquids: Any) -> Any:
    """Fat of one bait, oils among its liquids included."""
    return share * (solids + liquids)


@dataclass(frozen=True, slots=True)
class Moves:
    """What a flavour meets on its way out, draw by draw: a bait that takes water up."""

    run: MoistureRun
    hindrance: Any
    rolled_content: float
    fat: Any


@declared(
    "way_out",
    label="the soaking bait as a way out",
    equation="water content over time, hindrance, fat",
    source="definition",
)
def way_out(run: MoistureRun, hindrance: Any, rolled_content: Any, fat: Any) -> Moves:
    """What every flavour of a bait meets alike."""
    return Moves(run, hindrance, rolled_content, fat)


@declared(
    "release_path",
    label="a solute leaving the bait",
    equation=(
        "exact series of the shell, its core sealed and its surface bare, at the integral of "
        "D0 f MM(X)/MM(X rolled) / (1 + K fat/water) (shell then / now)^2 dt, at most D0 t"
    ),
    source="crank-1975",
    note=(
        "f is the hindrance of the paste as set; obstruction (mackie-meares-1955) eases it as the "
        "bait takes water up, and the way out grows as it swells; a glug starts in the layer that "
        "it reached. The bait's mean water stands for that of each shell; skin wets first, so that "
        "up to 8 in 100 too much is told to be left"
    ),
)
def release_path(way: Moves, in_water: Any, partition: Any, depth: Any = None) -> ReleasePath:
    """The share left along a soak, by the bait's mean water content; of all, or of a layer."""
    run = way.run
    count = run.water.shape[1]
    inner = run.final.core_radius
    stretched = ((run.outer_radius - inner) / (run.outer_radius[0] - inner)) ** 2
    pace = _pace(way, in_water, partition, count=count) / stretched
    steps = 0.5 * (pace[1:] + pace[:-1]) * np.diff(run.times)[:, None]
    diffused = np.vstack((np.zeros(count), np.cumsum(steps, axis=0)))
    ball = {"outer_radius": run.outer_radius[0], "core_radius": inner}
    if depth is None:
        return ReleasePath(run.times, shell_remaining(diffused, **ball))
    layer = np.minimum(each(depth, count), run.outer_radius[0] - inner)
    return ReleasePath(run.times, layer_remaining(diffused, layer=layer, **ball))


def _pace(way: Moves, in_water: Any, partition: Any, *, count: int) -> Array:
    """How fast a flavour moves [m2/s], at the times of the soak."""
    run = way.run
    opened = _mackie_meares(run.mean_content) / _mackie_meares(np.asarray(way.rolled_content))
    slowed = np.minimum(each(way.hindrance, count) * opened, 1.0)
    held = held_in_fat(
        each(partition, count), fat=each(way.fat, count) / _FAT_DENSITY, water=run.water / _WATER
    )
    return np.asarray(each(in_water, count) * slowed / held)


def _mackie_meares(content: Array) -> Any:
    return mackie_meares(solids_volume(content / (1.0 + content)))


@declared(
    "flavour_left",
    label="flavour left",
    unit=PERCENT,
    equation="share of it that has not left by then",
    source="crank-1975",
    note="in water that moves; buried in silt more is left",
)
def flavour_left(path: ReleasePath, time: Any, like: Any) -> Any:
    """Share of a flavour left after a time in the lake."""
    return path.at(time).reshape(np.shape(like))


@declared(
    "flavour_fades",
    label="a flavour is down to where one recasts",
    unit=HOURS,
    equation="first hour at which less than the wanted share is left",
    source="judgement",
    note="never, where that is after the soak's end",
)
def flavour_fades(path: ReleasePath, wanted: Any, like: Any) -> Any:
    """When each bait holds less of a flavour than wanted."""
    return first_below(path.times, path.left - wanted).reshape(np.shape(like))


def first_below(times: Array, over: Array) -> Array:
    """First time [s] at which each column is below nothing; infinite where it never is."""
    below = over < 0.0
    after = np.argmax(below, axis=0)
    before = np.maximum(after - 1, 0)
    column = np.arange(over.shape[1])
    high, low = over[before, column], over[after, column]
    part = np.where(high > low, high / np.where(high > low, high - low, 1.0), 0.0)
    reached = times[before] + np.clip(part, 0.0, 1.0) * (times[after] - times[before])
    return np.asarray(np.where(below.any(axis=0), reached, np.inf))


@declared(
    "flavour_in_bait",
    label="how fast it moves in the dried bait",
    unit=DIFFUSIVITY,
    equation="D0 f MM(X dried)/MM(X rolled) / (1 + K fat/water), at most D0",
    source="judgement",
    note="as in the lake, but with the water of the dried bait; nobody has measured it",
)
def flavour_in_bait(
    in_water: Any,
    hindrance: Any,
    partition: Any,
    *,
    bait: BaitAsMoist,
    rolled_content: Any,
    fat: Any,
) -> Any:
    """Diffusivity of a flavour in a bait as it lies on the tray."""
    opened = _mackie_meares(bait.water / bait.solids) / _mackie_meares(rolled_content)
    slowed = np.minimum(hindrance * opened, 1.0)
    held = held_in_fat(partition, fat=fat / _FAT_DENSITY, water=bait.water / _WATER)
    return in_water * slowed / held


@declared(
    "depth_reached",
    label="how deep it lies",
    unit=MILLIMETRES,
    equation="depth = 2 sqrt(D t / pi), at most the paste's thickness",
    source="crank-1975",
    note="an even layer of as much as moves in from a wetted surface; in the bag it goes deeper",
)
def depth_reached(diffusivity: Any, time: Any, bait: BaitAsMoist) -> Any:
    """Thickness of the layer that a liquid on the surface gets into."""
    return np.minimum(
        2.0 * np.sqrt(diffusivity * time / np.pi), 0.5 * (bait.diameter - bait.core_diameter)
    )


def depth_of(
    state: BaitState, carrier: str, *, temperature: Quantity, time: Quantity, unknowns: Unknowns
) -> Quantity:
    """How deep a liquid gets into a dried bait that lies in it for a time [s]."""
    row, bait = solute(carrier), as_moist(state)
    moves = flavour_in_bait(
        in_water=in_water(row, temperature),
        hindrance=hindrance(unknowns),
        partition=partition(row, unknowns),
        bait=bait,
        rolled_content=_rolled_content(state),
        fat=_fat(state),
    )
    return depth_reached(diffusivity=moves, time=time, bait=bait)


@dataclass(frozen=True, slots=True)
class Leaving:
    """One liquid of a bait on its way into the lake."""

    name: str
    row: Solute
    path: Quantity
    fades: Quantity


def find_way(state: BaitState, run: Quantity, unknowns: Unknowns) -> Quantity:
    """The bait, while it soaks, as everything dissolved in it meets it."""
    return way_out(
        run=run,
        hindrance=hindrance(unknowns),
        rolled_content=_rolled_content(state),
        fat=_fat(state),
    )


def _rolled_content(state: BaitState) -> Quantity:
    rolled = float(np.mean(np.asarray(state.make_up.water)))
    label = "water of the paste, per dry matter"
    return given("rolled_content", rolled / (1.0 - rolled), label=label, backing=_RECIPE)


def _fat(state: BaitState) -> Quantity:
    fat = float(np.mean(np.asarray(state.make_up.fat)))
    dry = 1.0 - float(np.mean(np.asarray(state.make_up.water)))
    share = given("fat_share", fat / dry, label="fat of the dry paste", backing=_RECIPE)
    return fat_in_bait(share=share, solids=state.solids, liquids=state.solute_mass)


def leaving(
    state: BaitState, way: Quantity, *, temperature: Quantity, unknowns: Unknowns
) -> tuple[Leaving, ...]:
    """Every liquid of a bait, each at its own pace."""
    wanted = unknowns.default("recast_flavour")
    found = []
    for one in state.solutes:
        row = solute(one.carrier)
        held = partition(row, unknowns)
        lies = {} if one.depth is None else {"depth": one.depth}
        path = release_path(way=way, in_water=in_water(row, temperature), partition=held, **lies)
        fades = flavour_fades(path=path, wanted=wanted, like=state.diameter)
        found.append(Leaving(one.name, row, path, fades.labelled(f"{one.name} fades")))
    return tuple(found)


def solids_leaving(way: Quantity, temperature: Quantity) -> Quantity:
    """The path of the dry matter that dissolves, taken to move like a sugar."""
    row = solute("thick-extract")
    none = given("partition", 0.0, label="of sugar in fat", backing=tabled(row))
    return release_path(way=way, in_water=in_water(row, temperature), partition=none)


def partition(row: Solute, unknowns: Unknowns) -> Quantity:
    """How much of a solute fat holds, once per batch from the row's band."""
    spread = LogNormal.between(row.partition_low, row.partition_high, median=row.partition)
    return given(
        "partition",
        unknowns.draws.per_batch(f"partition/{row.id}", spread),
        label=f"{row.name}, in fat beside in water",
        backing=tabled(row),
    )


def in_water(row: Solute, temperature: Quantity) -> Quantity:
    """How fast a solute moves in the lake's water, or in that of another temperature."""
    size = given("molar_volume", row.molar_volume, label=f"size of {row.name}", backing=tabled(row))
    return flavour_in_water(molar_volume=size, temperature=temperature)
