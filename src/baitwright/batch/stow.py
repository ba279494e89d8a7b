"""Baits into the freezer: the room that their bags take, and how long a bag takes to freeze."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.free_batch import freezer_room
from baitwright.batch.free_water import ToFreeze, cooling_legs, freezing_time
from baitwright.batch.keep import ball_of
from baitwright.batch.thaw import Pack, bag_of_baits
from baitwright.batch.unknowns import Unknowns
from baitwright.terms.quantity import Quantity, declared
from baitwright.terms.units import HOURS, LITRES

_HALF_HOUR = 1800.0
_PLANNED = 0.9


@declared(
    "bag_freezes",
    label="frozen through in its bag in",
    unit=HOURS,
    equation="t = sum of rho dH (d/2) (1/h + d/(4 k)) / (T - Ta), to 2 K above the freezer",
    source="plank-1913",
    note="a flat bag with both faces free in still air, from room temperature; heat given off "
    "along the ice line of its baits",
)
def bag_freezes(thickness: Any, bag: Pack, bait: ToFreeze, air: Any, film: Any) -> Any:
    """Time for a bag of baits to freeze."""
    body, mass = bag.body, np.mean(bait.mass, axis=-1, keepdims=True)
    through = 0.5 * thickness * (1.0 / film + thickness / (4.0 * np.asarray(body.conductivity)))
    pace = np.asarray(body.density) * through / mass
    legs = cooling_legs(bait, air)
    return sum(np.mean(heat, axis=-1, keepdims=True) * pace / fall for heat, fall in legs)


@declared(
    "freezes_planned",
    label="into the freezer beforehand",
    unit=HOURS,
    equation="the time by which 9 bags in 10 are frozen through, in half hours",
    source="judgement",
)
def freezes_planned(time: Any) -> float:
    """How long before they are wanted baits go in; those in which no ice forms are cold by then."""
    frozen = np.asarray(time)[np.isfinite(time)]
    enough = float(np.quantile(frozen, _PLANNED)) if frozen.size else _HALF_HOUR
    return float(_HALF_HOUR * np.ceil(enough / _HALF_HOUR - 1e-9))


@declared(
    "room_planned",
    label="room to keep free in the freezer",
    unit=LITRES,
    equation="the room that is enough in 9 batches of 10, in tenths of a litre",
    source="judgement",
)
def room_planned(room: Any) -> float:
    """Litres to plan with."""
    return float(1e-4 * np.ceil(np.quantile(room, _PLANNED) / 1e-4 - 1e-9))


@dataclass(frozen=True, slots=True)
class Stow:
    """All baits of a batch in the freezer: their room, how long it takes, and both to plan with."""

    room: Quantity
    time: Quantity
    litres: Quantity
    planned: Quantity


def stow(plan: BatchPlan, *, wet: bool) -> Stow:
    """Put the baits of a plan into the freezer, in flat bags.

    Parameters
    ----------
    plan: whose baits.
    wet: as they come from the pot, instead of dried; spread loose, and bagged once they are hard.
    """
    request = plan.request
    unknowns = Unknowns(request.draws, request.factors)
    state = plan.tray.boiled if wet else plan.tray.dried.bait
    air = unknowns.stated("freezer_temperature", request.bench.store.freezer)
    cold = {"air": air, "film": unknowns.drawn_default("freezer_film")}
    ball = ball_of(state, plan.dry)
    if wet:
        time = freezing_time(bait=ball, **cold)
    else:
        bag = bag_of_baits(state, plan.dry, start=air, unknowns=unknowns)
        thickness = unknowns.default("pack_thickness")
        time = bag_freezes(thickness=thickness, bag=bag, bait=ball, **cold)
    room = freezer_room(
        baits=plan.rolled.baits,
        diameter=state.diameter,
        packing=unknowns.default("bulk_packing"),
    )
    return Stow(room, time, room_planned(room=room), freezes_planned(time=time))
