"""The cold-water version of a recipe: what it changes, and both side by side in cold and warm."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from baitwright.batch.batch_plan import BatchPlan, PlanRequest
from baitwright.batch.soak import NIGHT, SoakStage
from baitwright.batch.soak_table import SUMMER, WINTER, soaked_in
from baitwright.batch.unknowns import Unknowns
from baitwright.blending.candidate import Candidate
from baitwright.blending.cold_mix import cold_base, moved
from baitwright.blending.components import MixTold
from baitwright.quantities import show
from baitwright.recipe.bench import Tub
from baitwright.recipe.cold import (
    CARRIER,
    LEVEL,
    OIL,
    SIZE,
    TURNED,
    Turn,
    Turned,
    cold_carriers,
    cold_levels,
    cold_size,
    less_oil,
)
from baitwright.recipe.model import Recipe
from baitwright.terms.errors import InputError
from baitwright.uncertainty.bands import median_of
from baitwright.workshop.baits.bait_beside import BesideRow, beside
from baitwright.workshop.baits.bait_side import Side, side_of
from baitwright.workshop.plans.worked_out import worked_out

LAKES = (WINTER, SUMMER)


@dataclass(frozen=True, slots=True, kw_only=True)
class WinterAsked:
    """What is told of a winter version.

    ``keep`` has things of `TURNED` that stay as they are, ``soluble`` names what is to dissolve,
    ``lakes`` are cold and warm water [K], ``time`` [s] is how long the baits lie in them.
    """

    keep: frozenset[str] = frozenset()
    soluble: str | None = None
    lakes: tuple[float, ...] = LAKES
    time: float = NIGHT
    shelf: Mapping[str, Candidate] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Refuse what no winter version is.

        Raises
        ------
        InputError: things that it never changes, or waters that are not one cold and one warm.
        """
        for one in sorted(self.keep - set(TURNED)):
            raise InputError("keep", one, f"one of: {', '.join(TURNED)}")
        if len(self.lakes) != 2 or self.lakes[0] >= self.lakes[1]:
            told = ", ".join(show(one, "C") for one in self.lakes)
            raise InputError("at", told, 'cold and warm water, in that order, such as "5 C, 18 C"')


@dataclass(frozen=True, slots=True)
class Wintered:
    """A recipe and its winter version, what was turned, what stays, and both side by side."""

    asked: WinterAsked
    recipe: Recipe
    turns: tuple[Turn, ...]
    left: tuple[str, ...]
    parts: tuple[tuple[str, float, float], ...]
    summer: Side
    winter: Side
    rows: tuple[BesideRow, ...]

    @property
    def before(self) -> Recipe:
        """The recipe as it was."""
        return self.summer.plan.request.recipe


def wintered(request: PlanRequest, asked: WinterAsked) -> Wintered:
    """The cold-water version of the recipe of a request.

    Levels come last, since they hang on what the bait gives off otherwise.

    Raises
    ------
    InputError: anything that plan, mix or soak refuse.
    """
    summer = side_of(request, asked.lakes, time=asked.time, shelf=asked.shelf)
    made = _made_over(summer.plan, asked)
    bench = replace(request.bench, tub=Tub(), leaving=None)
    cold = replace(request, recipe=made.recipe, bench=bench)
    if LEVEL not in asked.keep:
        made = _with(made, _levels(summer, worked_out(cold), asked))
        cold = replace(cold, recipe=made.recipe)
    winter = side_of(cold, asked.lakes, time=asked.time, shelf=asked.shelf)
    kept = tuple(f"The {one}: left as it is, as you asked." for one in TURNED if one in asked.keep)
    return Wintered(
        asked=asked,
        recipe=made.recipe,
        turns=made.turns,
        left=(*kept, *made.left),
        parts=tuple(moved(request.recipe.base, made.recipe.base)),
        summer=summer,
        winter=winter,
        rows=beside(summer, winter),
    )


def _made_over(summer: BatchPlan, asked: WinterAsked) -> Turned:
    """Base, size and carriers; the name says that it is another bait."""
    recipe = summer.request.recipe
    told = MixTold(recipe.base, recipe.hardener, recipe.sieve, dict(asked.shelf))
    base = cold_base(told, soluble=asked.soluble, keep=asked.keep)
    named = replace(recipe, name=f"{recipe.name}, winter", base=base.base)
    made = Turned(named, base.turns, base.left)
    if OIL not in asked.keep:
        made = _with(made, less_oil(made.recipe, summer.doses.bridge))
    if CARRIER not in asked.keep:
        made = _with(made, cold_carriers(made.recipe))
    if SIZE not in asked.keep:
        made = _with(made, cold_size(made.recipe))
    return made


def _with(made: Turned, further: Turned) -> Turned:
    return Turned(further.recipe, (*made.turns, *further.turns), (*made.left, *further.left))


def _levels(summer: Side, cold: BatchPlan, asked: WinterAsked) -> Turned:
    """Levels at which a cold night takes as much as a warm one took of the recipe as it was."""
    unknowns = Unknowns(cold.request.draws, cold.request.factors)
    night = soaked_in(cold, asked.lakes[0], time=asked.time, unknowns=unknowns)
    before, now = _given_off(summer.nights[1]), _given_off(night)
    rises = {name: before[name] / now[name] for name in before if now.get(name, 0.0) > 0.0}
    lakes = (show(asked.lakes[0], "C"), show(asked.lakes[1], "C"))
    return cold_levels(cold.request.recipe, rises, summer.plan.doses.bridge, lakes=lakes)


def _given_off(night: SoakStage) -> Mapping[str, float]:
    return {one.name: 1.0 - median_of(one.left) for one in night.curve[-1].flavours}
