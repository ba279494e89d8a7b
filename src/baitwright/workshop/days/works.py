"""What is made in a day: a plan, and where its baits lie: on trays, at a fan, in the freezer."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.bench_time import trays_filled
from baitwright.batch.day import Doing, Step
from baitwright.batch.stow import Stow, stow
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.defaults import default
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import Quantity, given, unwrap
from baitwright.workshop.days.several_file import Freezes, Place
from baitwright.workshop.plans.worked_out import worked_out

FAN_AIR = "fan_speed"
FREEZE = "freeze"
"""The step in which baits lie in the freezer until leaving."""


@dataclass(frozen=True, slots=True)
class Work:
    """A batch of the day.

    ``filled`` is how many trays its baits fill, told or reckoned; ``stow`` is nothing where they
    stay out of the freezer. ``batch`` is what the notebook calls it.
    """

    plan: BatchPlan
    filled: Quantity
    place: Place
    stow: Stow | None
    is_free_bait: bool = False
    batch: str = ""

    @property
    def name(self) -> str:
        """The recipe's."""
        return self.plan.request.recipe.name

    @property
    def trays(self) -> int:
        """Trays that its baits fill."""
        return round(float(unwrap(self.filled.value)))

    @property
    def litres(self) -> float:
        """Room in the freezer [l]; none where they stay out of it."""
        return 0.0 if self.stow is None else 1e3 * float(unwrap(self.stow.litres.value))

    @property
    def leaving(self) -> datetime | None:
        """When its bench says that it is to be ready."""
        return self.plan.request.bench.leaving


def work_of(made: BatchPlan, place: Place, *, is_free_bait: bool = False) -> Work:
    """A plan as a work of the day, in a fan's air and with its days in the freezer as told.

    Raises
    ------
    InputError: its baits never dry in this air, and are not frozen wet either.
    """
    made = before_a_fan(made) if place.fan else made
    name = made.request.recipe.name
    if not made.day.dries and place.frozen is not Freezes.WET:
        accepted = "air in which they dry within four days"
        raise InputError(f"room of {name}", "air in which they stay wet", accepted)
    cold = None
    if place.frozen is not Freezes.NO:
        cold = stow(made, wet=place.frozen is Freezes.WET)
        made = _frozen(made, cold, wet=place.frozen is Freezes.WET)
    return Work(made, _trays(made, place), place, cold, is_free_bait)


def before_a_fan(made: BatchPlan) -> BatchPlan:
    """The plan with its tray in moving air (judgement), where its bench tells of none as fast."""
    bench, speed = made.request.bench, default(FAN_AIR).value
    if (bench.room.air_speed or 0.0) >= speed:
        return made
    room = replace(bench.room, air_speed=speed)
    return worked_out(replace(made.request, bench=replace(bench, room=room)))


def _trays(made: BatchPlan, place: Place) -> Quantity:
    if place.trays is not None:
        return given("trays_told", float(place.trays), label="trays that the baits fill")
    holds = Unknowns(made.request.draws, made.request.factors).default("tray_holds")
    return trays_filled(baits=made.day.baits, diameter=made.rolled.diameter, holds=holds)


def _frozen(made: BatchPlan, cold: Stow, *, wet: bool) -> BatchPlan:
    """The plan with a stay in the freezer at its end; wet, instead of the tray."""
    steps = [one for one in made.day.steps if not (wet and one.name in ("dry", "glug"))]
    spread = "wet, loose on a tray, and in bags once hard" if wet else "in flat bags"
    length = timedelta(seconds=float(unwrap(cold.planned.value)))
    ends = steps[-1].end
    text = f"In the freezer, {spread}, until leaving."
    step = Step(FREEZE, text, ends, ends + length, Doing.WAITING)
    return replace(made, day=replace(made.day, steps=(*steps, step), dries=True))
