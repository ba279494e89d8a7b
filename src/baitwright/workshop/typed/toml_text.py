"""A table as the text of a TOML file, as a maker might have written it."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from datetime import date, time
from typing import Any

_BARE = re.compile(r"[A-Za-z0-9_-]+")


def toml_text(table: Mapping[str, Any]) -> str:
    """The text of a file that says what a table says.

    Parameters
    ----------
    table: of words, numbers, dates, lists and further tables, with text for keys.
    """
    return "\n".join(_lines(table, "")).lstrip("\n") + "\n"


def quoted(words: str) -> str:
    """A TOML basic string: JSON's escapes are TOML's, but for one character."""
    return json.dumps(words, ensure_ascii=False).replace("\x7f", "\\u007f")


def _lines(table: Mapping[str, Any], place: str) -> Iterator[str]:
    """Plain entries first: what follows a heading belongs to it."""
    for key, value in table.items():
        if not _is_table(value) and not _is_rows(value):
            yield f"{_key(key)} = {toml_value(value)}"
    for key, value in table.items():
        at = f"{place}.{_key(key)}" if place else _key(key)
        if _is_table(value):
            yield from ("", f"[{at}]", *_lines(value, at))
        elif _is_rows(value):
            for row in value:
                yield from ("", f"[[{at}]]", *_lines(row, at))


def _is_table(value: object) -> bool:
    return isinstance(value, Mapping)


def _is_rows(value: object) -> bool:
    return isinstance(value, list | tuple) and bool(value) and all(map(_is_table, value))


def _key(key: str) -> str:
    return key if _BARE.fullmatch(key) else quoted(key)


def toml_value(value: Any) -> str:
    """A value as it stands behind its key."""
    match value:
        case bool():
            return "true" if value else "false"
        case int() | float():
            return repr(value)
        case date() | time():  # a moment of a day is a date too
            return value.isoformat()
        case list() | tuple():
            return f"[{', '.join(map(toml_value, value))}]"
        case Mapping():
            pairs = (f"{_key(key)} = {toml_value(one)}" for key, one in value.items())
            return f"{{ {', '.join(pairs)} }}"
        case _:
            return quoted(str(value))
