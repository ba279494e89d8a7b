"""A bait worked through to be set beside another: its plan, its mix as bagged, nights in lakes."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.batch.free_batch import water_share
from baitwright.batch.soak import SoakStage
from baitwright.batch.soak_table import soaked_in
from baitwright.batch.unknowns import Unknowns
from baitwright.blending.analysis import MixAnalysis, analyse_mix
from baitwright.blending.bases import Bowl, egg_of_bowl
from baitwright.blending.candidate import Candidate
from baitwright.blending.components import MixTold
from baitwright.materials.factors import prior_factors
from baitwright.recipe.bench import Bench
from baitwright.recipe.eggs import Eggs
from baitwright.recipe.model import Recipe
from baitwright.workshop.mixes.mix_analysis import usual_egg
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.recipe_files.bench_file import read_bench
from baitwright.workshop.recipe_files.factors_file import read_factors


@dataclass(frozen=True, slots=True)
class Side:
    """One of two baits: its plan, its dry mix taken apart, and its nights."""

    plan: BatchPlan
    mix: MixAnalysis
    nights: tuple[SoakStage, ...]


def request_of(
    recipe: Recipe,
    bench: Path | None,
    *,
    eggs: Sequence[Eggs] = (),
    factors: Path | None = None,
    clock: Callable[[], datetime],
) -> PlanRequest:
    """A plan of a recipe on a bench that may be told or not: a usual egg stands for none.

    Raises
    ------
    InputError: a file cannot be used.
    """
    now = clock()
    table = Bench(now, eggs=(usual_egg(),)) if bench is None else read_bench(bench, now=now)
    if eggs:
        table = replace(table, eggs=tuple(eggs), baits_wanted=None)
    return PlanRequest(recipe, table, prior_factors() if factors is None else read_factors(factors))


def side_of(
    request: PlanRequest,
    lakes: Sequence[float],
    *,
    time: float,
    shelf: Mapping[str, Candidate] | None = None,
) -> Side:
    """A bait planned, taken apart and laid into lakes.

    Parameters
    ----------
    request: what is planned.
    lakes, time: temperatures [K], and how long it lies in each [s].
    shelf: the maker's own ingredients.

    Raises
    ------
    InputError: anything that plan, mix or soak refuse.
    """
    return nights_of(worked_out(request), lakes, time=time, shelf=shelf)


def nights_of(
    made: BatchPlan,
    lakes: Sequence[float],
    *,
    time: float,
    shelf: Mapping[str, Candidate] | None = None,
) -> Side:
    """As `side_of`, of a bait that is planned."""
    request = made.request
    recipe, unknowns = request.recipe, Unknowns(request.draws, request.factors)
    egg = egg_of_bowl(mass=made.eggs.mass, eggs=made.eggs.count)
    told = MixTold(recipe.base, recipe.hardener, recipe.sieve, dict(shelf or {}))
    mix = analyse_mix(told, Bowl(egg, made.mix.per_egg, water_share(made)), request.draws)
    nights = tuple(soaked_in(made, lake, time=time, unknowns=unknowns) for lake in lakes)
    return Side(made, mix, nights)
