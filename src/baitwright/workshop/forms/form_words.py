"""What a record is filled from: a file, words of the command line, or both over what stands."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping
from copy import deepcopy
from pathlib import Path
from typing import Any

from baitwright.terms.errors import InputError
from baitwright.workshop.forms.form import Form, fields_of, reads, table_in
from baitwright.workshop.typed.fields import Reads
from baitwright.workshop.typed.reading import Table, load
from baitwright.workshop.typed.sized import sized
from baitwright.workshop.typed.toml_reading import refuse_deep

_PLACE = re.compile(
    r"(?P<key>[A-Za-z_][A-Za-z0-9_]*)(?:\[(?P<at>[1-9]\d{0,2})\])?(?:\.(?P<rest>.+))?"
)
_DEEPEST = 8
"""Points in a key: no form has more than two."""
_ACCEPTED = "key=value, such as rod[1].position=left, or a file that ends in .toml or .json"
_YES, _NO = ("yes", "y", "true"), ("no", "n", "false")


def from_file(path: Path, *, kind: str) -> dict[str, Any]:
    """What a TOML or JSON file says of a record.

    Raises
    ------
    InputError: it cannot be read, or is neither.
    """
    if path.suffix.lower() != ".json":
        return load(path, what=kind)
    try:
        return from_json(sized(path, what=kind), kind=kind, where=str(path))
    except OSError as error:
        accepted, hint = "a file that can be read", f"{error.strerror}."
        raise InputError(kind, str(path), accepted, hint=hint) from None


def from_json(told: bytes, *, kind: str, where: str) -> dict[str, Any]:
    """What a JSON object says of a record, key by key as a file would.

    Raises
    ------
    InputError: it is none.
    """
    accepted = 'a JSON object such as {"water": "Long Reedpool"}'
    try:
        made = json.loads(told.decode("utf-8-sig"))
    except (ValueError, RecursionError) as error:
        raise InputError(kind, repr(told[:80]), accepted, hint=f"{error}.", where=where) from None
    if not isinstance(made, dict):
        raise InputError(kind, type(made).__name__, accepted, where=where)
    refuse_deep(made, where=where)
    return made


def with_words(standing: Mapping[str, Any], words: Iterable[str], *, form: Form) -> dict[str, Any]:
    """What stands, changed by words such as ``bites=1``; an empty value takes a key away.

    Fields of the form that are true of one version only do not stay unless they are told again.

    Raises
    ------
    InputError: a word that is none, a row that would leave a gap, or a key told twice.
    """
    made = {key: deepcopy(one) for key, one in standing.items() if key not in form.passing}
    seen = set()
    for word in words:
        place, sign, value = word.partition("=")
        place = place.strip().replace("-", "_")
        if not sign or _PLACE.fullmatch(place) is None or place.count(".") > _DEEPEST:
            raise InputError("record", word, _ACCEPTED)
        if place in seen:
            raise InputError(place, word, "a key once")
        seen.add(place)
        _put(made, place, value.strip(), table=form.table)
    return made


def as_written(mark: Reads | None, text: str) -> Any:
    """A word as a file would have it: a whole number, a number, true or false, or text."""
    kind = None if mark is None else mark.schema.get("type")
    if kind == "integer" and re.fullmatch(r"[-+]?\d{1,18}", text):
        return int(text)
    if kind == "number" and re.fullmatch(r"[-+]?\d{1,18}([.,]\d{1,18})?", text):
        return float(text.replace(",", "."))
    if kind == "boolean" and text.lower() in (*_YES, *_NO):
        return text.lower() in _YES
    return text


def _put(made: dict[str, Any], place: str, value: str, *, table: type[Table] | None) -> None:
    found = _PLACE.fullmatch(place)
    if found is None:
        raise InputError(place, value, _ACCEPTED)
    key, at, rest = found["key"], found["at"], found["rest"]
    field = None if table is None else fields_of(table).get(key)
    held = None if field is None else table_in(field)
    if at is None and rest is None:
        _set(made, key, None if value == "" else as_written(field and reads(field), value))
        return
    below = made if at is None else _rows(made, key, int(at), place=place)
    step: Any = key if at is None else int(at) - 1
    if rest is None:
        _set(below, step, value or None)
        return
    inner = below[step] if at is not None else made.setdefault(key, {})
    if not isinstance(inner, dict):
        raise InputError(place, value, _ACCEPTED)
    _put(inner, rest, value, table=held[0] if held else None)


def _rows(made: dict[str, Any], key: str, at: int, *, place: str) -> list[Any]:
    """The rows of a list, with one more where it is the next."""
    rows = made.setdefault(key, [])
    if not isinstance(rows, list) or at > len(rows) + 1:
        there = len(rows) if isinstance(rows, list) else 0
        raise InputError(place, at, f"a row up to {there + 1}, the next one")
    if at == len(rows) + 1:
        rows.append({})
    return rows


def _set(into: Any, step: Any, value: Any) -> None:
    """A value in its place; nothing takes away what is there."""
    if value is not None:
        into[step] = value
    elif isinstance(into, list) or step in into:
        del into[step]
