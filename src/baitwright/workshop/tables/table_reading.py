"""A CSV or XLSX file as a table: headings, then rows of text, or one clear refusal."""

from __future__ import annotations

from pathlib import Path

from baitwright.terms.errors import InputError
from baitwright.workshop.tables.table_file import (
    LARGEST_FILE,
    Decimals,
    FileTable,
    HowToRead,
    TableRow,
)
from baitwright.workshop.tables.table_sheet import sheet_rows
from baitwright.workshop.tables.table_text import rows_of, text_of
from baitwright.workshop.typed.nearest import plain_name

_ZIP, _OLD = b"PK\x03\x04", b"\xd0\xcf\x11\xe0"


def read_table(path: Path, how: HowToRead) -> FileTable:
    """The table in a file, told apart by what stands in it and not by its name.

    Raises
    ------
    InputError: the file cannot be read, or is no table of reasonable size; the message names the
        file, the place in it, and what would be accepted.
    """
    data = bytes_of(path)
    try:
        return table_of(data, how)
    except InputError as error:
        raise error.located(str(path)) from None


def bytes_of(path: Path) -> bytes:
    """A file's bytes.

    Raises
    ------
    InputError: there is none, it cannot be read, or it is too large.
    """
    try:
        if not path.is_file():
            raise InputError("file", str(path), "a file that is there")
        if path.stat().st_size > LARGEST_FILE:
            size = f"{path.stat().st_size / 1e6:.0f} MB"
            most = f"{LARGEST_FILE // 1_000_000} MB at most"
            raise InputError("file", size, most, where=str(path))
        return path.read_bytes()
    except (OSError, ValueError) as error:
        raise InputError("file", str(path), "a file that can be read", hint=f"{error}.") from None


def table_of(data: bytes, how: HowToRead) -> FileTable:
    """The table in a file's bytes.

    Raises
    ------
    InputError: as `read_table`.
    """
    if data.startswith(_OLD):
        hint = "It is an older kind of workbook, or one with a password."
        raise InputError("file", "a workbook of another kind", ".xlsx or CSV", hint=hint)
    if data.startswith(_ZIP):
        rows, told = sheet_rows(data, how.sheet)
        return _headed(rows, told=told, decimals=how.decimals or Decimals.POINT, even=True)
    if how.sheet:
        raise InputError("sheet", how.sheet, "no sheet: the file is no workbook")
    text, encoding = text_of(data, how.encoding)
    rows, parted = rows_of(text, how)
    decimals = how.decimals or (Decimals.POINT if parted == "comma" else Decimals.EITHER)
    means = {Decimals.POINT: "", Decimals.COMMA: ", a comma before decimals"}
    mark = means.get(decimals, ", a point or a comma before decimals")
    told = f"{encoding.upper()}, columns parted by {parted}s{mark}"
    return _headed(rows, told=told, decimals=decimals, even=False)


def _headed(rows: tuple[TableRow, ...], *, told: str, decimals: Decimals, even: bool) -> FileTable:
    if len(rows) < 2:
        got = "nothing" if not rows else "headings alone"
        raise InputError("table", got, "a row of headings, then at least one row")
    headings = _without_end(rows[0].cells, 0)
    known: dict[str, str] = {}
    for heading in headings:
        plain = plain_name(heading)
        if not plain:
            raise InputError("headings", "a column without one", "a heading over each column")
        if plain in known:
            raise InputError("headings", f"{known[plain]!r} twice", "each heading once")
        known[plain] = heading
    width = len(headings)
    body = (TableRow(row.number, _without_end(row.cells, width)) for row in rows[1:])
    if even:  # a sheet is as wide as its headings, wherever a row's last cell is
        body = (TableRow(row.number, row.cells + ("",) * (width - len(row.cells))) for row in body)
    return FileTable(headings, tuple(body), decimals, told)


def _without_end(cells: tuple[str, ...], least: int) -> tuple[str, ...]:
    """Cells without the empty ones that a program left at the end of a row."""
    last = max((at for at, cell in enumerate(cells, start=1) if cell), default=0)
    return cells[: max(last, least)]
