"""Stock that moves: what is taken, what a count found, and the last entry undone."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime
from hashlib import sha256

from baitwright.ledger.entries import Lines
from baitwright.ledger.making import Taken, Why, use
from baitwright.ledger.movements import NOTHING, STEP, Amount, Book, Movement, Reason, undo
from baitwright.ledger.picking import pick
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.entries.undone import follow
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.shelf.item_units import refuse_unit
from baitwright.workshop.shelf.lots import LOT, lot_of, refuse_quarantined
from baitwright.workshop.shelf.stock import Shelf, as_item, shelf_of, standing
from baitwright.workshop.shelf.too_little import left_of, not_picked, too_little


@dataclass(frozen=True, slots=True)
class Taking:
    """What is taken and why; of a lot where one is named, with a reason beyond what is free."""

    item: str
    amount: Amount
    reason: Reason = Reason.USED
    lot: str = ""
    override: str = ""


def take_out(book: Notebook, wanted: Taking, *, now: datetime) -> tuple[Movement, ...]:
    """Take stock off the shelf, the earliest to expire first.

    Raises
    ------
    InputError: an unknown item or lot, another unit, more than is free, or a lot in quarantine
        that is not lost.
    """
    with book.writing() as page:
        lot = as_kept(page, LOT, wanted.lot) if wanted.lot else ""
        wanted = replace(wanted, item=as_item(page, wanted.item), lot=lot)
        shelf, before = shelf_of(page, wanted.item), standing(page, wanted.item)
        refuse_unit(wanted.item, shelf.counted, wanted.amount)
        parts = _parts(page, shelf, wanted, day=now.date())
        taken = (Taken(wanted.item, lot, units) for lot, units in parts)
        lines = use(before, taken, Why(now, wanted.reason, wanted.override))
        page.post(lines)
    return lines


def count_lot(book: Notebook, lot: str, found: Amount, *, now: datetime) -> int:
    """Set a lot to what a count found; by how much the book was wrong.

    What was missing takes its value along; what was too much comes in at the average.

    Raises
    ------
    InputError: an unknown lot, or another unit.
    """
    with book.writing() as page:
        return counted_on(page, as_kept(page, LOT, lot), found, now=now)[0]


def counted_on(page: Page, lot: str, found: Amount, *, now: datetime) -> tuple[int, int | None]:
    """The same on a page that is open already; by how much, and the entry if there is one."""
    item = lot_of(page, lot).item
    shelf, before = shelf_of(page, item), standing(page, item)
    refuse_unit(item, shelf.counted, found)
    wrong = found.units - before.lots.get(lot, 0)
    if not wrong:
        return 0, None
    worth = (before.account(item, lot).average or NOTHING) * max(wrong, 0)
    line = Movement(item, lot, now, wrong, worth.quantize(STEP), Reason.COUNTED, "counted")
    line = line if wrong > 0 else before.out(line)
    before.take(line)
    return wrong, page.post([line])


def undo_last(book: Notebook, *, now: datetime, seen: str = "") -> tuple[Movement, ...]:
    """Take the last entry of the book back; the book keeps both, and refuses where it is empty.

    ``seen`` is the mark of the entry that was looked at, where one was: another is left alone.
    """
    with book.writing() as page:
        last = page.entry_lines()
        if seen and seen != mark_of(last):
            hint = "Something else moved meanwhile: look at what was written last, then undo that."
            raise InputError("undo", "an entry that is not the last", "the last one", hint=hint)
        back = tuple(replace(undo(one, time=now), override="undone") for one in last)
        if not back:
            raise InputError("undo", None, "an entry of the book, which is empty")
        stands: dict[str, Book] = {}
        for line in back:
            stands[line.item] = (stands.get(line.item) or standing(page, line.item)).take(line)
        follow(page, page.post(back), now=now)
    return back


def mark_of(lines: Lines) -> str:
    """What tells an entry from every other one."""
    return sha256(repr(lines).encode()).hexdigest()[:16]


def _parts(page: Page, shelf: Shelf, wanted: Taking, *, day: date) -> tuple[tuple[str, int], ...]:
    units = wanted.amount.units
    if wanted.lot:
        lot = lot_of(page, wanted.lot)
        if lot.item != shelf.item:
            known = ", ".join(one.lot for one in shelf.lots)
            raise InputError("lot", wanted.lot, f"a lot of {shelf.item}: {known}")
        if wanted.reason is not Reason.LOST:
            refuse_quarantined(wanted.lot, lot)
        free, spoken = left_of(shelf, wanted.lot)
        if units > free and not wanted.override.strip():
            hint = f"{spoken}Count it, or say --why more was taken than the book holds."
            raise too_little(shelf, units, free, hint=hint)
        return ((wanted.lot, units),)
    picked = pick(shelf.lots, units, day=day)
    if picked.short:
        hint = not_picked(shelf, picked.past).strip()
        hint = "To take more, name the lot with --lot." if wanted.override else hint
        raise too_little(shelf, units, units - picked.short, hint=hint)
    return picked.lots
