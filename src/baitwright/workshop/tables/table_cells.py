"""A row of a table while it is read: cells by our names, what is wrong, what is worth knowing."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypeVar

from baitwright.terms.errors import InputError
from baitwright.workshop.tables.table_columns import Columns
from baitwright.workshop.tables.table_file import FileTable, RowError, TableRow, shortened
from baitwright.workshop.tables.table_headings import Ours
from baitwright.workshop.tables.table_labels import sound

T = TypeVar("T")
E = TypeVar("E")


@dataclass(slots=True)
class RowCells:
    """A row of a file's table; it gathers errors and notes as it is read."""

    table: FileTable
    columns: Columns
    row: TableRow
    wrong: list[RowError] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def cell(self, ours: Ours) -> str:
        """What stands in a cell; nothing where the table has no such column."""
        column = self.columns.matched.get(ours)
        return self.row.cells[column.place] if column else ""

    def need(self, ours: Ours, reader: Callable[[str], T], *, accepted: str) -> T | None:
        """A cell read that must not be empty; None where it is refused."""
        if not self.cell(ours):
            self.refuse(ours, InputError("", None, accepted))
        return self.read(ours, reader, empty=None)

    def read(self, ours: Ours, reader: Callable[[str], T], *, empty: E) -> T | E:
        """A cell read; ``empty`` where nothing stands in it, or where it is refused."""
        cell = self.cell(ours)
        try:
            return reader(sound(cell)) if cell else empty
        except InputError as error:
            self.refuse(ours, error)
            return empty

    def refuse(self, ours: Ours, error: InputError) -> None:
        """Write down what is wrong with a cell."""
        column, value = self.columns.matched.get(ours), shortened(self.cell(ours))
        heading = column.heading if column else str(ours)
        told = RowError(self.row.number, heading, value, error.accepted, error.hint)
        self.wrong.append(told)
