"""A mix designed as a table for a spreadsheet."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

from baitwright.blending.rows import Row
from baitwright.blending.rules import Rule
from baitwright.sheets.text_clash import clash_sentence
from baitwright.workshop.told.csv_file import Cell
from baitwright.workshop.told.table_out import write_table
from baitwright.workshop.wishes.design_mix import Designed

HEADER = ("what", "name", "value", "unit", "limit", "kept", "one more point", "note")


def write_design(made: Designed, path: Path) -> Path:
    """Write parts, rows and what is left out as CSV or as a workbook, by the name's ending.

    Raises
    ------
    InputError: another ending, openpyxl is not installed, or the file cannot be written.
    """
    return write_table(path, HEADER, list(_lines(made)), sheet="mix")


def _lines(made: Designed) -> list[tuple[Cell, ...]]:
    lines: list[tuple[Cell, ...]] = []
    found, weighed = made.found, made.weighed
    if made.clash is not None:
        lines.append(("clash", clash_sentence(made.clash), *[None] * 6))
    if found is None or weighed is None:
        return lines
    names = {one.id: one.name for one in found.wishes.candidates}
    for name, share in weighed.shares.items():
        lines.append(("part", names[name], _number(float(100 * share)), "%", *[None] * 4))
    if found.cost is not None:
        lines.append(("cost", "per kg, before rounding", _number(found.cost), *[None] * 5))
    broken: list[Row | Rule] = [one.wish for one in weighed.broken]
    points = {one.row.name: one for one in made.why.leaning} if made.why else {}
    shares = {name: float(share) for name, share in weighed.shares.items()}
    for row in found.wishes.rows:
        value, scale = row.value(shares), _SCALES.get(row.unit, 1.0)
        at = points.get(row.name)
        point = None if at is None or at.next_point is None else at.next_point.value
        lines.append(
            (
                "row",
                row.name,
                None if value is None else _number(value * scale),
                row.unit,
                _number(row.asked * scale),
                "no" if row in broken else "yes",
                None if point is None else _number(point),
                "" if row.hard else "soft",
            )
        )
    lines += [
        ("rule", one.name, *[None] * 3, "no" if one in broken else "yes", None, None)
        for one in found.wishes.rules
    ]
    for dear in made.why.too_dear if made.why else ():
        enters = _number(dear.enters_at.value)
        note = "left out; comes in under this price"
        lines.append(("left out", dear.candidate.name, enters, "per kg", *[None] * 3, note))
    return lines


_SCALES = {"%": 100.0, "g/ml": 1e-3, "kJ/100g": 1e-4}


def _number(value: float) -> Decimal:
    return Decimal(f"{value:.6f}").normalize() + 0
