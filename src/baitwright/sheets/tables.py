"""The small tables that lie beside the sheets: words and remarks, no numbers."""

from __future__ import annotations

import csv
from pathlib import Path

DATA = Path(__file__).with_name("data")


def lines_of(name: str, columns: tuple[str, ...]) -> list[dict[str, str]]:
    """Every line of a table by column.

    Raises
    ------
    ValueError: the columns are others, or a cell is empty or one too many.
    """
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        header, *lines = csv.reader(file)
    if tuple(header) != columns:
        raise ValueError(f"{name}: the columns are {', '.join(header)}, not {', '.join(columns)}")
    for line in lines:
        if len(line) != len(columns) or not all(cell.strip() for cell in line):
            raise ValueError(f"{name}: not one word in every column: {line}")
    return [dict(zip(columns, line, strict=True)) for line in lines]
