"""A tub or a blend in words, as the shelf has it: its lot, what it holds, or how it gets there."""

from __future__ import annotations

from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.workshop.shelf.lots import lot_of
from baitwright.workshop.shelf.stock import counted_as
from baitwright.workshop.shelf.stock_words import moved_in
from baitwright.workshop.tubs.tellings import BLEND, ENTRY, MADE_LOTS, TUB, is_there, lot_named
from baitwright.workshop.typed.amounts import in_words

_HOW = {
    TUB: 'name base_lot=LOT and left="2 kg", or make it with `baitwright mix RECIPE "2 kg"`',
    BLEND: 'name part[1].lot=LOT of each part, and left="80 ml"',
}


def shelf_text(book: Notebook, last: Revision) -> str:
    """What the shelf holds of the lot of a record; nothing of a record that is no such lot."""
    if last.kind not in MADE_LOTS or last.body is None:
        return ""
    lot = lot_named(last)
    with book.reading() as page:
        if not is_there(page, lot):
            return f"  not on the shelf: {_HOW[last.kind]}"
        return _held(page, lot)


def moved_text(book: Notebook, made: Revision) -> str:
    """What a version of a record moved on the shelf, and what its lot holds now."""
    entry = (made.body or {}).get(ENTRY)
    if entry is None:
        return shelf_text(book, made)
    with book.reading() as page:
        lines = page.entry_lines(entry)
    return f"{moved_in(book, lines)}\n{shelf_text(book, made)}"


def _held(page: Page, lot: str) -> str:
    told = lot_of(page, lot)
    held = in_words(page.lots(told.item).get(lot, 0), counted_as(page, told.item))
    best = f", best before {told.best_before}" if told.best_before else ""
    aside = ", in quarantine" if told.quarantined else ""
    return f"  on the shelf: lot {lot}, {held} of {told.item}{best}{aside}"
