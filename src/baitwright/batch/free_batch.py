"""Kilograms of free bait made: what to weigh, lots in the mixer, loads in the pot, the freezer."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.bench_time import (
    baits_to_plan,
    boil_loads,
    load_time,
    mixer_lots,
    rolling_time,
)
from baitwright.batch.match import MatchStage
from baitwright.batch.unknowns import Unknowns
from baitwright.terms.quantity import Quantity, declared
from baitwright.terms.units import HOURS, KILOGRAMS, LITRES, MILLILITRES_PER_KILOGRAM, PERCENT


@declared(
    "free_raw",
    label="unsieved base to weigh",
    unit=KILOGRAMS,
    equation="raw = dry mix - coarse part stirred back",
    source="definition",
)
def free_raw(dry_mix: Any, coarse: Any) -> Any:
    """What of the free bait's mix is base as it comes."""
    return dry_mix - coarse


@declared(
    "bagged_mass",
    label="free bait as bagged",
    unit=KILOGRAMS,
    equation="baits x the tray's mean weight of one, dried",
    source="definition",
)
def bagged_mass(baits: Any, mass: Any) -> Any:
    """Weight of all baits once they are dried."""
    return baits * np.mean(mass, axis=-1, keepdims=True)


@declared(
    "freezer_room",
    label="room in the freezer",
    unit=LITRES,
    equation="baits x pi D^3 / 6 / share that round baits fill",
    source="definition",
    note="bags filled up and pressed flat; a bag half full takes as much again",
)
def freezer_room(baits: Any, diameter: Any, packing: Any) -> Any:
    """Room that bags of baits take, air between the baits and all."""
    return baits * np.mean(np.pi / 6.0 * diameter**3, axis=-1, keepdims=True) / packing


@declared(
    "pot_time",
    label="at the pot",
    unit=HOURS,
    equation="time = loads x one load",
    source="definition",
)
def pot_time(loads: Any, load: Any) -> Any:
    """How long the pot is in use."""
    return loads * load


@declared(
    "level_in_paste",
    label="in the paste",
    unit=MILLILITRES_PER_KILOGRAM,
    equation="level = dose / paste",
    source="definition",
)
def level_in_paste(dose: Any, paste: Any) -> Any:
    """A level on the basis that hookbait and free bait share."""
    return dose / paste


@declared(
    "given_off",
    label="given off",
    unit=MILLILITRES_PER_KILOGRAM,
    equation="level x (1 - left)",
    source="definition",
    note="of a kilogram of paste",
)
def given_off(level: Any, left: Any) -> Any:
    """What of a level the lake has had by then."""
    return level * (1.0 - left)


@declared(
    "bait_water_share",
    label="water of the bait as bagged",
    unit=PERCENT,
    equation="water / (solids + water + liquids)",
    source="definition",
    note="of the paste, without core and fillers",
)
def bait_water_share(solids: Any, water: Any, liquids: Any) -> Any:
    """What of a dried bait's paste is water."""
    return water / (solids + water + liquids)


@dataclass(frozen=True, slots=True)
class FreeBatch:
    """The work of making so many kilograms: base, coarse part, lots, loads, hours, weight, room."""

    raw: Quantity
    lots: Quantity
    loads: Quantity
    pot: Quantity
    rolling: Quantity
    bagged: Quantity
    room: Quantity


def free_batch(
    match: MatchStage, planned: BatchPlan, *, unknowns: Unknowns, mixer: float | None = None
) -> FreeBatch:
    """What it takes to make the free baits of a stage.

    Parameters
    ----------
    match: mix, eggs, paste and count.
    planned: a batch of the same free baits, of which boil, weight and size are taken.
    unknowns: defaults.
    mixer: paste that the mixer kneads at once [kg]; the table's where None.
    """
    pot, dried = planned.request.bench.pot, planned.tray.dried
    count = baits_to_plan(baits=match.baits)
    basket = unknowns.stated("basket", None if pot.basket is None else float(pot.basket))
    loads = boil_loads(baits=count, basket=basket)
    load = load_time(boil=planned.boil.seconds, swap=unknowns.default("swap_time"))
    rolling = rolling_time(baits=count, pace=unknowns.default("rolling_pace"))
    return FreeBatch(
        raw=free_raw(dry_mix=match.dry_mix, coarse=match.coarse),
        lots=mixer_lots(paste=match.paste, mixer=unknowns.stated("mixer", mixer)),
        loads=loads,
        pot=pot_time(loads=loads, load=load),
        rolling=replace(rolling, label="rolling by hand", shown=HOURS.shown),
        bagged=bagged_mass(baits=match.baits, mass=dried.mass),
        room=freezer_room(
            baits=match.baits,
            diameter=dried.diameter,
            packing=unknowns.default("bulk_packing"),
        ),
    )


def water_share(planned: BatchPlan) -> Quantity:
    """What of a planned bait's paste is water as it is bagged."""
    state = planned.tray.dried.bait
    return bait_water_share(solids=state.solids, water=state.water, liquids=state.solute_mass)
