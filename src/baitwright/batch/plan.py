"""The whole batch in order: the one place that knows which stage follows which."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

from baitwright import __version__
from baitwright.batch.balance import BalanceStage, Tray, balance
from baitwright.batch.boil import BoilStage, boil
from baitwright.batch.cautions import CautionStage, take_care
from baitwright.batch.day import DayPlan, plan_day
from baitwright.batch.day import Made as MadeInTime
from baitwright.batch.dose import DoseStage, dose_liquids
from baitwright.batch.dry import DryStage, dry
from baitwright.batch.eggs import USUAL_EGG, EggsStage, crack_eggs
from baitwright.batch.match import Hookbait, MatchStage, match_free_bait
from baitwright.batch.mix import MixStage, plan_mix, tub_left, tub_used
from baitwright.batch.notes import remarks
from baitwright.batch.prove import Made, Measurement, measurements
from baitwright.batch.roll import Bowl, RollStage, roll
from baitwright.batch.unknowns import Unknowns
from baitwright.recipe.bench import Bench, EggKind, Eggs
from baitwright.recipe.model import Recipe
from baitwright.terms.factors import FactorSet
from baitwright.terms.notes import Note
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import quantile_of
from baitwright.uncertainty.draws import Draws


@dataclass(frozen=True, slots=True)
class PlanRequest:
    """Everything a plan depends on; the same request gives the same plan."""

    recipe: Recipe
    bench: Bench
    factors: FactorSet
    draws: Draws = Draws()


@dataclass(frozen=True, slots=True)
class BatchPlan:
    """A batch worked through, stage by stage, with what it was asked and what it rests on."""

    request: PlanRequest
    version: str
    eggs: EggsStage
    mix: MixStage
    doses: DoseStage
    rolled: RollStage
    tub_used: Quantity
    tub_left: Quantity
    boil: BoilStage
    dry: DryStage
    water: BalanceStage
    day: DayPlan
    free_bait: MatchStage | None
    care: CautionStage
    readings: tuple[Measurement, ...]
    notes: tuple[Note, ...]

    @property
    def prove(self) -> tuple[Measurement, ...]:
        """The three readings the plan asks for."""
        asked = ("tub_used", "twenty_at_8h", "cup_rise")
        return tuple(one for one in self.readings if one.name in asked)

    def quantities(self) -> Iterator[Quantity]:
        """Every number of the plan, in the order of its stages."""
        yield from _quantities(self)

    @property
    def sources(self) -> tuple[str, ...]:
        """Keys of everything the plan's numbers rest on."""
        keys = {part.source for quantity in self.quantities() for part in quantity.walk()}
        keys |= {note.source for note in self.notes}
        keys |= {caution.source for caution in self.care.cautions}
        return tuple(sorted(keys))


def plan(request: PlanRequest) -> BatchPlan:
    """Plan a batch.

    Raises
    ------
    InputError: no binding liquid, a core as large as the bait, or anything a stage refuses.
    """
    request = _with_eggs(request)
    recipe, bench = request.recipe, request.bench
    unknowns = Unknowns(request.draws, request.factors)
    bowl = _bowl(request, unknowns)
    rolled = roll(recipe.bait, bowl, unknowns=unknowns)
    boiled = boil(rolled.bait, recipe.bait, bench=bench, unknowns=unknowns)
    dried = dry(boiled.bait, bench.room, unknowns=unknowns)
    tray = Tray(rolled, boiled.bait, dried)
    water = balance(tray, recipe.bait, bench=bench, unknowns=unknowns)
    used = tub_used(dry_mix=bowl.mix.dry_mix, dusting=rolled.dusting)
    free = None
    if recipe.free_bait is not None:
        free = match_free_bait(
            recipe.free_bait, Hookbait(bowl.eggs, bowl.doses, bowl.mix, rolled)
        )
    made = BatchPlan(
        request=request,
        version=__version__,
        eggs=bowl.eggs,
        mix=bowl.mix,
        doses=bowl.doses,
        rolled=rolled,
        tub_used=used,
        tub_left=tub_left(tub=bowl.mix.tub, used=used),
        boil=boiled,
        dry=dried,
        water=water,
        day=plan_day(MadeInTime(rolled, boiled, dried), bench, unknowns=unknowns),
        free_bait=free,
        care=take_care(recipe, bench, bowl.mix),
        readings=measurements(Made(bowl.eggs, bowl.mix, tray, water), run=dried.run),
        notes=(),
    )
    return replace(made, notes=remarks(made))


def _bowl(request: PlanRequest, unknowns: Unknowns) -> Bowl:
    recipe, bench = request.recipe, request.bench
    eggs = crack_eggs(bench.eggs, unknowns=unknowns)
    mix = plan_mix(recipe, eggs, tub=bench.tub, unknowns=unknowns)
    doses = dose_liquids(recipe.liquids, eggs, mix, syringes=bench.syringes)
    return Bowl(eggs, doses, mix)


def _with_eggs(request: PlanRequest) -> PlanRequest:
    """The request with its eggs counted, where the maker asked for baits instead."""
    bench = request.bench
    if bench.baits_wanted is None or any(_is_counted(eggs) for eggs in bench.eggs):
        return request
    kind = bench.eggs[0] if bench.eggs else Eggs(EggKind.WHOLE, contents_volume=USUAL_EGG)
    one = replace(kind, count=1)
    trial = replace(request, bench=replace(bench, eggs=(one,)))
    unknowns = Unknowns(trial.draws, trial.factors)
    rolled = roll(trial.recipe.bait, _bowl(trial, unknowns), unknowns=unknowns)
    count = math.ceil(bench.baits_wanted / quantile_of(rolled.baits, 0.1))
    if one.contents_volume is not None:
        one = replace(one, contents_volume=count * one.contents_volume)
    return replace(request, bench=replace(bench, eggs=(replace(one, count=count),)))


def _is_counted(eggs: Eggs) -> bool:
    measured = (eggs.count, eggs.shell_mass, eggs.contents_mass, eggs.contents_volume)
    return any(value is not None for value in measured)


def _quantities(node: Any) -> Iterator[Quantity]:
    if isinstance(node, Quantity):
        yield node
    elif isinstance(node, tuple):
        for part in node:
            yield from _quantities(part)
    elif is_dataclass(node) and not isinstance(node, PlanRequest | type):
        for field in fields(node):
            yield from _quantities(getattr(node, field.name))
