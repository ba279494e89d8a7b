"""A bait worked through to be set beside another: its plan, its mix as bagged, nights in lakes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.batch.free_batch import water_share
from baitwright.batch.plan import plan
from baitwright.batch.soak import SoakStage
from baitwright.batch.soak_table import soaked_in
from baitwright.batch.unknowns import Unknowns
from baitwright.blending.analysis import MixAnalysis, analyse_mix
from baitwright.blending.bases import Bowl, egg_of_bowl
from baitwright.blending.candidate import Candidate
from baitwright.blending.components import MixTold


@dataclass(frozen=True, slots=True)
class Side:
    """One of two baits: its plan, its dry mix taken apart, and its nights."""

    plan: BatchPlan
    mix: MixAnalysis
    nights: tuple[SoakStage, ...]


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
    return nights_of(plan(request), lakes, time=time, shelf=shelf)


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
