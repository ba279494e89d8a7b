"""A table from elsewhere as rows of text, what may be said of its file, and how large it may be."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from baitwright.terms.errors import InputError

LARGEST_FILE = 20_000_000
MOST_ROWS, MOST_COLUMNS, LONGEST_CELL = 10_000, 100, 10_000
"""Bytes, rows, columns and characters of one table (judgement): a shelf needs far less."""
NOT_STORED = "a formula without a stored value"
"""Stands for a formula that the spreadsheet program left without its value."""
_SHOWN = 60


class Decimals(StrEnum):
    """What stands before the decimals of a number; either is what one plain mark can be."""

    POINT = "point"
    COMMA = "comma"
    EITHER = "either"


@dataclass(frozen=True, slots=True)
class HowToRead:
    """What the maker says of a file: encoding and delimiter of a CSV, sheet of an XLSX, decimals.

    What is left empty is found in the file, or asked for.
    """

    encoding: str = ""
    delimiter: str = ""
    sheet: str = ""
    decimals: Decimals | None = None


@dataclass(frozen=True, slots=True)
class TableRow:
    """A row: its number in the file (the line it begins on, or the sheet's row), and its cells."""

    number: int
    cells: tuple[str, ...]

    @property
    def is_blank(self) -> bool:
        """Whether nothing stands in it."""
        return not any(self.cells)


@dataclass(frozen=True, slots=True)
class FileTable:
    """A table as its file has it; ``told`` says how it was read.

    Blank rows are left out. A row may be shorter or longer than the headings.
    """

    headings: tuple[str, ...]
    rows: tuple[TableRow, ...]
    decimals: Decimals
    told: str


@dataclass(frozen=True, slots=True)
class RowError:
    """What is wrong with one cell of a table: where it stands, what it says, what it takes."""

    row: int
    column: str
    value: str
    accepted: str
    hint: str = ""


def shortened(value: object) -> str:
    """A cell as an error shows it: all of a short one, the start of a long one."""
    text = "" if value is None else str(value)
    return text if len(text) <= _SHOWN else f"{text[:_SHOWN]} ... ({len(text)} characters)"


def checked(row: TableRow, told: int) -> TableRow:
    """A row within the limits; ``told`` is how many came before it.

    Raises
    ------
    InputError: it is too wide, a cell is too long, or there are too many rows.
    """
    where = f"row {row.number}"
    if told > MOST_ROWS:
        raise InputError("table", f"more than {MOST_ROWS} rows", f"{MOST_ROWS} rows at most")
    if len(row.cells) > MOST_COLUMNS:
        raise InputError(where, f"{len(row.cells)} columns", f"{MOST_COLUMNS} at most")
    longest = max(row.cells, key=len, default="")
    if len(longest) > LONGEST_CELL:
        raise InputError(where, shortened(longest), f"cells of {LONGEST_CELL} characters at most")
    return row
