"""Foods of a table whose headings are INFOODS tagnames, such as WATER, PROCNT or CHOAVLDF."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.nutrients import Nutrient, by_tag
from baitwright.terms.errors import InputError
from baitwright.workshop.tables.food_analysis import Food
from baitwright.workshop.tables.food_figures import Figure, figure_in
from baitwright.workshop.tables.table_file import Decimals, FileTable, RowError, TableRow, shortened
from baitwright.workshop.tables.table_labels import sound
from baitwright.workshop.typed.nearest import plain_name

_TAGGED = re.compile(r"^[\[<(]?(?P<tag>[A-Za-z]+-?)[\]>)]?[\s_,]*[(\[]?(?P<unit>[^()\[\]]*)[)\]]?$")
_NAMES = ("food name in english", "food name", "foodname", "food", "name", "description", "item")
_CODES = ("food code", "foodcode", "code", "food id", "foodid", "id")
LONGEST_NAME = 150


@dataclass(frozen=True, slots=True)
class _Tagged:
    """A heading that is a tag: its place, its figure and its unit."""

    heading: str
    place: int
    nutrient: Nutrient
    unit: str


def tagged_foods(table: FileTable) -> tuple[tuple[Food, ...], tuple[RowError, ...]]:
    """Every food of a table, and what is wrong with the figures of those that are none.

    Raises
    ------
    InputError: no heading for the food's name, or none that is a tagname.
    """
    tagged = [one for place, name in enumerate(table.headings) if (one := _tagged(name, place))]
    place = _place(_NAMES, table.headings)
    if not tagged:
        accepted = "INFOODS tagnames such as WATER, PROCNT, FAT, CHOAVLDF, FIBTG, ASH"
        raise InputError("headings", shortened(", ".join(table.headings)), accepted)
    if place is None:
        got = shortened(", ".join(table.headings))
        raise InputError("headings", got, "one over the foods' names, such as 'Food name'")
    code = _place(_CODES, table.headings)
    foods, wrong = [], []
    for row in table.rows:
        found, errors = _figures(row, tagged, table)
        name = row.cells[place] if place < len(row.cells) else ""
        if not errors and not (name.isprintable() and 0 < len(name) <= LONGEST_NAME):
            accepted = f"a name on one line of up to {LONGEST_NAME} characters"
            errors = [RowError(row.number, table.headings[place], shortened(name), accepted)]
        wrong += errors
        if not errors:
            foods.append(Food(row.number, name, "" if code is None else row.cells[code], found))
    return tuple(foods), tuple(wrong)


def _tagged(heading: str, place: int) -> _Tagged | None:
    found = _TAGGED.match(heading.strip())
    nutrient = by_tag(found["tag"]) if found else None
    return _Tagged(heading, place, nutrient, found["unit"]) if found and nutrient else None


def _place(names: tuple[str, ...], headings: tuple[str, ...]) -> int | None:
    """Where the first of some names stands among the headings."""
    plain = [plain_name(heading) for heading in headings]
    return next((plain.index(name) for name in names if name in plain), None)


def _figures(
    row: TableRow, tagged: list[_Tagged], table: FileTable
) -> tuple[Mapping[Nutrient, Figure], list[RowError]]:
    if len(row.cells) != len(table.headings):
        accepted = f"{len(table.headings)}, as many as headings"
        return {}, [RowError(row.number, "the row", f"{len(row.cells)} cells", accepted)]
    found: dict[Nutrient, Figure] = {}
    wrong = []
    for one in tagged:
        cell = row.cells[one.place]
        try:
            figure = figure_in(_pointed(sound(cell), table.decimals), one.unit)
            if figure is None:
                continue
            if found.get(one.nutrient, figure).grams != figure.grams:
                raise InputError("", cell, f"one figure for {one.nutrient.name}")
            found[one.nutrient] = figure
        except InputError as error:
            told = RowError(row.number, one.heading, shortened(cell), error.accepted, error.hint)
            wrong.append(told)
    return found, wrong


def _pointed(cell: str, decimals: Decimals) -> str:
    """A figure with a point; no part is a thousand grams, so that one mark is the decimals'."""
    wrong = "," if decimals is Decimals.POINT else "." if decimals is Decimals.COMMA else ""
    if (wrong and wrong in cell) or len({mark for mark in cell if mark in ",."}) > 1:
        hint = "Say --decimals point or --decimals comma."
        raise InputError("", cell, f"a {decimals} before decimals", hint=hint)
    return cell.replace(",", ".")
