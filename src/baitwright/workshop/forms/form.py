"""A form: one kind of record, its fields, and which of them name something of the notebook."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any, get_args, get_origin

from pydantic.fields import FieldInfo

from baitwright.workshop.forms.form_things import FormTable
from baitwright.workshop.typed.fields import Reads
from baitwright.workshop.typed.reading import Table

WRITTEN, FILES, DAY, ABOUT, STATE = "written", "files", "day", "about", "state"


@dataclass(frozen=True, slots=True)
class Form:
    """One kind of record.

    Parameters
    ----------
    kind: what the command line and the notebook call it.
    table: its fields.
    subject: the field that says what a record is about.
    passing: fields that are true of one version only.
    is_named: whether the maker has to name it; else the day and a number will do.
    check: refuses what fields say together and cannot be.
    """

    kind: str
    table: type[Table]
    subject: str = ""
    passing: tuple[str, ...] = ()
    is_named: bool = False
    check: Callable[[Any], object] | None = None


def fields_of(table: type[Table]) -> dict[str, FieldInfo]:
    """The fields of a table, its own before those that every record has."""
    every = FormTable.model_fields if issubclass(table, FormTable) else {}
    told = table.model_fields
    return {name: told[name] for name in (*(n for n in told if n not in every), *every)}


def reads(field: FieldInfo) -> Reads | None:
    """What reads a field; nothing where it holds tables of its own."""
    return next((mark for mark in field.metadata if isinstance(mark, Reads)), None)


def table_in(field: FieldInfo) -> tuple[type[Table], bool] | None:
    """The table a field holds, and whether it holds several."""
    many = get_origin(field.annotation) is tuple
    for one in (field.annotation, *get_args(field.annotation)):
        if isinstance(one, type) and issubclass(one, Table):
            return one, many
    return None


def is_named(field: FieldInfo) -> bool:
    """Whether a field holds rows under names that the maker chooses."""
    held = (field.annotation, *get_args(field.annotation))
    return any(get_origin(one) is dict for one in held)


def mentions(body: Mapping[str, Any], *names: str) -> Iterator[tuple[str, str]]:
    """What fields of some names say, in a record and in its rows, with where they stand."""
    for key, value in body.items():
        if key in names and isinstance(value, str):
            yield key, value
        elif key != WRITTEN and isinstance(value, list):
            for at, row in enumerate(value, start=1):
                if isinstance(row, dict):
                    yield from (
                        (f"{key}[{at}].{name}", told) for name, told in mentions(row, *names)
                    )
