"""Lists as CSV files that any spreadsheet reads, and none calculates."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence
from decimal import Decimal
from pathlib import Path

from baitwright.workshop.told.files import write_together
from baitwright.workshop.told.spreadsheet import spreadsheet_text

Cell = str | int | Decimal | None
"""Numbers are written as they are; text is kept from being taken for a formula."""


def write_csv(path: Path, header: Sequence[str], rows: Iterable[Sequence[Cell]]) -> Path:
    """Write a list, whole or not at all; UTF-8 with the mark by which spreadsheets know it.

    Raises
    ------
    InputError: the file cannot be written.
    """
    text = io.StringIO(newline="")
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(header)
    writer.writerows([_cell(one) for one in row] for row in rows)
    content = text.getvalue().encode("utf-8-sig")
    return write_together(path.parent, {path.name: content}, field="csv")[0]


def _cell(value: Cell) -> str:
    return spreadsheet_text(format(value, "f") if isinstance(value, Decimal) else value)
