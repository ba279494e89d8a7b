"""Soaks side by side: winter and summer, with the core and without one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from baitwright.batch.plan import BatchPlan, PlanRequest, plan
from baitwright.batch.soak import NIGHT, SoakStage, lake_of, soak
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.cores import cores
from baitwright.recipe.model import Core, Recipe, largest_core
from baitwright.terms.notes import Note
from baitwright.terms.quantity import unwrap

WINTER, SUMMER = 278.15, 291.15
"""Lakes to set side by side where nobody names others, K."""
_ALIKE = 3.0
"""Lakes that are not worth a column each, K."""
_USUAL_CORE = "cork-ball"
_USUAL_SHARE = 0.55
"""Diameter of a core beside its bait's, where the recipe has none to compare with."""


@dataclass(frozen=True, slots=True)
class SoakCase:
    """One bait in one lake, with its core."""

    core: Core | None
    planned: bool
    stage: SoakStage


@dataclass(frozen=True, slots=True)
class SoakTable:
    """Soaks of one recipe's baits, those of the bait as planned first."""

    plan: BatchPlan
    time: float
    cases: tuple[SoakCase, ...]

    @property
    def recipe(self) -> Recipe:
        """What the bait is."""
        return self.plan.request.recipe

    @property
    def first(self) -> SoakCase:
        """The bait as planned in the first lake named."""
        return self.cases[0]

    @property
    def notes(self) -> tuple[Note, ...]:
        """What is remarked of the bait as planned, each remark once."""
        found = (note for case in self.cases if case.planned for note in case.stage.notes)
        return tuple(dict.fromkeys(found))


def soak_table(request: PlanRequest, temperatures: Sequence[float], *, time: float) -> SoakTable:
    """Soak a planned bait and its like with or without a core, in each lake.

    Parameters
    ----------
    request: what is planned.
    temperatures: of the lakes [K]; winter and summer, after the bench's own, where none is named.
    time: how long they lie [s].

    Raises
    ------
    InputError: anything the plan or the soak refuses.
    """
    lakes = tuple(dict.fromkeys(temperatures or _usual(request)))
    bodies = (request.recipe, *_other_body(request))
    plans = tuple(plan(replace(request, recipe=recipe)) for recipe in bodies)
    unknowns = Unknowns(request.draws, request.factors)
    cases = [
        SoakCase(
            made.request.recipe.bait.core,
            at == 0,
            soaked_in(made, lake, time=time, unknowns=unknowns),
        )
        for at, made in enumerate(plans)
        for lake in lakes
    ]
    return SoakTable(plans[0], time, tuple(cases))


def first_night(made: SoakTable) -> SoakStage:
    """The bait as planned after a night in the first lake, or after all of a shorter soak."""
    stage = made.first.stage
    if made.time <= NIGHT:
        return stage
    request = made.plan.request
    lake = float(unwrap(stage.temperature.value))
    unknowns = Unknowns(request.draws, request.factors)
    return soaked_in(made.plan, lake, time=NIGHT, unknowns=unknowns)


def soaked_in(made: BatchPlan, lake: float, *, time: float, unknowns: Unknowns) -> SoakStage:
    """A planned bait in a lake of a temperature [K] for a time [s].

    Raises
    ------
    InputError: no such lake, or a soak too short or too long.
    """
    bench = replace(made.request.bench, lake_temperature=lake)
    kind = made.request.recipe.bait.kind.value
    wet = lake_of(bench, made.water, time=time, kind=kind)
    return soak(made.tray.dried.bait, wet, unknowns=unknowns)


def _usual(request: PlanRequest) -> tuple[float, ...]:
    own = request.bench.lake_temperature
    if own is None:
        return (WINTER, SUMMER)
    return (own, *(other for other in (WINTER, SUMMER) if abs(other - own) > _ALIKE))


def _other_body(request: PlanRequest) -> tuple[Recipe, ...]:
    """The same bait solid; or on a core, where it is planned solid and has room for one."""
    recipe = request.recipe
    wanted = recipe.bait
    if wanted.core is not None:
        return (replace(recipe, bait=replace(wanted, core=None)),)
    shelf = request.bench.cores or cores()[_USUAL_CORE].diameters
    sizes = [size for size in shelf if size <= largest_core(wanted.diameter)]
    if not sizes:
        return ()
    size = min(sizes, key=lambda one: abs(one - _USUAL_SHARE * wanted.diameter))
    return (replace(recipe, bait=replace(wanted, core=Core(_USUAL_CORE, size))),)
