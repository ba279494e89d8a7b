"""Trials as a page shows them: nights needed, who fishes what where, a rule and where it stands."""

from __future__ import annotations

import math
from dataclasses import dataclass

from baitwright.learning.sequential import SequentialPlan, sequential_plan
from baitwright.learning.trials import latin_square, swap_plan
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.comparing.trial import (
    Looked,
    NightsNeeded,
    looked_at,
    nights_by_notebook,
    nights_needed,
)
from baitwright.workshop.comparing.trial_tables import (
    LookQuestion,
    NightsQuestion,
    SquareQuestion,
    SwapQuestion,
)
from baitwright.workshop.nights.fished_nights import nights_fished
from baitwright.workshop.typed.nearest import alike
from baitwright.workshop.typed.typed_days import any_day


@dataclass(frozen=True, slots=True)
class Need:
    """Whole nights and bites that a true ratio needs at the least."""

    ratio: float
    nights: int
    bites: int


@dataclass(frozen=True, slots=True)
class NeedsShown:
    """Nights needed; ``own`` is whether they rest on the maker's own nights."""

    found: NightsNeeded
    needs: tuple[Need, ...]
    own: bool


@dataclass(frozen=True, slots=True)
class RodsShown:
    """Which rod fishes what: a row for each night; of two baits the rods stand left and right."""

    rows: tuple[tuple[str, ...], ...]
    sides: bool = False


@dataclass(frozen=True, slots=True)
class RuleShown:
    """A stopping rule of two baits, bites until it stops, and where it stands once fished."""

    first: str
    second: str
    plan: SequentialPlan
    alike: int
    true: int
    looked: Looked | None


def needs_shown(book: Notebook | None, told: NightsQuestion) -> NeedsShown | None:
    """Nights needed for the bites told, or by the notebook; nothing where neither tells any.

    Raises
    ------
    InputError: a water at which no night has a bite.
    """
    own = told.bites is None
    if told.bites is not None:
        found = nights_needed(told.bites)
    elif book is None or not (told.water or _has_bites(book)):
        return None
    else:
        found = nights_by_notebook(book, water=told.water)
    needs = (Need(one.ratio, math.ceil(one.nights), math.ceil(one.bites)) for one in found.needs)
    return NeedsShown(found, tuple(needs), own)


def swap_shown(told: SwapQuestion) -> RodsShown:
    """Two baits on two rods that change sides.

    Raises
    ------
    InputError: not two baits, or nights that are odd.
    """
    rows = swap_plan((told.first, told.second), nights=told.nights, seed=told.seed)
    return RodsShown(rows, sides=True)


def square_shown(told: SquareQuestion) -> RodsShown:
    """Each bait once on every rod and every night.

    Raises
    ------
    InputError: fewer than two baits, more than eight, or one twice.
    """
    return RodsShown(latin_square(told.named, seed=told.seed))


def look_shown(book: Notebook | None, told: LookQuestion) -> RuleShown:
    """The rule, and where the trial stands if a night has both baits.

    Raises
    ------
    InputError: one bait twice, no day, or nights none of which had both out for as long.
    """
    if alike(told.first) == alike(told.second):
        raise InputError("second", told.second, "another than the first")
    day = any_day(told.since, "since").isoformat() if told.since else ""
    plan, looked = sequential_plan(told.ratio), None
    if book is not None and _fished_together(book, told, since=day):
        looked = looked_at(book, told.first, told.second, ratio=told.ratio, since=day)
    even, true = (math.ceil(plan.bites_expected(one)) for one in (1.0, told.ratio))
    return RuleShown(told.first, told.second, plan, even, true, looked)


def _has_bites(book: Notebook) -> bool:
    return any(rod.fished.bites for one in nights_fished(book).nights for rod in one.rods)


def _fished_together(book: Notebook, told: LookQuestion, *, since: str) -> bool:
    both = {alike(told.first), alike(told.second)}
    nights = (one for one in nights_fished(book).nights if one.day >= since)
    return any(both <= {alike(rod.bait) for rod in one.rods} for one in nights)
