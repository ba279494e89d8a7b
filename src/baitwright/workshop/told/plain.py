"""Anything of a plan as plain data: text, numbers, lists and tables.

Quantities stand in the unit they are shown in; bare numbers are in SI.
"""

from __future__ import annotations

import math
from dataclasses import fields, is_dataclass
from datetime import datetime, timedelta
from enum import Enum
from functools import singledispatch
from typing import Any

from baitwright.batch.ledger import Ledger
from baitwright.materials.cautions import Caution
from baitwright.materials.keeping import KeepingLine
from baitwright.materials.tables import Row
from baitwright.recipe.model import Core
from baitwright.sheets.wording import in_unit
from baitwright.terms.quantity import PerBait, PerBatch, Quantity
from baitwright.uncertainty.bands import band_of

DIGITS = 6
_UNSAID = object()
"""Stands for what has no place in the data: arrays, solvers' runs, and notes told elsewhere."""


def rounded(number: float) -> float | None:
    """A number to six significant digits; nothing for what never comes to pass."""
    return float(f"{number:.{DIGITS}g}") if math.isfinite(number) else None


@singledispatch
def plain(node: Any) -> Any:
    """Anything of a plan as plain data; records field by field."""
    if not is_dataclass(node):
        return _UNSAID
    parts = {
        field.name: plain(getattr(node, field.name))
        for field in fields(node)
        if field.name != "notes"
    }
    return {name: part for name, part in parts.items() if part is not _UNSAID}


@plain.register(type(None))
@plain.register(int)
@plain.register(str)
def _itself(node: object) -> object:
    return node


@plain.register
def _number(node: float) -> float | None:
    return rounded(node)


@plain.register
def _word(node: Enum) -> Any:
    return node.value


@plain.register
def _time(node: datetime) -> str:
    return node.isoformat()


@plain.register
def _span(node: timedelta) -> float:
    return node.total_seconds()


@plain.register
def _list(node: tuple) -> list[Any]:  # type: ignore[type-arg]
    return [made for part in node if (made := plain(part)) is not _UNSAID]


@plain.register
def _from_the_shelf(node: Row) -> dict[str, str]:
    return {"id": node.id, "name": getattr(node, "name", node.id)}


@plain.register
def _caution(node: Caution) -> dict[str, str]:
    told = ("id", "stage", "text", "country", "ask", "checked_on", "source", "evidence")
    return {name: str(getattr(node, name)) for name in told}


@plain.register
def _line(node: KeepingLine) -> dict[str, str]:
    told = ("id", "place", "text", "country", "checked_on", "source", "evidence")
    return {name: str(getattr(node, name)) for name in told}


@plain.register
def _account(node: Ledger) -> dict[str, float | None]:
    return {"worst_gap": rounded(node.worst_gap)}


def core_as_data(core: Core | None) -> dict[str, float | None]:
    """The cores of one bait: how many, of what size; none is none of no size."""
    if core is None:
        return {"core_mm": 0.0, "cores": 0}
    return {"core_mm": rounded(1e3 * core.diameter), "cores": core.count}


def told(quantity: Quantity) -> dict[str, Any]:
    """A quantity with its bands, or with what can be written out of a record, or by name alone."""
    found = plain(quantity)
    return found if isinstance(found, dict) else _origin(quantity)


def _origin(quantity: Quantity) -> dict[str, Any]:
    return {
        "name": quantity.name,
        "label": quantity.label,
        "origin": quantity.origin.value,
        "source": quantity.source,
        "evidence": quantity.evidence.value,
    }


@plain.register
def _quantity(quantity: Quantity) -> Any:
    """A named number with its bands; of what is no number, only what can be written out."""
    data = _origin(quantity)
    if not isinstance(quantity.value, int | float | PerBatch | PerBait):
        drawn = plain(quantity.value)
        return {**data, "record": drawn} if _is_whole(drawn, quantity.value) else _UNSAID
    band, shown = band_of(quantity), quantity.shown
    ends = {
        "median": [band.median],
        "band50": [band.low50, band.high50],
        "band80": [band.low80, band.high80],
        "band95": [band.low95, band.high95],
    }
    numbers = {name: [rounded(in_unit(end, shown)) for end in pair] for name, pair in ends.items()}
    data |= {"unit": shown, "draws": band.draws, **numbers, "median": numbers["median"][0]}
    if any(end is None for pair in numbers.values() for end in pair):
        data["never"] = True
    return data


def _is_whole(drawn: Any, record: Any) -> bool:
    return is_dataclass(record) and isinstance(drawn, dict) and len(drawn) == len(fields(record))
