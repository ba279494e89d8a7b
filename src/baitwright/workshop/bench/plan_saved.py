"""A plan saved: its recipe kept as a version, its batch planned into the notebook, its papers."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from threading import Lock
from typing import Any

from baitwright.batch.batch_plan import BatchPlan
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import PLAN, WRITTEN, holder
from baitwright.workshop.batches.batch_needs import not_on_shelf, wanted_from_shelf
from baitwright.workshop.batches.batches import batch_of, plan_into, wishes_of
from baitwright.workshop.factors.kept_moments import kept_moments
from baitwright.workshop.plans.plan_json import request_from_json
from baitwright.workshop.plans.plan_told import PlanTold
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.recipes.recipe_told import text_to_keep
from baitwright.workshop.shelf.stock import counted_as
from baitwright.workshop.typed.amounts import in_words
from baitwright.workshop.typed.fields import as_typed

ONCE = "once"
"""The entry of a plan's record with the id of the page that sent it."""
_RECENT = 20
"""Plans among which the same page is looked for: it is sent twice at once or never."""
_SAVING = Lock()


@dataclass(frozen=True, slots=True)
class SavedPlan:
    """A batch that was planned, and what the shelf has for it, in words."""

    name: str
    about: str
    version: int
    state: str
    reserved: tuple[str, ...]
    short: tuple[str, ...]
    missing: tuple[str, ...]


def save(book: Notebook, told: PlanTold, made: BatchPlan, *, once: str, now: datetime) -> str:
    """Keep the recipe as its next version and plan the batch; the name of the batch.

    Parameters
    ----------
    book: the notebook.
    told: recipe and bench as the page tells them.
    made: the plan of those.
    once: the id of the page; one that was saved already is not saved again.
    now: when, with its zone.

    Raises
    ------
    InputError: the notebook cannot be written to, or its baits could not stand on the shelf.
    """
    with _SAVING:
        with book.reading() as page:
            plans = page.last(PLAN, _RECENT) if once else ()
            text = text_to_keep(page, told.recipe, made.request.recipe)
        before = next((one.name for one in plans if (one.body or {}).get(ONCE) == once), None)
        if before is not None:
            return before
        return plan_into(
            book, text, made, now=now, told=beside_plan(told.bench, made, once=once)
        ).name


def beside_plan(bench: Mapping[str, Any], made: BatchPlan, *, once: str = "") -> dict[str, Any]:
    """What the record of a plan keeps besides: the bench as it was told, and what teaches."""
    plain = json.loads(json.dumps(bench, default=as_typed))
    return {WRITTEN: plain, **kept_moments(made), **({ONCE: once} if once else {})}


def saved(book: Notebook, name: str) -> SavedPlan:
    """A planned batch, with what is spoken for, what is short and what the shelf has not.

    Raises
    ------
    InputError: no such batch.
    """
    with book.reading() as page:
        found = batch_of(page, name)
        wanted = wishes_of(found)
        needs, aside = wanted_from_shelf(page, wanted), page.reserved_for(holder(name))
        units = {one.item: counted_as(page, one.item) for one in needs}
        units |= {item: counted_as(page, item) for item, *_ in aside}
    held: dict[str, int] = {}
    for item, _, amount in aside:
        held[item] = held.get(item, 0) + amount
    lacking = {one.item: one.amount.units - held.get(one.item, 0) for one in needs}
    body = found.body or {}
    return SavedPlan(
        name,
        body["about"],
        body["recipe_version"],
        str(body["state"]),
        tuple(f"{in_words(many, units[item])} of {item}, lot {lot}" for item, lot, many in aside),
        tuple(
            f"{in_words(gap, units[item])} of {item}" for item, gap in lacking.items() if gap > 0
        ),
        not_on_shelf(wanted, needs),
    )


def plan_of(book: Notebook, name: str) -> BatchPlan:
    """The plan of a batch, worked out again from what was asked.

    Raises
    ------
    InputError: no such batch, or its plan was purged.
    """
    with book.reading() as page:
        found = page.latest(PLAN, name)
    if found is None or found.body is None:
        raise InputError("batch", name, "a batch of the notebook with its plan")
    return worked_out(request_from_json(found.body))
