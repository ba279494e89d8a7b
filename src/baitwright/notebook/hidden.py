"""Characters that no text of the notebook has: nobody sees them, and not every store has them."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from typing import Any

from baitwright.terms.errors import InputError

_HIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")
"""Control characters that a TOML file may not have either, and halves of a character."""
_ACCEPTED = "text without control characters"
_MOST_TOLD = 50
"""Rows told one by one (judgement)."""


def refuse_hidden(field: str, *told: Any) -> None:
    """Refuse texts, and data with texts in it, that have a control character.

    Tabs and ends of lines are none.

    Raises
    ------
    InputError: one has.
    """
    for one in _texts(told):
        hint = _hidden_in(one)
        if hint:
            raise InputError(field, one, _ACCEPTED, hint=hint)


class HiddenRows:
    """Rows from elsewhere in which a control character was found, for one refusal of them all."""

    def __init__(self) -> None:
        self._told: list[str] = []
        self._count = 0

    def look(self, table: str, row: Mapping[str, Any]) -> None:
        """Look at a row, with a body as data or as the text of it."""
        for column, value in row.items():
            is_json = column == "body" and isinstance(value, str)
            texts = _texts(json.loads(value) if is_json and "\\u" in value else value)
            hint = next(filter(None, map(_hidden_in, texts)), "")
            if hint:
                self._count += 1
                self._told.append(f"{table} {row.get('id')}, {column}: {hint}")
                del self._told[_MOST_TOLD:]
                return

    def refuse(self, field: str) -> None:
        """Refuse all of them with a message for each row.

        Raises
        ------
        InputError: there are any.
        """
        if not self._count:
            return
        rows = f"{self._count} {'row' if self._count == 1 else 'rows'} with others"
        more = [f"and {self._count - _MOST_TOLD} more"] if self._count > _MOST_TOLD else []
        told = "\n".join(["Nothing was written.", *self._told, *more])
        raise InputError(field, rows, _ACCEPTED, hint=told)


def _hidden_in(text: str) -> str:
    """The first control character of a text, in a sentence."""
    found = _HIDDEN.search(text)
    if found is None:
        return ""
    return f"Character {found.start() + 1} is U+{ord(found[0]):04X}, which nobody can see."


def _texts(told: Any) -> Iterator[str]:
    if isinstance(told, str):
        yield told
    elif isinstance(told, Mapping):
        yield from _texts(list(told.items()))
    elif isinstance(told, list | tuple):
        for one in told:
            yield from _texts(one)
