"""A batch made: the shelf drawn down by what was really used, its baits on the shelf, and back."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from baitwright.ledger.movements import Amount, Counted, Movement
from baitwright.ledger.trace import Stop
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import State, holder
from baitwright.workshop.batches.batch_needs import baits_of, wanted_from_shelf
from baitwright.workshop.batches.batch_used import STOCK, really_used
from baitwright.workshop.batches.batches import batch_of, wishes_of, write_state
from baitwright.workshop.shelf.drawing import draw, let_go, make
from baitwright.workshop.shelf.item_units import agree_on_unit
from baitwright.workshop.shelf.lots import Lot, lot_of
from baitwright.workshop.strip.batch_file import BatchTable


@dataclass(frozen=True, slots=True)
class Making:
    """What is told of a batch; ``why_short`` where more was used than the book holds.

    ``seen`` is the version that was looked at; the newest where None.
    """

    told: BatchTable
    best_before: date | None = None
    why_short: str = ""
    seen: int | None = None


@dataclass(frozen=True, slots=True)
class BatchMade:
    """A batch that was made: what it took out of the book, its baits, what they are worth.

    ``priced`` is whether all of that is known.
    """

    name: str
    used: tuple[Movement, ...]
    item: str
    baits: int
    value: Decimal
    priced: bool = True


def made(book: Notebook, name: str, making: Making, *, now: datetime) -> BatchMade:
    """Draw the shelf down for a batch, and put its baits there.

    Raises
    ------
    InputError: no such batch, one that is not planned, no good bait, a day that is still to come,
        or more used than the book holds without a reason.
    """
    told = making.told
    _require_day(told, now)
    with book.writing() as page:
        found = batch_of(page, name, state=State.PLANNED, seen=making.seen)
        name = found.name
        baits = _good_baits(told)
        let_go(page, holder(name), time=now)
        needs = wanted_from_shelf(page, really_used(wishes_of(found), told))
        used = draw(page, needs, time=now, why_short=making.why_short)
        item = baits_of(str((found.body or {})["about"]))
        agree_on_unit(page, item, Amount(baits, Counted.PIECES), now=now)
        best = None if making.best_before is None else making.best_before.isoformat()
        lot = Lot(item, now.date().isoformat(), best, stop=Stop.BATCH.value)
        entry = make(page, name, lot, units=baits, used=used, time=now)
        body = {"state": State.MADE, "actual": _said(told), "baits": baits, "entries": [entry]}
        write_state(page, found, body, now=now)
        priced = lot_of(page, name).priced
    value = -sum((one.value for one in used), Decimal(0))
    return BatchMade(name, used, item, baits, value, priced)


def measured_later(
    book: Notebook, name: str, told: BatchTable, *, now: datetime, seen: int | None = None
) -> tuple[str, ...]:
    """Write down what was weighed or measured after a batch was made; stock stays as it is.

    Returns
    -------
    Names of what lies outside the band that the plan had for it.

    Raises
    ------
    InputError: no such batch, one that was not made, or something that its stock rests on.
    """
    actual = _said(told)
    for entry in STOCK:
        if entry in actual:
            hint = f"Stock rests on it: `baitwright batch undo {name}`, then make it again."
            raise InputError(entry, str(actual[entry]), "what is measured later", hint=hint)
    with book.writing() as page:
        found = batch_of(page, name, state=State.MADE, seen=seen)
        body = found.body or {}
        write_state(page, found, {"actual": {**body["actual"], **actual}}, now=now)
    bands: dict[str, list[float]] = body["predicted"]
    return tuple(
        entry
        for entry, value in actual.items()
        if entry in bands and not bands[entry][0] <= value <= bands[entry][2]
    )


def _said(told: BatchTable) -> dict[str, Any]:
    return told.model_dump(mode="json", exclude_none=True, exclude_defaults=True)


def _good_baits(told: BatchTable) -> int:
    """Baits that are kept: those that are good, or all that were rolled."""
    rolled, good = told.baits_made, told.baits_good
    if good is None and rolled is None:
        raise InputError("baits_made", None, "the baits that were counted, such as 264")
    if good is not None and rolled is not None and good > rolled:
        raise InputError("baits_good", good, f"{rolled} at most, which were rolled")
    return good if good is not None else rolled or 0


def _require_day(told: BatchTable, now: datetime) -> None:
    if told.made is not None and told.made.date() > now.date():
        raise InputError("made", str(told.made.date()), f"a day up to today, {now.date()}")
