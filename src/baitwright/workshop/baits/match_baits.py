"""The free bait that goes with a hookbait: what to make of it, and both side by side."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.batch.free_batch import FreeBatch, free_batch
from baitwright.batch.match import Hookbait, MatchStage, match_free_bait
from baitwright.batch.soak import NIGHT
from baitwright.batch.soak_table import SUMMER, WINTER
from baitwright.batch.unknowns import Unknowns
from baitwright.blending.candidate import Candidate
from baitwright.blending.stirred_back import with_coarse
from baitwright.materials.defaults import default
from baitwright.recipe.bench import Tub
from baitwright.recipe.dosing import FREE_BAIT_LEVEL
from baitwright.recipe.free_bait import Matching, free_recipe, left_out, on_coarse, on_level
from baitwright.recipe.model import FreeBait, Hardness, Recipe
from baitwright.terms.errors import InputError
from baitwright.terms.notes import Note
from baitwright.terms.quantity import given
from baitwright.terms.units import GRAMS
from baitwright.uncertainty.bands import median_of
from baitwright.workshop.baits.bait_beside import BesideRow, beside
from baitwright.workshop.baits.bait_side import Side, nights_of, side_of
from baitwright.workshop.plans.worked_out import worked_out


@dataclass(frozen=True, slots=True, kw_only=True)
class FreeAsked:
    """What is told of a free bait; what is None is as in the recipe, or usual.

    ``dry_mix``, ``coarse`` and ``mixer`` are weights [kg], ``lakes`` temperatures [K]; ``shelf``
    has the maker's own ingredients.
    """

    dry_mix: float | None = None
    diameter: float | None = None
    level_share: float | None = None
    hardness: Hardness = Hardness.NORMAL
    coarse: float | None = None
    mixer: float | None = None
    lakes: tuple[float, ...] = ()
    time: float = NIGHT
    shelf: Mapping[str, Candidate] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Matched:
    """A free bait matched to its hookbait."""

    wanted: Matching
    match: MatchStage
    batch: FreeBatch
    hookbait: Side
    free_bait: Side
    rows: tuple[BesideRow, ...]
    left_out: tuple[str, ...]
    notes: tuple[Note, ...]

    @property
    def recipe(self) -> Recipe:
        """The hookbait's."""
        return self.hookbait.plan.request.recipe


def matched(request: PlanRequest, asked: FreeAsked) -> Matched:
    """The free bait that goes with the hookbait of a request.

    Raises
    ------
    InputError: how much is told nowhere, or anything that plan, mix or soak refuse.
    """
    recipe, unknowns = request.recipe, Unknowns(request.draws, request.factors)
    free_bait = _free_bait(recipe, asked)
    hookbait = worked_out(replace(request, recipe=replace(recipe, free_bait=None)))
    sieved = median_of(hookbait.mix.preparation.coarse)
    coarse = sieved if asked.coarse is None else asked.coarse
    wanted = Matching(free_bait, asked.hardness, coarse)
    lakes = asked.lakes or _usual(request)
    bench = replace(request.bench, tub=Tub(), rig=None, cores=(), leaving=None)
    free = replace(request, recipe=free_recipe(recipe, wanted), bench=bench)
    other = side_of(free, lakes, time=asked.time, shelf=asked.shelf)
    other = replace(other, mix=with_coarse(other.mix, recipe.base, wanted.coarse_share))
    match = match_free_bait(
        wanted.free_bait, _stages(hookbait, asked, other.plan), unknowns=unknowns
    )
    one = nights_of(hookbait, lakes, time=asked.time, shelf=asked.shelf)
    return Matched(
        wanted=wanted,
        match=match,
        batch=free_batch(match, other.plan, unknowns=unknowns, mixer=asked.mixer),
        hookbait=one,
        free_bait=other,
        rows=beside(one, other),
        left_out=left_out(recipe),
        notes=(
            *on_coarse(wanted, median_of(other.mix.grains)),
            *on_level(recipe, free_bait.level_share),
            *match.notes,
        ),
    )


def _free_bait(recipe: Recipe, asked: FreeAsked) -> FreeBait:
    """What is asked, else what the recipe tells, else what is usual."""
    told = recipe.free_bait or FreeBait(recipe.bait.diameter, default(FREE_BAIT_LEVEL).value, 0.0)
    dry_mix = told.dry_mix if asked.dry_mix is None else asked.dry_mix
    if dry_mix <= 0.0:
        accepted = 'how much dry mix of it to make, such as "5 kg"'
        raise InputError("kilos", None if asked.dry_mix is None else dry_mix, accepted)
    return FreeBait(asked.diameter or told.diameter, asked.level_share or told.level_share, dry_mix)


def _stages(hookbait: BatchPlan, asked: FreeAsked, free: BatchPlan) -> Hookbait:
    """What the free bait is matched to; its paste has the density of its own mix."""
    mix = hookbait.mix
    if asked.coarse is not None:
        weighed = given("coarse", asked.coarse, label="coarse part, weighed", unit=GRAMS)
        mix = replace(mix, preparation=replace(mix.preparation, coarse=weighed))
    return Hookbait(hookbait.eggs, hookbait.doses, mix, free.rolled)


def _usual(request: PlanRequest) -> tuple[float, ...]:
    own = request.bench.lake_temperature
    return (WINTER, SUMMER) if own is None else (own,)
