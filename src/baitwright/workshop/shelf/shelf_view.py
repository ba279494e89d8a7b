"""The shelf to look at: what it is worth, what is due, and one item with its lots and moves."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from baitwright.ledger.movements import NOTHING, Counted, Movement
from baitwright.ledger.picking import LotOnShelf, due, first_to_go
from baitwright.notebook.store import Notebook
from baitwright.workshop.shelf.lots import Lot, lots_named, without_price
from baitwright.workshop.shelf.stock import Shelf, counted_as, item_named, shelf_of, shelves
from baitwright.workshop.shelf.stock_words import SOON

_LAST = 30
"""Moves of an item that are told one by one."""


@dataclass(frozen=True, slots=True)
class Due:
    """A lot that is past its day, or soon will be."""

    item: str
    counted: Counted
    lot: LotOnShelf
    is_past: bool


@dataclass(frozen=True, slots=True)
class WholeShelf:
    """Every item by name, what all is worth, and what to use first.

    ``unpriced`` counts lots of which not all of the price is known.
    """

    items: tuple[Shelf, ...]
    worth: Decimal
    unpriced: int
    due: tuple[Due, ...]


@dataclass(frozen=True, slots=True)
class LotLine:
    """A lot of an item: what it holds, and what was written of it."""

    held: LotOnShelf
    told: Lot
    is_past: bool


@dataclass(frozen=True, slots=True)
class ItemView:
    """One item with its lots, the first to go first, and what moved it last."""

    shelf: Shelf
    lots: tuple[LotLine, ...]
    moves: tuple[Movement, ...]


@dataclass(frozen=True, slots=True)
class Moved:
    """A line of an entry, what its item is counted in, and whether all of its price is known."""

    line: Movement
    counted: Counted
    is_priced: bool


def whole_shelf(book: Notebook, *, today: date, words: str = "") -> WholeShelf:
    """The shelf; only items with all of some words in their names, where told."""
    found = tuple(
        one
        for one in shelves(book)
        if all(word.casefold() in one.item.casefold() for word in words.split())
    )
    worth = sum((one.account.value for one in found), NOTHING)
    by_name = tuple(sorted(found, key=lambda one: one.item.casefold()))
    unpriced = sum(len(one.apart) for one in found)
    return WholeShelf(by_name, worth, unpriced, use_first(found, today=today))


def use_first(found: tuple[Shelf, ...], *, today: date, most: int = 20) -> tuple[Due, ...]:
    """Lots that are past their day or come to it within a month, the earliest first."""
    every = [
        Due(one.item, one.counted, lot, lot.past(today))
        for one in found
        for lot in due(one.lots, day=today, within=SOON)
    ]
    return tuple(sorted(every, key=lambda one: first_to_go(one.lot))[:most])


def item_view(book: Notebook, name: str, *, today: date) -> ItemView:
    """One item of the shelf, however its name is spaced or capitalised.

    Raises
    ------
    InputError: there is none.
    """
    with book.reading() as page:
        item = item_named(page, name) or name
        counted_as(page, item)
        shelf = shelf_of(page, item)
        told = dict(lots_named(page, (one.lot for one in shelf.lots)))
        moves = page.book_lines(item)[-_LAST:]
    lots = (LotLine(one, told[one.lot], one.past(today)) for one in shelf.lots)
    first = sorted(lots, key=lambda one: first_to_go(one.held))
    return ItemView(shelf, tuple(first), tuple(reversed(moves)))


def last_entry(book: Notebook) -> tuple[Moved, ...]:
    """The last entry of the shelf's book, which undoing takes back."""
    with book.reading() as page:
        lines = page.entry_lines()
        unpriced = without_price(page, {one.lot for one in lines})
        return tuple(
            Moved(one, counted_as(page, one.item), one.lot not in unpriced) for one in lines
        )
