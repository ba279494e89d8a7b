"""A sheet of an XLSX workbook as rows of text: stored values, never formulas worked out."""

from __future__ import annotations

import io
import warnings
from collections.abc import Iterator
from datetime import date, datetime
from importlib.util import find_spec
from typing import Any

from baitwright.terms.errors import InputError
from baitwright.workshop.tables.table_file import NOT_STORED, TableRow, checked
from baitwright.workshop.tables.table_zip import ACCEPTED, refuse_bomb

DIGITS = 15
"""Digits of a number that a spreadsheet keeps and shows."""


def sheet_rows(data: bytes, sheet: str) -> tuple[tuple[TableRow, ...], str]:
    """The rows of a sheet that is named, or of the first, and the name of that sheet.

    Raises
    ------
    InputError: openpyxl is not installed, the file is damaged, a bomb or locked, there is no such
        sheet, or the table is too large.
    """
    if find_spec("openpyxl") is None:
        hint = "pip install 'baitwright[tables]' reads workbooks too."
        raise InputError(
            "file", "a workbook", "a CSV file, since openpyxl is not installed", hint=hint
        )
    refuse_bomb(data)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")  # of charts and checks that a table does not need
            return _opened(data, sheet)
    except InputError:
        raise
    except Exception as error:  # whatever a reader of a foreign format meets in a damaged file
        hint = f"{type(error).__name__}."
        raise InputError("file", "a damaged workbook", ACCEPTED, hint=hint) from None


def _opened(data: bytes, sheet: str) -> tuple[tuple[TableRow, ...], str]:
    from openpyxl import load_workbook

    values, formulas = (
        load_workbook(io.BytesIO(data), read_only=True, data_only=stored, keep_links=False)
        for stored in (True, False)
    )
    names = [one.title for one in values.worksheets]
    if not names or (sheet and sheet not in names):
        raise InputError("sheet", sheet or None, f"one of: {', '.join(names) or 'none is there'}")
    name = sheet or names[0]
    rows: list[TableRow] = []
    for row in _rows(values[name], formulas[name]):
        if not row.is_blank:
            rows.append(checked(row, len(rows)))
    told = f"sheet {name!r}" if len(names) == 1 else f"sheet {name!r} of {len(names)}"
    return tuple(rows), told


def _rows(values: Any, formulas: Any) -> Iterator[TableRow]:
    for one in (values, formulas):
        one.reset_dimensions()  # what a file says of its own size may be wrong
    both = zip(
        values.iter_rows(values_only=True), formulas.iter_rows(values_only=True), strict=True
    )
    for number, (stored, written) in enumerate(both, start=1):
        checked(TableRow(number, ("",) * len(stored)), number - 1)
        cells = [_text(*pair) for pair in zip(stored, written, strict=True)]
        yield TableRow(number, tuple(cells))


def _text(stored: object, written: object) -> str:
    if stored is None:
        return "" if written is None else NOT_STORED
    if isinstance(stored, float):
        return f"{stored:.{DIGITS}g}"
    if isinstance(stored, datetime):
        whole = stored.time() == datetime.min.time()
        return stored.date().isoformat() if whole else stored.isoformat(" ")
    return stored.isoformat() if isinstance(stored, date) else str(stored).strip()
