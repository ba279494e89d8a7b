"""One field of a file: the function that reads it, what it accepts, and its JSON Schema."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any

from pydantic_core import PydanticCustomError, core_schema

from baitwright.quantities import EXAMPLES, Kind, read, read_number, to_si, unit_name
from baitwright.terms.errors import InputError

REFUSED = "refused"
"""The type of the error that carries an `InputError` through pydantic."""
NUMBER_THEN_UNIT = r"^\s*[-+]?\s*[0-9.,].*[A-Za-z%]\s*$"


@dataclass(frozen=True, slots=True)
class Reads:
    """Marks a field with the function that reads it.

    ``accepted`` ends the sentence "it takes ..."; ``schema`` is the JSON Schema of what is typed.
    """

    read: Callable[[Any], Any]
    accepted: str
    about: str
    schema: dict[str, Any]

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> core_schema.CoreSchema:
        """Nothing but our own function reads the field."""
        return core_schema.no_info_plain_validator_function(self._checked)

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        """What is typed, with what is accepted in words."""
        return {**self.schema, "description": f"{self.about} Takes {self.accepted}."}

    def _checked(self, value: object) -> object:
        try:
            return self.read(value)
        except InputError as error:
            found = error
        except (ArithmeticError, ValueError):
            found = InputError("", value, self.accepted)
        raise PydanticCustomError(REFUSED, "not accepted", {"error": found})


def as_typed(value: object) -> object:
    """A date or time as a file has it; anything else as it is."""
    if isinstance(value, datetime):
        return value.isoformat().replace("+00:00", "Z")
    return value.isoformat() if isinstance(value, date | time) else value


def measured(kind: Kind, low: str, high: str, *, example: str, about: str) -> Reads:
    """A number with its unit, within limits written as a maker would write them."""
    lowest, highest = read(low, kind, "low"), read(high, kind, "high")
    noun = EXAMPLES[kind].partition(" such as ")[0]
    accepted = f"{noun} such as {example}, from {low} to {high}"

    def within(value: object) -> float:
        try:
            number = read(value, kind, "")
        except InputError as error:
            raise InputError("", value, accepted, hint=error.hint) from None
        if not lowest <= number <= highest:
            raise InputError("", value, accepted)
        return number

    return Reads(within, accepted, about, typed(example))


def typed(*examples: str) -> dict[str, Any]:
    """The JSON Schema of a number with its unit."""
    return {"type": "string", "pattern": NUMBER_THEN_UNIT, "examples": list(examples)}


def density(low: float, high: float, *, about: str) -> Reads:
    """A density in g/ml or kg/m3; the limits are in g/ml."""
    accepted = f"a density such as 1.04 g/ml, from {low:g} to {high:g} g/ml"

    def within(value: object) -> float:
        if not isinstance(value, str):
            raise InputError("", value, accepted, hint="Write the unit with the number.")
        number = read_number(value, "", accepted)
        unit = unit_name(number.unit)
        if unit not in ("g/ml", "kg/m3"):
            raise InputError("", value, accepted)
        in_si = to_si(number.number, unit)
        if not to_si(low, "g/ml") <= in_si <= to_si(high, "g/ml"):
            raise InputError("", value, accepted)
        return in_si

    schema = {"type": "string", "pattern": r"(g/ml|kg/m3)\s*$", "examples": ["1.04 g/ml"]}
    return Reads(within, accepted, about, schema)


def number(low: float, high: float, *, whole: bool = True, example: float, about: str) -> Reads:
    """A bare number: a count, or how many to one of something."""
    noun = "a whole number" if whole else "a number"
    accepted = f"{noun} such as {example:g}, from {low:g} to {high:g}"
    kinds = int if whole else int | float

    def within(value: object) -> object:
        if isinstance(value, bool) or not isinstance(value, kinds) or not low <= value <= high:
            raise InputError("", value, accepted)
        return value

    kind = "integer" if whole else "number"
    schema = {"type": kind, "minimum": low, "maximum": high, "examples": [example]}
    return Reads(within, accepted, about, schema)
