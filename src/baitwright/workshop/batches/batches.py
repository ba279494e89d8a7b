"""Batches of the notebook: planned and spoken for, cancelled, and planned again."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from datetime import datetime
from pathlib import Path
from typing import Any

from baitwright.batch.batch_plan import BatchPlan
from baitwright.notebook.page import ChangedMeanwhileError, Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH, PLAN, State, holder
from baitwright.workshop.batches.batch_needs import (
    Planned,
    Wish,
    baits_of,
    not_on_shelf,
    predicted_of,
    wanted_from_shelf,
    wishes,
)
from baitwright.workshop.forms.names import as_kept, fair_name
from baitwright.workshop.plans.plan_json import request_as_json
from baitwright.workshop.recipes.recipe_shelf import written_recipe
from baitwright.workshop.shelf.drawing import Need, let_go, reserve
from baitwright.workshop.shelf.stock import ITEM
from baitwright.workshop.strip.bench_strip import STRIP, strip_as_json, strip_of
from baitwright.workshop.told.planned_hours import hours_of
from baitwright.workshop.waters.venue_plan import SESSION, session_as_json, session_of_plan


def plan_into(
    book: Notebook,
    recipe: Path | str,
    made: BatchPlan,
    *,
    now: datetime,
    told: Mapping[str, Any] | None = None,
) -> Planned:
    """Write a planned batch down with recipe and steps, and speak for what it takes off the shelf.

    ``recipe`` is its file or the text of one; what is ``told`` besides goes into the plan's record.

    Raises
    ------
    InputError: the notebook cannot be written to, or its baits could not stand on the shelf.
    """
    wanted, steps, today = wishes(made), strip_of(made), now.date().isoformat()
    with book.writing() as page:
        fair_name(page, ITEM, baits_of(made.request.recipe.name))
        version = written_recipe(page, recipe, now=now).revision.version
        name = f"{today}/B{page.count(BATCH, name=f'{today}/B') + 1}"
        filed = {"about": made.request.recipe.name, "day": today}
        needs = wanted_from_shelf(page, wanted)
        body = {
            **filed,
            "state": State.PLANNED,
            "recipe_version": version,
            "program": made.version,
            "predicted": predicted_of(made),
            "hours": hours_of(made),
            "wishes": [asdict(one) for one in wanted],
        }
        session = session_as_json(session_of_plan(made))
        request = {"request": request_as_json(made.request), SESSION: session}
        asked = {**filed, **request, **(told or {})}
        strip = {**filed, "batch": name, "steps": strip_as_json(steps)}
        for kind, kept in ((PLAN, asked), (STRIP, strip), (BATCH, body)):
            page.write(kind, name, kept, seen=0, time=now)
        short = reserve(page, holder(name), needs, time=now)
        reserved = page.reserved_for(holder(name))
    return Planned(name, reserved, short, not_on_shelf(wanted, needs))


def cancel_batch(
    book: Notebook, name: str, *, now: datetime, why: str = "", seen: int | None = None
) -> str:
    """Cancel a planned batch, and let go of what was spoken for; its name.

    Raises
    ------
    InputError: no such batch, or one that was made or cancelled.
    """
    with book.writing() as page:
        found = batch_of(page, name, state=State.PLANNED, seen=seen)
        let_go(page, holder(found.name), time=now)
        write_state(page, found, {"state": State.CANCELLED}, now=now, reason=why)
    return found.name


def plan_again(book: Notebook, name: str, *, now: datetime) -> tuple[Need, ...]:
    """Take cancelling back, and speak for what the batch takes; what is short of it.

    Raises
    ------
    InputError: no such batch, or one that was not cancelled.
    """
    with book.writing() as page:
        found = batch_of(page, name, state=State.CANCELLED)
        write_state(page, found, {"state": State.PLANNED}, now=now, reason="planned again")
        needs = wanted_from_shelf(page, wishes_of(found))
        return reserve(page, holder(found.name), needs, time=now)


def batch_of(
    page: Page, name: str, *, state: State | None = None, seen: int | None = None
) -> Revision:
    """A batch's newest version; that which was looked at, where one is told.

    Raises
    ------
    ChangedMeanwhileError: another version stands there than the one that was looked at.
    InputError: no such batch, or one in another state.
    """
    found = page.latest(BATCH, as_kept(page, BATCH, name))
    if found is not None and seen not in (None, found.version):
        raise ChangedMeanwhileError(BATCH, name, seen=seen or 0, there=found.version)
    if found is None or found.body is None:
        last = ", ".join(one.name for one in page.last(BATCH, 5)) or "none yet"
        raise InputError("batch", name, f"a batch of the notebook, the last are: {last}")
    if state is not None and (there := State(found.body["state"])) is not state:
        raise InputError("batch", f"{found.name}, {there}", f"one that is {state}")
    return found


def write_state(
    page: Page, found: Revision, told: dict[str, Any], *, now: datetime, reason: str = ""
) -> None:
    """Write the next version of a batch with something told anew."""
    body = {**(found.body or {}), **told}
    page.write(BATCH, found.name, body, seen=found.version, time=now, reason=reason)


def wishes_of(found: Revision) -> tuple[Wish, ...]:
    """What a batch was planned to take."""
    return tuple(Wish.of(one) for one in (found.body or {})["wishes"])
