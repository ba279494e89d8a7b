"""All rows of a notebook as one JSON text, written and read row by row, never held whole."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from baitwright.notebook.rows import Row
from baitwright.terms.errors import InputError

FORMAT = "baitwright notebook"
VERSION = 1
LONGEST_ROW = 8_000_000
"""Characters of one row: a record of the longest body, even where all of it is escaped."""
_SPACE = " \t\r\n"
_dumped = json.JSONEncoder(ensure_ascii=False, allow_nan=False).encode


def json_text(step: str, tables: Iterable[tuple[str, Iterable[Row]]]) -> Iterator[str]:
    """The text, piece by piece: format, version and step, then one row a line."""
    head = {"format": FORMAT, "version": VERSION, "step": step}
    yield "{\n" + "".join(f"{_dumped(key)}: {_dumped(told)},\n" for key, told in head.items())
    yield '"tables": {'
    for at, (name, rows) in enumerate(tables):
        yield f"{',' if at else ''}\n{_dumped(name)}: ["
        between = "\n"
        for row in rows:
            yield between + row_text(row)
            between = ",\n"
        yield "\n]"
    yield "\n}\n}\n"


def row_text(row: Row) -> str:
    """A row on one line; its body, which comes last, stands in the notebook as JSON already."""
    body = row.get("body")
    if body is None:
        return _dumped(row)
    told = _dumped({key: value for key, value in row.items() if key != "body"})
    return f'{told[:-1]}, "body": {body}}}'


class JsonRows:
    """What stands in such a text, read piece by piece.

    Parameters
    ----------
    pieces: of the text, in order.

    Raises
    ------
    InputError: on reading, where the text is not of the form that ``json_text`` writes.
    """

    def __init__(self, pieces: Iterable[str]) -> None:
        self._pieces = iter(pieces)
        self._text, self._at = "", 0
        self._decoder = json.JSONDecoder(parse_constant=_no_number)
        self.head: Mapping[str, Any] = {}

    def read(self) -> Iterator[tuple[str, object]]:
        """Every row with the name of its table; ``head`` is known from the first one on."""
        head: dict[str, Any] = {}
        tables: set[str] = set()
        self._take("{")
        for key in self._entries("}"):
            if key == "tables":
                _check(head)
                self.head = head
                self._take("{")
                for table in self._entries("}"):
                    if table in tables:
                        raise _wrong(f"{table} twice")
                    tables.add(table)
                    self._take("[")
                    for row in self._values("]"):
                        yield table, row
            elif key in head:
                raise _wrong(f"{key} twice")
            else:
                head[key] = self._value()
        if self._peek():
            raise _wrong(f"{self._peek()!r} after the end")
        if self.head is not head:
            raise _wrong("no tables of a notebook")

    def _entries(self, end: str) -> Iterator[str]:
        for key in self._values(end):
            if not isinstance(key, str):
                raise _wrong(f"the key {key!r}")
            self._take(":")
            yield key

    def _values(self, end: str) -> Iterator[object]:
        """Values until the end, with a comma between two; what follows a value may be taken."""
        if self._peek() == end:
            self._at += 1
            return
        while True:
            yield self._value()
            found = self._peek()
            if found not in (",", end) or not found:
                raise _wrong(f"{found!r} in place of a comma")
            self._at += 1
            if found == end:
                return

    def _value(self) -> object:
        self._peek()
        while True:
            try:
                value, end = self._decoder.raw_decode(self._text, self._at)
            except (ValueError, RecursionError) as error:
                if not self._more():
                    raise _wrong(str(error)) from None
                continue
            if end < len(self._text) or not self._more():  # a number may go on in the next piece
                self._at = end
                return value

    def _take(self, wanted: str) -> None:
        if self._peek() != wanted:
            raise _wrong(f"{self._peek()!r} in place of {wanted!r}")
        self._at += 1

    def _peek(self) -> str:
        """The next character that is no space; nothing at the end."""
        while True:
            while self._at < len(self._text):
                if self._text[self._at] not in _SPACE:
                    return self._text[self._at]
                self._at += 1
            if not self._more():
                return ""

    def _more(self) -> bool:
        """Get one more piece; whether there was one."""
        piece = next((one for one in self._pieces if one), "")
        if not piece:
            return False
        self._text, self._at = self._text[self._at :] + piece, 0
        if len(self._text) > LONGEST_ROW + len(piece):
            raise _wrong(f"a row of more than {LONGEST_ROW} characters")
        return True


def _check(head: Mapping[str, Any]) -> None:
    if head.get("format") != FORMAT:
        raise _wrong(f"the format {head.get('format')!r}")
    if head.get("version") != VERSION:
        hint = "Take the newer program; this one could not read it whole."
        raise InputError("notebook.json", head.get("version"), f"version {VERSION}", hint=hint)


def _no_number(word: str) -> Callable[[], float]:
    raise ValueError(f"{word} is no number")


def _wrong(what: str) -> InputError:
    return InputError("notebook.json", what, "the text of an export, as it was written")
