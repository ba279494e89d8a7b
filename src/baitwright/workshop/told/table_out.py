"""A table for a spreadsheet: CSV, or a workbook where the name asks for one."""

from __future__ import annotations

import io
from collections.abc import Iterable, Sequence
from decimal import Decimal
from importlib.util import find_spec
from pathlib import Path
from typing import Any

from baitwright.terms.errors import InputError
from baitwright.workshop.told.csv_file import Cell, write_csv
from baitwright.workshop.told.files import write_together
from baitwright.workshop.told.spreadsheet import spreadsheet_text

_WORKBOOK = ".xlsx"
_WIDEST = 60


def write_table(
    path: Path, header: Sequence[str], rows: Iterable[Sequence[Cell]], *, sheet: str
) -> Path:
    """Write a table as CSV, or as a workbook with one sheet where the name ends in .xlsx.

    Raises
    ------
    InputError: another ending, openpyxl is not installed, or the file cannot be written.
    """
    if path.suffix.lower() == ".csv":
        return write_csv(path, header, rows)
    if path.suffix.lower() != _WORKBOOK:
        raise InputError("out", str(path), "a name that ends in .csv or .xlsx")
    if find_spec("openpyxl") is None:
        hint = "pip install 'baitwright[tables]' writes workbooks too."
        raise InputError("out", str(path), "a name that ends in .csv", hint=hint)
    content = _workbook(header, rows, sheet)
    return write_together(path.parent, {path.name: content}, field="out")[0]


def _workbook(header: Sequence[str], rows: Iterable[Sequence[Cell]], sheet: str) -> bytes:
    from openpyxl import Workbook
    from openpyxl.styles import Font
    from openpyxl.utils import get_column_letter

    book = Workbook()
    page: Any = book.active
    page.title = sheet[:31]
    page.append(list(header))
    for row in rows:
        page.append([_cell(one) for one in row])
    for cell in page[1]:
        cell.font = Font(bold=True)
    for at, column in enumerate(page.columns, start=1):
        longest = max(len(str(cell.value or "")) for cell in column)
        page.column_dimensions[get_column_letter(at)].width = min(longest + 2, _WIDEST)
    page.freeze_panes = "A2"
    made = io.BytesIO()
    book.save(made)
    return made.getvalue()


def _cell(value: Cell) -> Any:
    """Numbers as numbers; text never as a formula."""
    return value if value is None or isinstance(value, int | Decimal) else spreadsheet_text(value)
