"""Eggs as a maker says them in one line: "3 x EU L", "3 x 40 ml", "195 g in the shell"."""

from __future__ import annotations

import re
from dataclasses import replace

from baitwright.materials.eggs import egg_form, grade
from baitwright.quantities import LONGEST, Kind, kind_of, read, read_number, unit_name
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.recipe.levels import ounces
from baitwright.terms.errors import InputError, RangeError

ACCEPTED = (
    "eggs such as '3 x EU L', '3 x 40 ml', '195 g in the shell' or '171 g in the bowl', with '+' "
    "between different ones and 'of white', 'of yolk' or 'of carton' after what is not whole egg"
)
MOST_EGGS = 10_000
MOST_EGG = 100.0
"""Litres of egg, and kilograms."""
_COUNTED = re.compile(r"(?P<count>\d+)\s*[x×*]\s*(?P<each>.+)")
_COUNT_FIRST = re.compile(r"(?P<count>\d+)\s+(?P<each>[A-Za-z].+)")
_IN_SHELL = re.compile(r"(?P<weight>.+?)\s+in (?:the |their )?shells?")
_IN_BOWL = re.compile(r"(?P<amount>.+?)\s+(?:in the bowl|out of the shells?)")
_BARE_GRADE = re.compile(r"(?:(?P<number>\d[\d.,/ ]*?)\s*[x×*]?\s*)?(?P<letter>X{0,3}[SML])")
_OF_KIND = re.compile(r"(?P<amount>.+?)\s+of\s+(?P<kind>(?!the )[a-z][a-z -]+)")


def parse_eggs(text: str, field: str) -> tuple[Eggs, ...]:
    """The lines of eggs in a text.

    Raises
    ------
    InputError: no eggs at all, a bare weight that may be with or without its shell, a grade
        without its country, or an amount that cannot be.
    """
    parts = [" ".join(part.split()) for part in text.split("+")]
    if not all(parts) or any(len(part) > LONGEST for part in parts):
        raise InputError(field, text, ACCEPTED)
    return tuple(_line(part, field) for part in parts)


def _line(text: str, field: str) -> Eggs:
    kind = EggKind.WHOLE
    of_kind = _OF_KIND.fullmatch(text)
    if of_kind:
        kind = EggKind(egg_form(of_kind["kind"], field).id)
        text = of_kind["amount"]
    _refuse_bare_grade(text, field)
    counted = _COUNTED.fullmatch(text) or _counted_grade(text)
    if counted is None:
        return replace(_each(text, 1, field), kind=kind)
    count = int(counted["count"])
    if not 1 <= count <= MOST_EGGS:
        raise RangeError(field, count, low=1, high=MOST_EGGS, unit="eggs")
    return replace(_each(counted["each"], count, field), kind=kind, count=count)


def _refuse_bare_grade(text: str, field: str) -> None:
    """A capital letter behind a number of eggs is a grade before it is a litre."""
    found = _BARE_GRADE.fullmatch(text)
    if found is None:
        return
    number, letter = found["number"] or "1", found["letter"]
    litres = f", or '{number} l' for litres" if letter == "L" else ""
    hint = f"A grade without its country: write '{number} x EU {letter}'{litres}."
    raise InputError(field, text, ACCEPTED, hint=hint)


def _counted_grade(text: str) -> re.Match[str] | None:
    """A grade with its count and no x between: "3 EU L"."""
    found = _COUNT_FIRST.fullmatch(text)
    if found is None:
        return None
    try:
        grade(found["each"])
    except InputError:
        return None
    return found


def _each(text: str, count: int, field: str) -> Eggs:
    """What stands after the count; amounts are of each egg, and counted together."""
    in_shell = _IN_SHELL.fullmatch(text)
    if in_shell:
        weight = _amount(in_shell["weight"], Kind.MASS, field)
        return Eggs(EggKind.WHOLE, shell_mass=count * weight)
    in_bowl = _IN_BOWL.fullmatch(text)
    amount = in_bowl["amount"] if in_bowl else text
    if in_bowl:
        _refuse_bare_ounce(amount, text, field)
    kind = _kind(amount, field)
    if kind is Kind.VOLUME:
        return Eggs(EggKind.WHOLE, contents_volume=count * _amount(amount, kind, field))
    if kind is Kind.MASS and in_bowl:
        return Eggs(EggKind.WHOLE, contents_mass=count * _amount(amount, kind, field))
    if kind is Kind.MASS:
        hint = f"Weighed how? Write '{amount} in the shell' or '{amount} in the bowl'."
        raise InputError(field, text, ACCEPTED, hint=hint)
    return Eggs(EggKind.WHOLE, count=count, grade=grade(text, field).name)


def _refuse_bare_ounce(amount: str, text: str, field: str) -> None:
    """Liquid egg is weighed or measured, and an ounce may be either."""
    typed = read_number(amount, field, ACCEPTED)
    if unit_name(typed.unit) == "oz" and " ".join(typed.unit.split()) != "oz weight":
        raise InputError(field, text, ACCEPTED, hint=f"Which ounce? {ounces(typed.number)}.")


def _kind(text: str, field: str) -> Kind | None:
    """What a text measures, or None where no number stands in front of a unit."""
    try:
        unit = unit_name(read_number(text, field, ACCEPTED).unit)
    except InputError:
        return None
    if unit and kind_of(unit) is not Kind.MASS:
        read(text, Kind.VOLUME, field)  # says which ounce, or that no egg has such a unit
    return kind_of(unit)


def _amount(text: str, kind: Kind, field: str) -> float:
    value = read(text, kind, field)
    if value <= 0:
        raise InputError(field, text, ACCEPTED, hint="It must be more than nothing.")
    litres = value * (1e3 if kind is Kind.VOLUME else 1.0)
    if litres > MOST_EGG:
        raise InputError(field, text, f"at most {MOST_EGG:g} l or kg of egg")
    return value
