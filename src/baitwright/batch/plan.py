"""The whole batch in order: the one place that knows which stage follows which."""

from __future__ import annotations

import math
from dataclasses import replace

from baitwright import __version__
from baitwright.batch.balance import BalanceStage, Tray, balance
from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.batch.boil import boil
from baitwright.batch.cautions import take_care
from baitwright.batch.coat import beside_bare, coat
from baitwright.batch.day import Made as MadeInTime
from baitwright.batch.day import plan_day
from baitwright.batch.dose import dose_liquids
from baitwright.batch.dry import dry
from baitwright.batch.eggs import crack_eggs
from baitwright.batch.glug import glug
from baitwright.batch.keep import keep
from baitwright.batch.match import Hookbait, MatchStage, match_free_bait
from baitwright.batch.mix import plan_mix, tub_left, tub_used
from baitwright.batch.notes import remarks
from baitwright.batch.on_rig import OnRig, put_on_rig
from baitwright.batch.prove import Made, measurements
from baitwright.batch.rig import RigStage, hang
from baitwright.batch.roll import Bowl, RollStage, roll
from baitwright.batch.soak import NIGHT, lake_of, soak
from baitwright.batch.sorption import sorption
from baitwright.batch.unknowns import Unknowns
from baitwright.recipe.bench import Bench
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.recipe.model import Recipe
from baitwright.uncertainty.bands import quantile_of

__all__ = ["BatchPlan", "PlanRequest", "plan"]


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
    boiled = boil(rolled.bait, recipe, bench=bench, unknowns=unknowns)
    coated = None
    if recipe.coat is not None:
        coated = coat(
            boiled.bait,
            recipe.coat,
            baits=rolled.baits,
            lake_temperature=bench.lake_temperature,
            unknowns=unknowns,
        )
    fresh = boiled.bait if coated is None else coated.bait
    holds = sorption(recipe, bowl.eggs, bowl.mix, doses=bowl.doses)
    bare = dry(fresh, bench.room, holds=holds, unknowns=unknowns)
    tray = Tray(rolled, fresh, bare)
    hung, water = _in_water(tray, request, unknowns)
    readings = measurements(Made(bowl.eggs, bowl.mix, tray, water), run=bare.run)
    glugged = None
    if recipe.glug is not None:
        glugged = glug(tray, recipe, recipe.glug, before=water, bench=bench, unknowns=unknowns)
        tray = replace(tray, dried=glugged.dried)
        hung, water = _in_water(tray, request, unknowns)
    kind = recipe.bait.kind.value
    timed = MadeInTime(bowl.eggs, rolled, boiled, bare, glugged)
    used = tub_used(dry_mix=bowl.mix.dry_mix, dusting=rolled.dusting)
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
        coat=None if coated is None else beside_bare(coated, water, kind),
        dry=bare,
        glug=glugged,
        keep=keep(tray.dried, recipe, bench=bench, unknowns=unknowns),
        water=water,
        rig=_on_rig(hung, bench, unknowns),
        soak=soak(tray.dried.bait, lake_of(bench, water, time=NIGHT, kind=kind), unknowns=unknowns),
        day=plan_day(timed, bench, unknowns=unknowns),
        free_bait=_free_bait(recipe, bowl, rolled, unknowns=unknowns),
        care=take_care(recipe, bench, bowl.mix, bridge=bowl.doses.bridge),
        readings=readings,
        notes=(),
    )
    return replace(made, notes=remarks(made))


def _in_water(
    tray: Tray, request: PlanRequest, unknowns: Unknowns
) -> tuple[RigStage | None, BalanceStage]:
    """The bait on its rig, where the bench tells one, and the same in the words for a lift."""
    bench, wanted = request.bench, request.recipe.bait
    if bench.rig is None:
        return None, balance(tray, wanted, bench=bench, unknowns=unknowns)
    hung = hang(tray, bench.rig, bench=bench, unknowns=unknowns)
    return hung, balance(tray, wanted, bench=bench, unknowns=unknowns, burden=hung.burden)


def _on_rig(hung: RigStage | None, bench: Bench, unknowns: Unknowns) -> OnRig | None:
    if hung is None or bench.rig is None:
        return None
    return put_on_rig(hung, bench.rig, bench=bench, unknowns=unknowns)


def _free_bait(
    recipe: Recipe, bowl: Bowl, rolled: RollStage, *, unknowns: Unknowns
) -> MatchStage | None:
    if recipe.free_bait is None:
        return None
    hookbait = Hookbait(bowl.eggs, bowl.doses, bowl.mix, rolled)
    return match_free_bait(recipe.free_bait, hookbait, unknowns=unknowns)


def _bowl(request: PlanRequest, unknowns: Unknowns) -> Bowl:
    recipe, bench = request.recipe, request.bench
    eggs = crack_eggs(bench.eggs, unknowns=unknowns)
    mix = plan_mix(recipe, eggs, tub=bench.tub, unknowns=unknowns)
    doses = dose_liquids(recipe.liquids, eggs, mix, bench=bench)
    return Bowl(eggs, doses, mix)


def _with_eggs(request: PlanRequest) -> PlanRequest:
    """The request with its eggs counted, where the maker asked for baits instead."""
    bench = request.bench
    if bench.baits_wanted is None or any(_is_counted(eggs) for eggs in bench.eggs):
        return request
    kind = bench.eggs[0] if bench.eggs else Eggs(EggKind.WHOLE)
    one = replace(kind, count=1, usual=kind.grade is None)
    trial = replace(request, bench=replace(bench, eggs=(one,)))
    unknowns = Unknowns(trial.draws, trial.factors)
    rolled = roll(trial.recipe.bait, _bowl(trial, unknowns), unknowns=unknowns)
    count = math.ceil(bench.baits_wanted / quantile_of(rolled.baits, 0.1))
    return replace(request, bench=replace(bench, eggs=(replace(one, count=count),)))


def _is_counted(eggs: Eggs) -> bool:
    measured = (eggs.count, eggs.shell_mass, eggs.contents_mass, eggs.contents_volume)
    return any(value is not None for value in measured)
