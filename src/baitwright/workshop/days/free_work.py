"""Free baits as a batch of their own: eggs counted for the kilograms, rolled at their own pace."""

from __future__ import annotations

import math
from dataclasses import replace

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.match import MatchStage
from baitwright.materials.defaults import default
from baitwright.recipe.bench import Bench, Tub
from baitwright.recipe.dosing import FREE_BAIT_LEVEL
from baitwright.recipe.eggs import Eggs
from baitwright.recipe.free_bait import Matching, free_recipe
from baitwright.recipe.model import FreeBait
from baitwright.terms.errors import InputError
from baitwright.uncertainty.bands import median_of
from baitwright.workshop.days.several_file import FreeAmount
from baitwright.workshop.days.works import Work, work_of
from baitwright.workshop.plans.worked_out import worked_out


def free_work(hookbait: BatchPlan, told: FreeAmount) -> Work:
    """The free baits that go with a hookbait, planned as a batch of their own.

    Solid, unsieved and without hardener, with the coarse part that the hookbait's sieve left, at
    their own level: the recipe's table `free_bait`, or what is usual where it has none.

    Parameters
    ----------
    hookbait: the plan of the hookbait, from whose eggs, mix and doses they are worked out.
    told: how much, how they are rolled, and where they lie.

    Raises
    ------
    InputError: nobody told how much dry mix, or a plan that cannot be.
    """
    request, wanted = hookbait.request, _wanted(hookbait, told)
    asked = worked_out(replace(request, recipe=replace(request.recipe, free_bait=wanted)))
    if asked.free_bait is None:
        raise InputError("free_bait.dry_mix", told.dry_mix, "more than nothing")
    coarse = median_of(hookbait.mix.preparation.coarse)
    bench = replace(
        request.bench,
        eggs=(_eggs(asked.free_bait, request.bench),),
        baits_wanted=None,
        tub=Tub(),
        rig=None,
        cores=(),
        frozen=(),
        pace=None if told.pace is None else told.pace / 60.0,
        roller=not told.by_hand,
    )
    recipe = free_recipe(request.recipe, Matching(wanted, coarse=coarse))
    made = worked_out(replace(request, recipe=recipe, bench=bench))
    return work_of(made, told, is_free_bait=True)


def _wanted(hookbait: BatchPlan, told: FreeAmount) -> FreeBait:
    recipe = hookbait.request.recipe
    known = recipe.free_bait or FreeBait(recipe.bait.diameter, default(FREE_BAIT_LEVEL).value, 0.0)
    dry_mix = known.dry_mix if told.dry_mix is None else told.dry_mix
    if dry_mix <= 0.0:
        accepted = f'how much of it {recipe.name} takes, such as "2 kg": its recipe tells of none'
        raise InputError("free_bait.dry_mix", told.dry_mix, accepted)
    return replace(known, dry_mix=dry_mix)


def _eggs(match: MatchStage, bench: Bench) -> Eggs:
    """So many of the bench's first eggs that they take up the dry mix, whole ones in shells."""
    first, count = bench.eggs[0], math.ceil(median_of(match.eggs) - 1e-6)
    if first.contents_mass is not None or first.contents_volume is not None:
        return Eggs(first.kind, contents_volume=median_of(match.egg_volume))
    shell = None
    if first.shell_mass is not None and first.count:
        shell = first.shell_mass * count / first.count
    usual = shell is None and first.grade is None
    return Eggs(first.kind, count=count, grade=first.grade, shell_mass=shell, usual=usual)
