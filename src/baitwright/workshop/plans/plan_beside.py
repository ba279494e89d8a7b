"""Two plans side by side: what was told otherwise, and what comes of it, the larger first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.explain import headlines
from baitwright.sheets.wording import Figure, figure
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import median_of
from baitwright.workshop.forms.changes import Change, entries_changed
from baitwright.workshop.plans.plan_told import PlanTold
from baitwright.workshop.plans.plan_words import called
from baitwright.workshop.told.number_shown import key_of

_NEVER = float("inf")


@dataclass(frozen=True, slots=True)
class Differs:
    """One number of two plans; nothing where a plan has none such.

    ``goes`` is "up" or "down" from the first to the second, or nothing where one has none.
    """

    label: str
    first: Figure | None
    second: Figure | None
    apart: float
    goes: str = ""


@dataclass(frozen=True, slots=True)
class Beside:
    """What differs between two plans."""

    told: tuple[Change, ...]
    numbers: tuple[Differs, ...]


def told_otherwise(first: PlanTold, second: PlanTold) -> tuple[Change, ...]:
    """What two pages tell otherwise, each as the page has it."""
    one, other = ({called(name): value for name, value in told.pairs} for told in (first, second))
    return entries_changed(one, other)


def comes_otherwise(first: BatchPlan, second: BatchPlan) -> tuple[Differs, ...]:
    """The headline numbers that read otherwise, the larger difference first."""
    found = sorted(_pairs(first, second), key=lambda one: -one.apart)
    return tuple(one for one in found if one.first != one.second)


def beside(one: tuple[PlanTold, BatchPlan], other: tuple[PlanTold, BatchPlan]) -> Beside:
    """What differs between two plans, in what was told and in what comes of it."""
    return Beside(told_otherwise(one[0], other[0]), comes_otherwise(one[1], other[1]))


def _pairs(first: BatchPlan, second: BatchPlan) -> Iterator[Differs]:
    one, other = ({key_of(each): each for each in headlines(made)} for made in (first, second))
    for key in dict.fromkeys((*one, *other)):
        mine, theirs = one.get(key), other.get(key)
        label = (mine or theirs or one[key]).label
        yield Differs(
            label, _figure(mine), _figure(theirs), _apart(mine, theirs), _goes(mine, theirs)
        )


def _figure(quantity: Quantity | None) -> Figure | None:
    return None if quantity is None else figure(quantity)


def _goes(first: Quantity | None, second: Quantity | None) -> str:
    if first is None or second is None:
        return ""
    return "up" if median_of(second) > median_of(first) else "down"


def _apart(first: Quantity | None, second: Quantity | None) -> float:
    """How far apart, as a share of the larger of the two; what only one has is furthest."""
    if first is None or second is None:
        return _NEVER
    one, other = median_of(first), median_of(second)
    if one == other:
        return 0.0
    largest = max(abs(one), abs(other))
    return _NEVER if largest == _NEVER else abs(one - other) / largest
