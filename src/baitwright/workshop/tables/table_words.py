"""A table that was imported, or was to be, in words and as data."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from baitwright.workshop.shelf.deliveries import Delivery
from baitwright.workshop.tables.table_file import RowError
from baitwright.workshop.tables.table_import import TableImport
from baitwright.workshop.tables.table_rows import ReadRow
from baitwright.workshop.told.worth_words import money
from baitwright.workshop.typed.amounts import in_words

_MOST_TOLD = 50
"""Rows told one by one; of a longer table the data tells all."""


def import_text(done: TableImport) -> str:
    """What became of a table, row by row."""
    lines = [f"read as {done.table.told}", *_columns(done)]
    if done.wrong:
        lines += ["", *first_of(map(_wrong, done.wrong), len(done.wrong))]
        rows = len({one.row for one in done.wrong})
        lines += ["", f"nothing imported: {rows} of {len(done.table.rows)} rows to put right"]
        return "\n".join(lines)
    named = done.lots or ("",) * len(done.rows)
    rows_told = (f"  {row_line(row, lot)}" for row, lot in zip(done.rows, named, strict=True))
    lines += ["", *first_of(rows_told, len(done.rows)), ""]
    if done.lots:
        lines.append(
            f"{several(len(done.lots), 'lot')} on the shelf; `baitwright shelf undo` takes all back"
        )
        lines.append(f"copied before: {done.copied}")
    else:
        lines.append(f"{several(len(done.rows), 'row')} to go onto the shelf; nothing imported yet")
    return "\n".join(lines)


def import_data(done: TableImport) -> dict[str, Any]:
    """What became of a table as plain data; amounts in milligrams, microlitres or pieces."""
    lots = done.lots or (None,) * len(done.rows)
    return {
        "read_as": done.table.told,
        "columns": {
            str(ours): {"theirs": one.heading, "found": one.how}
            for ours, one in done.columns.matched.items()
        },
        "unmatched": list(done.columns.unmatched),
        "rows": [_as_data(row, lot) for row, lot in zip(done.rows, lots, strict=True)],
        "errors": [error_data(one) for one in done.wrong],
        "imported": bool(done.lots),
        "copied_before": None if done.copied is None else str(done.copied),
    }


def several(count: int, thing: str) -> str:
    """So many of a thing: one row, two rows; one analysis, two analyses."""
    many = f"{thing[:-2]}es" if thing.endswith("is") else f"{thing}s"
    return f"{count} {thing if count == 1 else many}"


def wrong_line(one: RowError) -> str:
    """One error with its place."""
    came = repr(one.value) if one.value else "nothing"
    hint = f" {one.hint}" if one.hint else ""
    return f"row {one.row}, {one.column}: got {came}, but it takes {one.accepted}.{hint}"


def error_data(one: RowError) -> dict[str, Any]:
    """One error as plain data."""
    return asdict(one)


def _columns(done: TableImport) -> Iterator[str]:
    for ours, one in done.columns.matched.items():
        unit = f", in {one.unit}" if one.unit else ""
        mark = "? " if one.how == "spelled otherwise" else "  "
        yield f"{mark}{ours}: {one.heading!r}{unit} ({one.how})"
    if done.columns.unmatched:
        yield f"  not used: {', '.join(map(repr, done.columns.unmatched))}"


def first_of(lines: Iterator[str], count: int) -> Iterator[str]:
    """The first of many lines, and how many more there are."""
    for at, line in enumerate(lines):
        if at == _MOST_TOLD:
            yield f"... and {count - _MOST_TOLD} more: --json tells all"
            return
        yield line


def _wrong(one: RowError) -> str:
    return f"  ! {wrong_line(one)}"


def row_line(row: ReadRow, lot: str = "") -> str:
    """What a row puts on the shelf, or would."""
    one = row.delivery
    named = f"lot {lot}, " if lot else ""
    parts = [f"{in_words(one.amount.units, one.amount.counted)} of {one.item}, {_paid(one)}"]
    parts += _said(one)
    notes = f" ({'; '.join(row.notes)})" if row.notes else ""
    return f"row {row.number}: {named}{', '.join(parts)}{notes}"


def _paid(one: Delivery) -> str:
    return "price unknown" if one.value is None else money(one.value, whole=True)


def _said(one: Delivery) -> Iterator[str]:
    if one.best_before is not None:
        yield f"best before {one.best_before}"
    if one.supplier or one.supplier_lot:
        yield f"{one.supplier} {one.supplier_lot}".strip()
    yield from filter(None, (one.allergens, one.hazards))


def _as_data(row: ReadRow, lot: str | None) -> dict[str, Any]:
    one = row.delivery
    return {
        "row": row.number,
        "lot": lot,
        "item": one.item,
        "amount": one.amount.units,
        "counted": one.amount.counted.value,
        "price": None if one.value is None else str(one.value),
        "best_before": None if one.best_before is None else one.best_before.isoformat(),
        "came": None if one.came is None else one.came.isoformat(),
        "supplier": one.supplier,
        "supplier_lot": one.supplier_lot,
        "allergens": one.allergens,
        "hazards": one.hazards,
        "notes": list(row.notes),
    }
