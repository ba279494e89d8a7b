"""Two baits side by side, as text, as data and as rows for a spreadsheet."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from typing import Any

from baitwright.sheets.layout import capitals, table
from baitwright.terms.quantity import Quantity
from baitwright.workshop.baits.bait_beside import BesideRow
from baitwright.workshop.mixes.mix_cells import with_band
from baitwright.workshop.mixes.mix_rows import exact
from baitwright.workshop.told.csv_file import Cell
from baitwright.workshop.told.plain import told

HEADER = (
    *("about", "name", "bait", "value", "unit", "8 in 10 from", "8 in 10 to"),
    *("19 in 20 from", "19 in 20 to", "source", "evidence"),
)
IN_BRACKETS = "In brackets the band that holds 8 of 10."
_WIDTHS = (38, -27, -27)


def beside_lines(rows: Sequence[BesideRow], heads: tuple[str, str]) -> list[str]:
    """A table of both for each thing they are compared in."""
    lines: list[str] = []
    for about, few in groupby(rows, lambda one: one.about):
        cells = [(one.label, _cell(one.first), _cell(one.second)) for one in few]
        lines += ["", *table([(capitals(about), *heads), *cells], _WIDTHS)]
    return lines


def _cell(one: Quantity | None) -> str:
    return "none" if one is None else with_band(one)


def beside_json(rows: Iterable[BesideRow], keys: tuple[str, str]) -> list[dict[str, Any]]:
    """Each row as plain data; what one of them does not have is null."""
    return [
        {
            "about": one.about,
            "name": one.label,
            keys[0]: None if one.first is None else told(one.first),
            keys[1]: None if one.second is None else told(one.second),
        }
        for one in rows
    ]


def beside_rows(rows: Iterable[BesideRow], heads: tuple[str, str]) -> Iterator[tuple[Cell, ...]]:
    """Each number in a row of its own, its bait named."""
    for row in rows:
        for head, one in zip(heads, (row.first, row.second), strict=True):
            if one is not None:
                yield number_row(row.about, head, one, label=row.label)


def number_row(about: str, bait: str, one: Quantity, *, label: str) -> tuple[Cell, ...]:
    """One number with its bands and what stands behind it."""
    data = told(one)
    ends = [exact(end) for band in ("band80", "band95") for end in data[band]]
    middle = exact(data["median"])
    return (about, label, bait, middle, data["unit"], *ends, data["source"], data["evidence"])
