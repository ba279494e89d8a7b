"""Plans of the demonstration that faults are looked for in, each worked out once."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from baitwright.advice.faults import Cause, Known, Read, find_fault
from baitwright.advice.faults_numbered import Numbers
from baitwright.advice.faults_tables import symptom
from baitwright.batch.plan import BatchPlan, PlanRequest, plan
from baitwright.recipe.bench import Bench
from baitwright.recipe.model import Recipe
from baitwright.uncertainty.bands import median_of
from tests.workshop.shelf import planned

WAFTER = ("copper-wafter", "bench-three-large-eggs")
SINKER = ("chalk-sinker", "bench-three-large-eggs")


def asked(recipe: Recipe | None = None, bench: Bench | None = None) -> PlanRequest:
    """The demonstration's request, with another recipe or bench."""
    usual = planned(*WAFTER).request
    return replace(usual, recipe=recipe or usual.recipe, bench=bench or usual.bench)


@cache
def usual() -> BatchPlan:
    """The wafter as it is always made."""
    return plan(asked())


@cache
def sinker() -> BatchPlan:
    """A bait without a core."""
    return planned(*SINKER)


@cache
def numbers() -> Numbers:
    return Numbers.of_plan(usual())


def causes(
    name: str, *read: Read, made: BatchPlan | None = None, good: bool = True
) -> tuple[Cause, ...]:
    """What is found of a symptom, beside a good batch made as usual."""
    then = usual() if good else None
    known = Known(read, then, "2026-11-03/B1" if good else "")
    return find_fault(made or usual(), symptom(name), known).causes


def planned_as(name: str, label: str = "*") -> float:
    """The middle of a number of the usual plan."""
    return median_of(numbers().named(name, label)[0])
