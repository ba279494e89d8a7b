"""A batch's making taken back: what was used is on the shelf again, its baits are not."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from baitwright.ledger.movements import Movement, undo
from baitwright.ledger.trace import Place, Stop
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batch_needs import wanted_from_shelf
from baitwright.workshop.batches import BATCH, State, batch_of, holder, plan_again, wishes_of
from baitwright.workshop.drawing import Need, reserve
from baitwright.workshop.lots import LOT


def step_back(book: Notebook, name: str, *, now: datetime) -> tuple[Need, ...]:
    """Take the last step of a batch back, its making or its calling off; what is short of it now.

    Raises
    ------
    InputError: no such batch, one that is only planned, or one whose baits have gone on.
    """
    with book.reading() as page:
        state = (batch_of(page, name).body or {})["state"]
    if state == State.CANCELLED:
        return plan_again(book, name, now=now)
    return unmade(book, name, now=now)


def unmade(book: Notebook, name: str, *, now: datetime) -> tuple[Need, ...]:
    """Take the making of a batch back: its baits go, what was used is on the shelf again.

    Raises
    ------
    InputError: no such batch, one that was not made, or one whose baits have gone on.
    """
    with book.writing() as page:
        found = batch_of(page, name, state=State.MADE)
        body = dict(found.body or {})
        lines = [one for entry in body["entries"] for one in page.entry_lines(entry)]
        _require_all_there(page, name, lines)
        page.post(replace(undo(one, time=now), override="undone") for one in lines)
        page.unlink(Place(Stop.BATCH, name))
        lot = page.latest(LOT, name)
        page.write(LOT, name, None, seen=lot.version if lot else 0, time=now, reason="unmade")
        for entry in ("actual", "baits", "entries"):
            del body[entry]
        body["state"] = State.PLANNED
        page.write(BATCH, name, body, seen=found.version, time=now, reason="unmade")
        needs = wanted_from_shelf(page, wishes_of(found))
        return reserve(page, holder(name), needs, time=now)


def _require_all_there(page: Page, name: str, lines: Iterable[Movement]) -> None:
    """Baits that were bagged, sold or thrown away since cannot be unmade."""
    made = next(one for one in lines if one.lot == name)
    held = page.lots(made.item).get(name, 0)
    if held != made.amount:
        got = f"{name}, {held} of its {made.amount} baits"
        raise InputError("batch", got, "one with all its baits", hint="Undo what moved them first.")
