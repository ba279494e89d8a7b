"""The shelf on paper: every lot with what it holds, and room for what a count finds."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from decimal import Decimal
from pathlib import Path

from baitwright.ledger.movements import NOTHING, Counted
from baitwright.ledger.picking import LotOnShelf, due
from baitwright.sheets.list_sheet import Column, Group, Listed, ListSheet, Paper, list_pages
from baitwright.sheets.wording import calendar_day, count_of
from baitwright.workshop.shelf.shelf_table import worth_by_lot
from baitwright.workshop.shelf.stock import Shelf
from baitwright.workshop.shelf.stock_words import SOON
from baitwright.workshop.told.files import write_together
from baitwright.workshop.told.worth_words import NOT_KNOWN, in_short, worth
from baitwright.workshop.typed.amounts import in_words

_COLUMNS = (
    Column("item and its lots", 3.4),
    Column("holds", 1.6, numbers=True),
    Column("spoken for", 1.6, numbers=True),
    Column("best before", 3.0),
    Column("worth", 1.4, numbers=True),
    Column("counted", 1.4, to_write=True),
)


def write_stock(path: Path, shelves: Iterable[Shelf], *, paper: str, now: datetime) -> Path:
    """Write what stands on the shelf as a PDF on `a4` or `a5`.

    Raises
    ------
    InputError: the file cannot be written.
    """
    pages = list_pages(stock_sheet(shelves, now=now), Paper(paper))
    return write_together(path.parent, {path.name: pages}, field="pdf")[0]


def stock_sheet(shelves: Iterable[Shelf], *, now: datetime) -> ListSheet:
    """What stands on the shelf: items with their worth at the moving average, lots by their day."""
    found = [one for one in shelves if one.account.amount or any(lot.held for lot in one.lots)]
    total = sum((one.account.value for one in found), NOTHING)
    by_name = sorted(found, key=lambda one: one.item.casefold())
    groups = tuple(_group(one, now) for one in by_name)
    apart = sum(len(one.apart) for one in found)
    remarks = [f"All together worth {worth(total, apart)}, at the moving average."]
    remarks += [NOT_KNOWN] if apart else []
    if not found:
        remarks = ["The shelf is empty."]
    table = Listed("On the shelf", _COLUMNS, groups, tuple(remarks))
    return ListSheet("Stock", count_of(len(found), "item"), now, (table,))


def _group(shelf: Shelf, now: datetime) -> Group:
    spoken = sum(lot.reserved for lot in shelf.lots)
    rows = tuple(
        _row(lot, value, shelf.counted, day=now.date()) for lot, value in worth_by_lot(shelf)
    )
    held = in_words(shelf.account.amount, shelf.counted)
    reserved = in_words(spoken, shelf.counted) if spoken else ""
    value = in_short(shelf.account.value, whole=not shelf.apart)
    return Group((shelf.item, held, reserved, "", value, ""), rows)


def _row(lot: LotOnShelf, value: Decimal, counted: Counted, *, day: date) -> tuple[str, ...]:
    reserved = in_words(lot.reserved, counted) if lot.reserved else ""
    return (
        lot.lot,
        in_words(lot.held, counted),
        reserved,
        _until(lot, day),
        in_short(value, whole=lot.priced),
        "",
    )


def _until(lot: LotOnShelf, day: date) -> str:
    """A lot's day, and whether it is over, near, or the lot set aside."""
    best = "" if lot.best_before is None else calendar_day(lot.best_before)
    near = "past" if lot.past(day) else "soon" if due((lot,), day=day, within=SOON) else ""
    words = ", ".join(filter(None, (best, near, "in quarantine" if lot.quarantined else "")))
    return f"! {words}" if lot.quarantined or near else words
