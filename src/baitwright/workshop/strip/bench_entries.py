"""What may be told at a step of the bench: entries of a batch's file, and values as typed."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

from baitwright.sheets.bench_steps import Step
from baitwright.workshop.forms.form import reads
from baitwright.workshop.forms.form_words import as_written
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.told.field_words import words_of
from baitwright.workshop.typed.fields import Reads
from baitwright.workshop.typed.reading import parse

DRAWN = "drawn."
"""Begins the name of an entry that takes what was drawn of one liquid."""
NOTED = "noted."
"""Begins the name of one that no batch's file asks: it stays with the strip."""
_BARE = re.compile(r"[0-9]+([.,][0-9]+)?")
_BETWEEN = re.compile(r"\s*;\s*|(?<=[0-9A-Za-z])\s+(?=[0-9])")
"""Between values of a list: 62 64 61, or 62 g; 64 g."""
_AS_PLANNED = ("tub_before", "boiled")
"""Entries that are offered as planned; others are read off a scale, or they would teach nothing."""


@dataclass(frozen=True, slots=True)
class Entry:
    """Something that may be told at a step.

    Parameters
    ----------
    name: as a batch's file has it, such as ``drawn.Malt``.
    label: as the page calls it.
    unit: that is meant where only a number is typed.
    example: of what is typed.
    offered: what was planned, to be written down as it is; empty where it has to be measured.
    near: the number that less and more begin from, and ``step`` how far each goes; both may be "".
    """

    name: str
    label: str
    unit: str
    example: str
    offered: str = ""
    near: str = ""
    step: str = ""


def entries_of(key: str, step: Step) -> Iterator[Entry]:
    """The entries of a step; one that no file asks takes a note."""
    near = step.number if re.fullmatch(r"\d+(\.\d+)?", step.number) else ""
    unit_step = f"0.{'0' * (len(near.partition('.')[2]) - 1)}1" if "." in near else "1"
    planned = f"{step.number} {step.unit}".strip() if near else ""
    """The entries of a step; one that no file asks takes a note."""
    for at, name in enumerate(step.asks):
        first = near if at == 0 and name != "tub_after" else ""
        by = unit_step if first else ""
        if name.startswith(DRAWN):
            label = f"Drawn of {name.removeprefix(DRAWN)}"
            yield Entry(name, label, step.unit, planned, planned, first, by)
            continue
        mark, label = marks()[name], words_of(f"{name[:1].upper()}{name[1:]}")
        offered = planned if name in _AS_PLANNED else ""
        yield Entry(name, label, unit_of(mark), example_of(mark), offered, first, by)
    if not step.asks:
        yield Entry(f"{NOTED}{key}", "What it was", step.unit, planned, planned, near, unit_step)


def read_entry(entry: Entry, typed: str) -> Any:
    """What was typed for an entry, as a batch's file has it; a bare number has the entry's unit.

    Raises
    ------
    InputError: it cannot be.
    """
    name, typed = entry.name, typed.strip()
    if name.startswith(NOTED):
        return typed
    if name.startswith(DRAWN):
        told = _with_unit(typed, entry.unit)
        parse({"drawn": {name.removeprefix(DRAWN): told}}, BatchTable, where="")
        return told
    mark = marks()[name]
    if mark.schema.get("type") == "array":
        made: Any = [_with_unit(one, entry.unit) for one in _BETWEEN.split(typed)]
    else:
        made = as_written(mark, _with_unit(typed, entry.unit))
    parse({name: made}, BatchTable, where="")
    return made


def _with_unit(typed: str, unit: str) -> str:
    return f"{typed} {unit}" if unit and _BARE.fullmatch(typed) else typed


@cache
def marks() -> dict[str, Reads]:
    """What reads each entry of a batch's file."""
    known = ((name, reads(field)) for name, field in BatchTable.model_fields.items())
    return {name: mark for name, mark in known if mark is not None}


def example_of(mark: Reads) -> str:
    """Of what is typed; of a list, one of its values."""
    schema = mark.schema.get("items", mark.schema)
    return str((schema.get("examples") or [""])[0])


def unit_of(mark: Reads) -> str:
    """The unit of what is typed, where it has one."""
    return example_of(mark).partition(" ")[2] if mark.schema.get("type") != "integer" else ""
