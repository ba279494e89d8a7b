"""Plain pages read back: every row that stands on them, or which page is not what it was."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from baitwright.notebook.plain_text import entries_of
from baitwright.notebook.soundness import HEAD
from baitwright.terms.errors import InputError

FIRST_LINE = "baitwright page 1"
CONTENTS = "contents.txt"
_Section = tuple[str, dict[str, Any]]


@dataclass(frozen=True, slots=True)
class Mark:
    """How far pages go in a table: its rows, the number of the last, and what that one comes to."""

    rows: int
    last: int
    mark: str


def read_contents(folder: Path) -> Mapping[str, Mark] | None:
    """How far pages go in each table; none where they are not there, or of another step."""
    try:
        step, marks = contents(folder)
    except InputError:
        return None
    return marks if step == HEAD else None


def contents(folder: Path) -> tuple[str, Mapping[str, Mark]]:
    """The step of the notebook that pages repeat, and how far they go in each of its tables.

    Raises
    ------
    InputError: there is no such page, or it is damaged.
    """
    path = folder / CONTENTS
    head, sections = _page(path)
    try:
        return str(head["step"]), {name: Mark(**told) for name, told in sections}
    except (KeyError, TypeError) as error:
        raise _damaged(path, str(error)) from None


def rows_on(path: Path) -> Iterator[tuple[str, object]]:
    """The rows of a page, each with the name of its table.

    Raises
    ------
    InputError: the page is damaged or was changed.
    """
    head, sections = _page(path)
    table, known = head.pop("table", "revisions"), {"body": None} if "columns" not in head else {}
    columns = head.pop("columns", None)
    for _, entries in sections:
        if columns is None:
            yield table, {**known, **head, **entries}
        else:
            for cells in entries["rows"]:
                yield table, dict(zip(columns, cells, strict=True))


def pages_of(folder: Path) -> tuple[Path, ...]:
    """Every page of a folder but the one that says how far they go."""
    return tuple(path for path in sorted(folder.glob("**/*.txt")) if path.name != CONTENTS)


def _page(path: Path) -> tuple[dict[str, Any], list[_Section]]:
    try:
        text = path.read_bytes().decode("utf-8")
        told, _, end = text.rpartition("sum = ")
        if end.strip() != f'"{sha256(told.encode()).hexdigest()}"':
            raise ValueError("it was changed, or is not whole")
        return _parsed(told.split("\n"))
    except (OSError, ValueError) as error:
        raise _damaged(path, str(error)) from None


def _parsed(lines: Sequence[str]) -> tuple[dict[str, Any], list[_Section]]:
    if lines[0] != FIRST_LINE:
        raise ValueError(f"it does not begin with {FIRST_LINE!r}")
    parts: list[tuple[str, list[str]]] = [("", [])]
    for line in lines[1:]:
        if line.startswith("--- "):
            parts.append((line[4:], []))
        elif line and not line.startswith("#"):
            parts[-1][1].append(line)
    head = entries_of(parts[0][1])
    if "columns" in head:
        columns = head["columns"]
        if not isinstance(columns, list) or not all(isinstance(one, str) for one in columns):
            raise ValueError("its columns are no names")
        return head, [
            (name, {"rows": [_cells(line.strip(), len(columns)) for line in rows]})
            for name, rows in parts[1:]
        ]
    return head, [(name, entries_of(rows)) for name, rows in parts[1:]]


def _cells(line: str, count: int) -> list[Any]:
    decoder, at, made = json.JSONDecoder(), 0, []
    while True:
        value, at = decoder.raw_decode(line, at)
        made.append(value)
        rest = line[at:].lstrip(" ")
        if not rest:
            if len(made) != count:
                raise ValueError(f"a row of {len(made)} in place of {count} columns")
            return made
        if not rest.startswith("| "):
            raise ValueError(f"{rest[:40]!r} in place of the next column")
        at = len(line) - len(rest) + 2


def _damaged(path: Path, why: str) -> InputError:
    return InputError("page", str(path), "a page as the program wrote it", hint=f"{why}.")
