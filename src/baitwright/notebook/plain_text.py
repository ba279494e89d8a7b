"""Plain data as lines that are read at a kitchen table and, to the letter, by a program.

::

    name = "Copper wafter"
    weights:
      at_0h = 33.1
      at_8h = null
    toml:
      | # text of several lines, as it is
      | [bait]
    looks:
      -
        on = "rig"
      - 3
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

_BARE = re.compile(r"[A-Za-z_][A-Za-z0-9_-]*")
_BROKEN = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f]")
"""Characters that a page of text cannot show; a text with one is told as JSON."""
_DEEPEST = 20
"""What lies deeper than anybody reads is told as JSON on one line."""
_dumped = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode


def lines_of(entries: Mapping[str, Any], *, depth: int = 0) -> Iterator[str]:
    """Entries by name, each on a line or on those below it."""
    for key, value in entries.items():
        yield from _told(key if _BARE.fullmatch(key) else _dumped(key), value, depth=depth)


def entries_of(lines: Sequence[str]) -> dict[str, Any]:
    """The entries that such lines tell.

    Raises
    ------
    ValueError: they tell none; with the number of the line.
    """
    made, end = _entries(lines, 0, depth=0)
    if end < len(lines):
        raise ValueError(f"line {end + 1}: {lines[end][:60]!r} is no entry here")
    return made


def _told(head: str, value: object, *, depth: int) -> Iterator[str]:
    is_item = head == "-"
    start, inner = "  " * depth, depth + 1
    if not _has_lines(value) or depth >= _DEEPEST:
        yield f"{start}{head} {_dumped(value)}" if is_item else f"{start}{head} = {_dumped(value)}"
        return
    yield start + (head if is_item else f"{head}:")
    if isinstance(value, str):
        yield from (f"{start}  | {line}" if line else f"{start}  |" for line in value.split("\n"))
    elif isinstance(value, dict):
        yield from lines_of(value, depth=inner)
    elif isinstance(value, list):
        for one in value:
            yield from _told("-", one, depth=inner)


def _has_lines(value: object) -> bool:
    """Whether a value is told on lines of its own."""
    if isinstance(value, str):
        return "\n" in value and not _BROKEN.search(value)
    if isinstance(value, list):
        return any(isinstance(one, dict | list) or _has_lines(one) for one in value)
    return isinstance(value, dict) and bool(value)


def _entries(lines: Sequence[str], at: int, *, depth: int) -> tuple[dict[str, Any], int]:
    made: dict[str, Any] = {}
    while at < len(lines) and _depth(lines[at]) == depth:
        text = lines[at][2 * depth :]
        key, rest = _key(text, at)
        if key in made:
            raise ValueError(f"line {at + 1}: {key} stands there twice")
        if rest == ":":
            made[key], at = _below(lines, at + 1, depth=depth + 1)
        elif rest.startswith(" = "):
            made[key], at = _json(rest[3:], at), at + 1
        else:
            raise ValueError(f"line {at + 1}: {text[:60]!r} is no entry")
    return made, at


def _key(text: str, at: int) -> tuple[str, str]:
    found = _BARE.match(text)
    if found:
        return found[0], text[found.end() :]
    try:
        key, end = json.JSONDecoder().raw_decode(text)
    except ValueError:
        key, end = None, 0
    if not isinstance(key, str):
        raise ValueError(f"line {at + 1}: {text[:60]!r} begins with no name")
    return key, text[end:]


def _below(lines: Sequence[str], at: int, *, depth: int) -> tuple[Any, int]:
    """What stands on the lines below a name: a text, a list or entries."""
    start = "  " * depth
    first = lines[at] if at < len(lines) else ""
    if first == f"{start}|" or first.startswith(f"{start}| "):
        return _text(lines, at, start)
    if first == f"{start}-" or first.startswith(f"{start}- "):
        return _items(lines, at, depth=depth)
    made, end = _entries(lines, at, depth=depth)
    if end == at:
        raise ValueError(f"line {at}: nothing stands below it")
    return made, end


def _text(lines: Sequence[str], at: int, start: str) -> tuple[str, int]:
    end, found = at, []
    while end < len(lines) and lines[end].startswith(f"{start}|"):
        line = lines[end][len(start) + 1 :]
        if line and not line.startswith(" "):
            raise ValueError(f"line {end + 1}: a space is missing after |")
        found.append(line[1:])
        end += 1
    return "\n".join(found), end


def _items(lines: Sequence[str], at: int, *, depth: int) -> tuple[list[Any], int]:
    start, made = "  " * depth, []
    while at < len(lines):
        if lines[at] == f"{start}-":
            one, at = _below(lines, at + 1, depth=depth + 1)
        elif lines[at].startswith(f"{start}- "):
            one, at = _json(lines[at][len(start) + 2 :], at), at + 1
        else:
            break
        made.append(one)
    return made, at


def _json(text: str, at: int) -> Any:
    try:
        return json.loads(text)
    except (ValueError, RecursionError) as error:
        raise ValueError(f"line {at + 1}: {error}") from None


def _depth(line: str) -> int:
    """How deep a line stands; one that is set in by an odd number of spaces stands nowhere."""
    spaces = len(line) - len(line.lstrip(" "))
    return -1 if spaces % 2 else spaces // 2
