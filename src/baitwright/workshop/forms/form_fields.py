"""Fields of what a maker writes down: days, notes, money, lists, people."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from baitwright.quantities import Kind
from baitwright.terms.errors import InputError
from baitwright.workshop.typed.amounts import read_money
from baitwright.workshop.typed.fields import Reads, measured, number

LONGEST_NOTE = 20_000
"""Characters of one note (judgement): some six pages."""
_MOST_WORDS, _LONGEST_WORD = 100, 1_000
"""Of a list, and characters of each, which may be the whole path of a photo (judgement)."""
_PERSON = re.compile(r"(?:person)?[ -]?(\d{1,9})", re.IGNORECASE)


def on_day(*, about: str) -> Reads:
    """A day, without its hour."""
    accepted = "a date such as 2026-11-26"

    def read(value: object) -> date:
        if isinstance(value, str):
            return date.fromisoformat(value.strip())
        if isinstance(value, datetime):
            return value.date()
        if isinstance(value, date):
            return value
        raise InputError("", value, accepted)

    return Reads(read, accepted, about, {"type": "string", "examples": ["2026-11-26"]})


def notes(*, about: str, example: str) -> Reads:
    """Words in any number of lines."""
    accepted = f"words such as {example!r}, {LONGEST_NOTE} characters at most"

    def read(value: object) -> str:
        if not isinstance(value, str) or not value.strip():
            raise InputError("", value, accepted)
        told = value.strip().replace("\r\n", "\n")
        if len(told) > LONGEST_NOTE:
            raise InputError("", f"{len(told)} characters", accepted)
        if not told.replace("\n", " ").replace("\t", " ").isprintable():
            raise InputError("", told, accepted, hint="It has characters that nobody can see.")
        return told

    return Reads(read, accepted, about, {"type": "string", "examples": [example]})


def money(*, about: str, example: str = "32.50") -> Reads:
    """An amount of the shop's money."""
    accepted = "money such as 32.50, without its sign"

    def read(value: object) -> Decimal:
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise InputError("", value, accepted)
        return read_money(str(value))

    return Reads(read, accepted, about, {"type": "string", "examples": [example]})


def several(*, about: str, example: str) -> Reads:
    """Names or short words, one after the other."""
    accepted = f"words on one line, parted by semicolons, such as {example}"

    def one(told: str) -> str:
        if len(told) > _LONGEST_WORD:
            raise InputError("", f"{len(told)} characters", f"{_LONGEST_WORD} of them at most")
        if not told.isprintable():
            raise InputError("", told, accepted)
        return told

    return each_of(one, accepted, about, example=example)


def each_of(read_one: Callable[[str], str], accepted: str, about: str, *, example: str) -> Reads:
    """A list, or the same in one text parted by semicolons; each once."""

    def read(value: object) -> tuple[str, ...]:
        parts = value.split(";") if isinstance(value, str) else value
        if not isinstance(parts, list) or len(parts) > _MOST_WORDS:
            raise InputError("", value, accepted)
        if not all(isinstance(part, str) for part in parts):
            raise InputError("", value, accepted)
        return tuple(dict.fromkeys(read_one(part.strip()) for part in parts if part.strip()))

    schema: dict[str, Any] = {"type": ["string", "array"], "examples": [example]}
    return Reads(read, accepted, about, schema)


def person_code(*, about: str) -> Reads:
    """Somebody of the people's table, by the code that says nothing of them."""
    accepted = "a person's code such as person 3: `baitwright record person name=...` gives one"

    def read(value: object) -> str:
        found = _PERSON.fullmatch(str(value).strip()) if isinstance(value, str | int) else None
        if found is None:
            raise InputError("", value, accepted)
        return f"person {int(found[1])}"

    return Reads(read, accepted, about, {"type": "string", "examples": ["person 3"]})


def weight(example: str, most: str, about: str, *, least: str = "0.001 g") -> Reads:
    """A weight within limits."""
    return measured(Kind.MASS, least, most, example=example, about=about)


def volume(example: str, about: str) -> Reads:
    """A volume of something in a bottle; nothing where it is empty."""
    return measured(Kind.VOLUME, "0 ml", "200 l", example=example, about=about)


def tally(about: str, *, example: int = 3) -> Reads:
    """How many; none counts."""
    return number(0, 1_000_000, example=example, about=about)
