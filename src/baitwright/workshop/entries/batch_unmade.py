"""A batch's making taken back: what was used is on the shelf again, its baits are not."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from itertools import takewhile

from baitwright.ledger.entries import Lines
from baitwright.ledger.movements import Movement, Reason, undo
from baitwright.ledger.price import shared_out
from baitwright.ledger.trace import Place, Stop
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH, State, holder
from baitwright.workshop.batches.batch_needs import wanted_from_shelf
from baitwright.workshop.batches.batches import batch_of, plan_again, wishes_of
from baitwright.workshop.entries.undone import refuse_kept
from baitwright.workshop.shelf.draft import Draft
from baitwright.workshop.shelf.drawing import Need, reserve
from baitwright.workshop.shelf.lots import LOT, lot_of, refuse_gone_on, refuse_quarantined
from baitwright.workshop.shelf.stock import standing


def step_back(
    book: Notebook, name: str, *, now: datetime, seen: int | None = None
) -> tuple[Need, ...]:
    """Take the last step of a batch back, its making or its cancelling; what is short of it now.

    ``seen`` is the version that was looked at; the newest where None.

    Raises
    ------
    InputError: no such batch, one that is only planned, or one whose baits have gone on.
    """
    with book.reading() as page:
        state = State((batch_of(page, name, seen=seen).body or {})["state"])
    if state is State.CANCELLED:
        return plan_again(book, name, now=now)
    return unmade(book, name, now=now)


def unmade(book: Notebook, name: str, *, now: datetime) -> tuple[Need, ...]:
    """Take the making of a batch back: its baits go, what was used is on the shelf again.

    Where others of the item have gone at the average, its baits go at that, and so come back what
    was used.

    Raises
    ------
    InputError: no such batch, one that was not made, one in quarantine, or baits that have gone on.
    """
    with book.writing() as page:
        found = batch_of(page, name, state=State.MADE)
        name, body = found.name, dict(found.body or {})
        place = Place(Stop.BATCH, name)
        lines = tuple(one for entry in body["entries"] for one in page.entry_lines(entry))
        made = next(one for one in lines if one.reason is Reason.MADE)
        refuse_quarantined(name, lot_of(page, name))
        _require_all_there(page, made)
        refuse_gone_on(page, place)
        draft = Draft(page, now=now)
        for line in _back(page, lines, made, now=now):
            draft.put(line)
        draft.post()
        refuse_kept(page, made.item, name)
        page.unlink(place)
        lot = page.latest(LOT, name)
        page.write(LOT, name, None, seen=lot.version if lot else 0, time=now, reason="unmade")
        for entry in ("actual", "baits", "entries"):
            del body[entry]
        body["state"] = State.PLANNED
        page.write(BATCH, name, body, seen=found.version, time=now, reason="unmade")
        needs = wanted_from_shelf(page, wishes_of(found))
        return reserve(page, holder(name), needs, time=now)


def _back(page: Page, lines: Lines, made: Movement, *, now: datetime) -> Iterator[Movement]:
    """The lines of a making, taken back at what its baits are worth now."""
    worth = _worth(page, made)
    shares = iter(shared_out(worth, [-one.value for one in lines if one is not made]))
    for line in lines:
        value = -worth if line is made else next(shares)
        yield replace(undo(line, time=now), value=value, override="undone")


def _worth(page: Page, made: Movement) -> Decimal:
    """What baits came in with; the average, once any of the item have gone at it since."""
    since = takewhile(lambda one: one != made, reversed(page.book_lines(made.item)))
    if all(one.amount > 0 or one.reason is Reason.UNDONE for one in since):
        return made.value
    return standing(page, made.item).account(made.item, made.lot).worth_of(made.amount)


def _require_all_there(page: Page, made: Movement) -> None:
    """Baits that were bagged, sold or thrown away since cannot be unmade."""
    held = page.lots(made.item).get(made.lot, 0)
    if held != made.amount:
        got = f"{made.lot}, {held} of its {made.amount} baits"
        raise InputError("batch", got, "one with all its baits", hint="Undo what moved them first.")
