"""Foods of a JSON file as public food tables give it: foods with nutrients, grams in 100 g."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from baitwright.materials.nutrients import Nutrient, by_number
from baitwright.terms.errors import InputError
from baitwright.workshop.tables.food_analysis import Food
from baitwright.workshop.tables.food_figures import Figure, figure_in
from baitwright.workshop.tables.food_tags import LONGEST_NAME
from baitwright.workshop.tables.table_file import RowError, shortened

_ACCEPTED = "a list of foods, each with its foodNutrients"
_MOST_FOODS = 10_000


def json_foods(text: str) -> tuple[tuple[Food, ...], tuple[RowError, ...]]:
    """Every food of a file, numbered from 1, and what is wrong with those that are none.

    A nutrient may stand in a "nutrient" of its own or flat; one is told by its number.

    Raises
    ------
    InputError: no JSON, or no list of foods.
    """
    try:
        data = json.loads(text, parse_float=str, parse_int=str, parse_constant=str)
    except json.JSONDecodeError as error:
        place = f"line {error.lineno}, column {error.colno}"
        raise InputError("file", place, "JSON", hint=f"{error.msg}.") from None
    except RecursionError:
        raise InputError("file", "brackets in brackets without end", _ACCEPTED) from None
    foods, wrong = [], []
    for at, one in enumerate(_list_in(data), start=1):
        try:
            foods.append(_food(one, at))
        except InputError as error:
            got = shortened(error.got)
            wrong.append(RowError(at, error.field, got, error.accepted, error.hint))
    return tuple(foods), tuple(wrong)


def _list_in(data: Any) -> list[Any]:
    """The foods: the file itself, one food alone, or the list under its one heading."""
    if isinstance(data, dict):
        lists = [one for one in data.values() if isinstance(one, list)]
        data = [data] if "foodNutrients" in data else lists[0] if len(lists) == 1 else None
    if not isinstance(data, list) or not data:
        raise InputError("file", "JSON without a list of foods", _ACCEPTED)
    if len(data) > _MOST_FOODS:
        raise InputError("file", f"{len(data)} foods", f"{_MOST_FOODS} at most")
    return data


def _food(one: Any, at: int) -> Food:
    listed = one.get("foodNutrients") if isinstance(one, dict) else None
    if not isinstance(listed, list):
        raise InputError("foodNutrients", None, "a list of them, as every food has")
    name = one.get("description") or one.get("name")
    plain = " ".join(name.split()) if isinstance(name, str) else ""
    if not plain.isprintable() or not 0 < len(plain) <= LONGEST_NAME:
        accepted = f"a name on one line of up to {LONGEST_NAME} characters"
        raise InputError("description", name, accepted)
    code = one.get("fdcId") or one.get("code")
    return Food(at, plain, code if isinstance(code, str) else "", dict(_figures(listed)))


def _figures(listed: list[Any]) -> Iterator[tuple[Nutrient, Figure]]:
    found: dict[Nutrient, Figure] = {}
    for one in listed:
        if not isinstance(one, dict):
            raise InputError("foodNutrients", one, "nutrients with number, unit and amount")
        told = one["nutrient"] if isinstance(one.get("nutrient"), dict) else one
        nutrient = by_number(_word(told, "number", "nutrientNumber"))
        if nutrient is None:
            continue
        unit = _word(told, "unitName", "unit")
        try:
            figure = figure_in(_amount(one), unit or "no unit")
        except InputError as error:
            raise InputError(nutrient.name, error.got, error.accepted, hint=error.hint) from None
        if figure is None:
            continue
        if found.get(nutrient, figure).grams != figure.grams:
            both = f"{found[nutrient].grams:f} and {figure.grams:f} g"
            raise InputError(nutrient.name, both, "one figure")
        found[nutrient] = figure
    yield from found.items()


def _amount(one: Mapping[str, Any]) -> str:
    """A nutrient's amount as text; nothing found by a method with a limit is below that limit."""
    amount = one["amount"] if one.get("amount") is not None else one.get("value")
    if amount is None:
        return ""
    if not isinstance(amount, str):
        raise InputError("", amount, "a number")
    limit = _word(one, "loq")
    is_zero = bool(amount) and not amount.strip("0.")
    return f"<{limit}" if is_zero and limit.strip("0.") else amount


def _word(told: Mapping[str, Any], *names: str) -> str:
    return next((told[name] for name in names if isinstance(told.get(name), str)), "")
