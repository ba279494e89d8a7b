"""Fields of a file that hold words: names, choices, things on the shelf, levels."""

from __future__ import annotations

from collections.abc import Callable
from difflib import get_close_matches
from enum import StrEnum
from typing import Any

from baitwright.recipe.levels import ACCEPTED as ACCEPTED_LEVELS
from baitwright.recipe.levels import Level, read_level
from baitwright.terms.errors import InputError
from baitwright.workshop.typed.fields import Reads

_LONGEST_NAME = 80


def word(kind: type[StrEnum], *, about: str) -> Reads:
    """One of a few words."""
    return _one_of([str(each) for each in kind], kind, about)


def one_of(words: tuple[str, ...], *, about: str) -> Reads:
    """One of the words of a table."""
    return _one_of(list(words), str, about)


def _one_of(words: list[str], make: Callable[[str], Any], about: str) -> Reads:
    accepted = f"one of: {', '.join(words)}"
    plain = {_plainly(each): each for each in words}

    def known(value: object) -> object:
        word = plain.get(_plainly(value)) if isinstance(value, str) else None
        if word is not None:
            return make(word)
        near = get_close_matches(str(value).lower(), words, n=1)
        raise InputError("", value, accepted, hint=f"Nearest: {near[0]!r}." if near else "")

    return Reads(known, accepted, about, {"type": "string", "enum": words})


def _plainly(word: str) -> str:
    """A word without what makes no difference: capitals, hyphens, spaces around it."""
    return " ".join(word.lower().replace("-", " ").split())


def text(*, about: str, example: str) -> Reads:
    """A name on one line."""
    accepted = f"a name on one line of up to {_LONGEST_NAME} characters, such as {example!r}"

    def one_line(value: object) -> str:
        plain = value.strip() if isinstance(value, str) else ""
        if not plain.isprintable() or not 0 < len(plain) <= _LONGEST_NAME:
            raise InputError("", value, accepted)
        return plain

    return Reads(one_line, accepted, about, {"type": "string", "examples": [example]})


def yes_or_no(*, about: str) -> Reads:
    """True or false."""

    def flag(value: object) -> bool:
        if not isinstance(value, bool):
            raise InputError("", value, "true or false")
        return value

    return Reads(flag, "true or false", about, {"type": "boolean"})


def shelved(look_up: Callable[[str], str], *, about: str, example: str) -> Reads:
    """The name of something on the shelf, read as what the shelf calls it."""
    accepted = f"a name from the shelf such as {example!r}"

    def found(value: object) -> str:
        if not isinstance(value, str):
            raise InputError("", value, accepted)
        return look_up(value)

    return Reads(found, accepted, about, {"type": "string", "examples": [example]})


def level(*, about: str) -> Reads:
    """A level with its basis."""

    def any_basis(value: object) -> Level:
        return read_level(value, "")

    schema = {"type": "string", "examples": ["0.8 ml per egg of 50 ml", "12 ml per kg dry mix"]}
    return Reads(any_basis, ACCEPTED_LEVELS, about, schema)
