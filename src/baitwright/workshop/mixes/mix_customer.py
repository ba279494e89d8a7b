"""A mix for a customer: what it holds and its allergens; nothing a maker keeps to himself.

Shares, prices, remarks, and parts that are secret have no way in here.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from baitwright.blending.bases import Basis
from baitwright.blending.components import Component
from baitwright.materials.tables import slug
from baitwright.sheets.layout import bullet, heading, table
from baitwright.sheets.wording import figure
from baitwright.terms.quantity import Quantity
from baitwright.workshop.mixes.mix_analysis import Analysed
from baitwright.workshop.told.csv_file import Cell

_TOLD = ("protein", "fat", "carbohydrate", "fibre", "ash", "water", "gross energy")
_ON = (Basis.DRY_MIX, Basis.BAIT)
NOT_FOOD = "This is bait and not food."
HEADER = ("about", "dry mix", "finished bait", "unit")


def customer_text(found: Analysed) -> str:
    """The sheet of a mix."""
    rows = [(name, *(text for text in cells), unit) for name, *cells, unit in _rows(found)]
    lines = [found.asked.told.base.name, *heading("It holds")]
    lines += table([("", *map(str, _ON), ""), *rows], (20, -12, -14, 9))
    lines += [*heading("Made with"), *bullet("; ".join(made_with(found)))]
    lines += [*heading("Allergens"), *(said for one in allergens(found) for said in bullet(one))]
    return "\n".join([*lines, "", f"  {NOT_FOOD}"]) + "\n"


def customer_rows(found: Analysed) -> Iterator[tuple[Cell, ...]]:
    """The same as rows of a table."""
    yield from _rows(found)
    yield ("made with", "; ".join(made_with(found)), "", "")
    for said in allergens(found):
        yield ("allergens", said, "", "")
    yield ("note", NOT_FOOD, "", "")


def customer_json(found: Analysed) -> dict[str, Any]:
    """The same for programs."""
    return {
        "name": found.asked.told.base.name,
        "holds": [dict(zip(HEADER, one, strict=True)) for one in _rows(found)],
        "made_with": list(made_with(found)),
        "allergens": list(allergens(found)),
        "note": NOT_FOOD,
    }


def _rows(found: Analysed) -> Iterator[tuple[str, str, str, str]]:
    figures = found.made.bases.figures
    for name in _TOLD:
        cells = [figures[basis].get(name) for basis in _ON]
        if any(cells):
            unit = next(figure(one).unit for one in cells if one is not None)
            yield (name, *map(_number, cells), unit)  # type: ignore[misc]


def _number(one: Quantity | None) -> str:
    return "" if one is None else figure(one).number


def made_with(found: Analysed) -> tuple[str, ...]:
    """The parts by name, in no order that tells how much; those that are secret stay out."""
    secret = found.asked.secret
    parts = found.made.mix.parts
    open_ = [one.name for one in parts if not _ids(one).intersection(secret)]
    kept = "parts of the maker's own"
    return (*sorted(open_), *([kept] if len(open_) < len(parts) else []))


def _ids(one: Component) -> set[str]:
    return {slug(one.name)} | ({one.row.id} if one.row is not None else set())


def allergens(found: Analysed) -> tuple[str, ...]:
    """What it contains, whoever brings it."""
    held = found.made.contains
    said = [f"contains {', '.join(one.name for one in held.certain)}"]
    if held.possible:
        said.append(f"may contain {', '.join(one.name for one in held.possible)}")
    if not held.known:
        said.append("may contain others: not all of its parts are known")
    return tuple(said)
