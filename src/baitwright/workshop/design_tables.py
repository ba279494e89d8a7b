"""A mix designed as data: JSON for programs, a table for a spreadsheet."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path
from typing import Any

from baitwright.blending.explain import Explanation
from baitwright.blending.rows import Row
from baitwright.blending.rules import Rule
from baitwright.blending.search import Design
from baitwright.sheets.text_clash import clash_sentence
from baitwright.workshop.csv_file import Cell
from baitwright.workshop.design_mix import Designed
from baitwright.workshop.table_out import write_table

HEADER = ("what", "name", "value", "unit", "limit", "kept", "one more point", "note")


def design_as_json(made: Designed) -> dict[str, Any]:
    """The whole answer as plain data; shares are of 1, money is per kg in the maker's own."""
    wanted, found = made.wanted, made.found
    told: dict[str, Any] = {"name": wanted.name, "invented": wanted.invented}
    told["goal"] = str(wanted.wishes.goal)
    if made.clash is not None:
        told["clash"] = {
            "told": clash_sentence(made.clash),
            "wishes": [
                {"wish": one.wish.name, "helps": one.helps, "reach": one.value}
                for one in made.clash.reaches
            ],
        }
    if found is not None and made.weighed is not None:
        told["best"] = {"value": found.goal, "cost": found.cost, "shares": dict(found.shares)}
        told["ended"] = str(found.ended)
        told["weighed"] = {
            "step": float(made.weighed.step),
            "shares": {name: float(share) for name, share in made.weighed.shares.items()},
            "moved": made.weighed.moved,
            "broken": [
                {"wish": one.wish.name, "by": None if one.by is None else float(one.by)}
                for one in made.weighed.broken
            ],
        }
        told["rows"] = [_row(row, found) for row in wanted.wishes.rows]
    if made.why is not None:
        told |= _why(made.why)
    if made.swept is not None:
        told["prices"] = {
            "ingredient": made.swept.ingredient,
            "stretches": [
                {
                    "from": one.low,
                    "to": one.high,
                    "share": one.share,
                    "cost_from": one.cost(one.low),
                    "cost_to": one.cost(one.high),
                    "shares": dict(one.shares),
                }
                for one in made.swept.stretches
            ],
        }
    return {**told, "notes": list(wanted.notes)}


def _row(row: Row, found: Design) -> dict[str, Any]:
    return {
        "row": row.name,
        "value": row.value(found.shares),
        "limit": row.asked,
        "unit": row.unit,
        "hard": row.hard,
        "by": str(row.origin),
    }


def _why(why: Explanation) -> dict[str, Any]:
    return {
        "leaning": [
            {
                "row": one.row.name,
                "margin_per_point": one.margin,
                "next_point": None if one.next_point is None else one.next_point.value,
            }
            for one in why.leaning
        ],
        "left_out": [
            {"id": one.candidate.id, "price": one.price, "enters_at": one.enters_at.value}
            for one in why.too_dear
        ],
    }


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
