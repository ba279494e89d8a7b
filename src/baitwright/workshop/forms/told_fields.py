"""What a page was told, field by field, put together as a file would have it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from typing import Any

from baitwright.terms.errors import InputError
from baitwright.workshop.forms.asked_fields import KEY, SHARE
from baitwright.workshop.forms.form import fields_of, is_named, reads, table_in
from baitwright.workshop.forms.form_words import as_written
from baitwright.workshop.typed.fields import Reads
from baitwright.workshop.typed.reading import Table

_STEP = re.compile(r"([A-Za-z_][A-Za-z0-9_]{0,39})(?:\[([1-9]\d{0,2})\])?")
_MOST = 2_000
"""Fields of one page (judgement); no page of a maker comes near it."""


def told_by(table: type[Table], pairs: Iterable[tuple[str, str]]) -> dict[str, Any]:
    """What fields say, as plain data; empty ones, and rows of nothing else, are left out.

    Parameters
    ----------
    table: which fields there are.
    pairs: names such as liquid[1].level, and what was typed.

    Raises
    ------
    InputError: a name that is none, one told twice, or too many.
    """
    tree: dict[Any, Any] = {}
    for at, (name, typed) in enumerate(pairs):
        if at >= _MOST:
            raise InputError("page", f"more than {_MOST} fields", "what a page asks for")
        if typed.strip():
            _hang(tree, name, typed.strip())
    return _shaped(table, tree)


def _hang(tree: dict[Any, Any], name: str, typed: str) -> None:
    below = tree
    steps: list[str | int] = []
    for part in name.split("."):
        found = _STEP.fullmatch(part)
        if found is None:
            raise InputError(name[:80], typed, "a field such as liquid[1].level")
        steps += [found[1]] if found[2] is None else [found[1], int(found[2])]
    for step in steps[:-1]:
        below = below.setdefault(step, {})
        if not isinstance(below, dict):
            raise InputError(name, typed, "a field that is told once")
    if steps[-1] in below:
        raise InputError(name, typed, "a field that is told once")
    below[steps[-1]] = typed


def _shaped(table: type[Table], tree: Mapping[Any, Any]) -> dict[str, Any]:
    known, made = fields_of(table), {}
    for key, told in tree.items():
        field = known.get(str(key))
        if field is None:
            made[str(key)] = told  # refused by name, with what is known there
            continue
        held, mark = table_in(field), reads(field)
        if isinstance(told, str):
            made[key] = _listed(told) if mark is None else _typed(mark, told)
        elif held is not None and held[1]:
            made[key] = [_shaped(held[0], row) for _, row in _rows(key, told)]
        elif held is not None:
            made[key] = _shaped(held[0], told)
        elif is_named(field):
            made[key] = _named(told, key, may_be_empty=mark is not None)
        else:
            made[key] = told
    return made


def _rows(key: Any, told: Mapping[Any, Any]) -> list[tuple[int, Any]]:
    """Rows by their numbers; each has fields of its own.

    Raises
    ------
    InputError: what stands there is none.
    """
    odd = [at for at, row in told.items() if not isinstance(at, int) or not isinstance(row, dict)]
    if odd:
        raise InputError(str(key), str(odd[0]), f"rows such as {key}[1], each with its own fields")
    return sorted(told.items())


def _typed(mark: Reads, told: str) -> Any:
    if mark.schema.get("type") == "array" or ("anyOf" in mark.schema and ";" in told):
        return _listed(told)
    return as_written(mark, told)


def _listed(told: str) -> list[str]:
    return [part.strip() for part in told.split(";") if part.strip()]


def _named(
    rows: Mapping[int, Mapping[str, str]], key: str, *, may_be_empty: bool
) -> dict[str, str]:
    """Rows under the names they bear; one whose amount nobody told may be left out."""
    made: dict[str, str] = {}
    for at, row in _rows(key, rows):
        name = row.get(KEY, "")
        if may_be_empty and name and not row.get(SHARE):
            continue
        if not name or name in made:
            accepted = "a name for each, once"
            raise InputError(f"{key}[{at}].{KEY}", name or None, accepted)
        made[name] = row.get(SHARE, "")
    return made
