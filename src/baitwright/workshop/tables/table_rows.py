"""Rows of a table as deliveries, or what is wrong with each; nothing is written here."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal

from baitwright.terms.errors import InputError
from baitwright.workshop.shelf.deliveries import Delivery
from baitwright.workshop.shelf.item_units import refuse_unit
from baitwright.workshop.shelf.supplier_lots import came_twice
from baitwright.workshop.tables.table_cells import RowCells
from baitwright.workshop.tables.table_columns import Columns
from baitwright.workshop.tables.table_fields import Days, amount_in, day_in, money_in
from baitwright.workshop.tables.table_file import FileTable, RowError
from baitwright.workshop.tables.table_headings import Ours
from baitwright.workshop.tables.table_known import KnownShelf
from baitwright.workshop.tables.table_labels import allergens_in, hazards_in, name_in


@dataclass(frozen=True, slots=True)
class Reading:
    """How rows are read: the day it is, the order of days, and whether a lot may come again."""

    today: date
    days: Days | None = None
    again: bool = False


@dataclass(frozen=True, slots=True)
class ReadRow:
    """A row that can go onto the shelf, with what is worth knowing of it."""

    number: int
    delivery: Delivery
    notes: tuple[str, ...]


def read_rows(
    table: FileTable, columns: Columns, *, known: KnownShelf, how: Reading
) -> tuple[tuple[ReadRow, ...], tuple[RowError, ...]]:
    """Every row as a delivery, and every error of those that are none.

    Parameters
    ----------
    table, columns: what the file says, and where.
    known: what the shelf knows; it learns each row, so that later rows agree with earlier ones.
    how: today, and what the maker said.
    """
    rows, wrong = [], []
    for one in table.rows:
        made, errors = _read(RowCells(table, columns, one), known, how)
        wrong += errors
        if made is not None:
            rows.append(made)
    return tuple(rows), tuple(wrong)


def _read(row: RowCells, known: KnownShelf, how: Reading) -> tuple[ReadRow | None, list[RowError]]:
    cells, wanted = len(row.row.cells), len(row.table.headings)
    if cells != wanted:
        got = f"{cells} cells"
        hint = "Text with a delimiter in it stands in quotes."
        error = RowError(row.row.number, "the row", got, f"{wanted}, as many as headings", hint)
        return None, [error]
    item = row.need(Ours.ITEM, name_in, accepted="what came, such as semolina")
    told = row.read(Ours.UNIT, str, empty="") or row.columns.matched[Ours.AMOUNT].unit
    decimals = row.table.decimals
    amount = row.need(
        Ours.AMOUNT,
        lambda cell: amount_in(cell, told, decimals=decimals),
        accepted="an amount such as 25 kg",
    )
    value = row.read(Ours.PRICE, lambda cell: _paid(cell, row, known), empty=None)
    if Ours.PRICE in row.columns.matched and not row.cell(Ours.PRICE):
        row.notes.append("no price: it is unknown in the book")
    best = row.read(Ours.BEST_BEFORE, lambda cell: day_in(cell, how.days), empty=None)
    came = row.read(Ours.CAME, lambda cell: _come(cell, how), empty=None)
    texts = [
        row.read(ours, reader, empty="")
        for ours, reader in (
            (Ours.SUPPLIER, name_in),
            (Ours.SUPPLIER_LOT, name_in),
            (Ours.ALLERGENS, allergens_in),
            (Ours.HAZARDS, hazards_in),
        )
    ]
    if row.wrong or item is None or amount is None:
        return None, row.wrong
    supplier, lot, allergens, hazards = texts
    made = Delivery(item, amount, value, best, supplier, lot, came, allergens, hazards)
    return _agreed(row, made, known=known, how=how)


def _agreed(
    row: RowCells, made: Delivery, *, known: KnownShelf, how: Reading
) -> tuple[ReadRow | None, list[RowError]]:
    """A delivery that the shelf and the rows before it agree with."""
    item, note = known.item_named(made.item)
    made = replace(made, item=item)
    row.notes += note
    held = known.counted.setdefault(item, made.amount.counted)
    try:
        refuse_unit(item, held, made.amount)
    except InputError as error:
        row.refuse(Ours.AMOUNT, error)
    before = known.came_before(made)
    if before and not how.again:
        row.refuse(Ours.SUPPLIER_LOT, came_twice(made.supplier_lot, before))
    if made.best_before is not None and made.best_before < how.today:
        row.notes.append(f"past its day already, {made.best_before}")
    known.learn(made, row=row.row.number)
    return (None if row.wrong else ReadRow(row.row.number, made, tuple(row.notes))), row.wrong


def _paid(cell: str, row: RowCells, known: KnownShelf) -> Decimal:
    """What was paid; the shop keeps one money, so that a table must not tell two."""
    value, currency = money_in(cell, decimals=row.table.decimals)
    known.currency = known.currency or currency
    if currency and currency != known.currency:
        raise InputError("", cell, f"money in {known.currency}, as in the rows before")
    return value


def _come(cell: str, how: Reading) -> date:
    came = day_in(cell, how.days)
    if came > how.today:
        raise InputError("", cell, f"a day up to today, {how.today}")
    return came
