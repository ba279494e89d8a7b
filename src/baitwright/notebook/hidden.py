"""Characters that no text of the notebook has: nobody sees them, and not every store has them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from baitwright.terms.errors import InputError

_HIDDEN = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\ud800-\udfff]")
"""Control characters that a TOML file may not have either, and halves of a character."""


def refuse_hidden(field: str, *told: Any) -> None:
    """Refuse texts, and data with texts in it, that have a control character.

    Tabs and ends of lines are none.

    Raises
    ------
    InputError: one has.
    """
    for one in _texts(told):
        found = _HIDDEN.search(one)
        if found is not None:
            hint = f"Character {found.start() + 1} is U+{ord(found[0]):04X}, which nobody can see."
            raise InputError(field, one, "text without control characters", hint=hint)


def _texts(told: Any) -> Iterator[str]:
    if isinstance(told, str):
        yield told
    elif isinstance(told, Mapping):
        yield from _texts(list(told.items()))
    elif isinstance(told, list | tuple):
        for one in told:
            yield from _texts(one)
