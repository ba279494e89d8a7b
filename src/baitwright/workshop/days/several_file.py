"""The file of a day with several batches: which they are, and what there is to make them with."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import time
from pathlib import Path
from typing import Annotated

from pydantic import Field

from baitwright.terms.errors import InputError
from baitwright.workshop.typed.fields import Reads, number
from baitwright.workshop.typed.reading import Table, load, parse
from baitwright.workshop.typed.words import text

MOST = 8
"""Batches of one day (judgement): nobody's hands make more."""
_NIGHT = re.compile(r"(\d{1,2}):(\d{2})\s*(?:to|-)\s*(\d{1,2}):(\d{2})")


@dataclass(frozen=True, slots=True)
class Asleep:
    """From when to when nobody's hands are to be had."""

    begins: time
    ends: time


def _night(value: object) -> Asleep:
    found = _NIGHT.fullmatch(str(value).strip())
    if found is None:
        raise InputError("", value, _ASLEEP)
    hours = [int(one) for one in found.groups()]
    night = Asleep(time(hours[0], hours[1]), time(hours[2], hours[3]))
    if night.begins == night.ends:
        raise InputError("", value, _ASLEEP)
    return night


_ASLEEP = 'two times on the clock such as "23:00 to 6:00"'
_READ_NIGHT = Reads(
    _night,
    _ASLEEP,
    "When nobody's hands are to be had.",
    {"type": "string", "examples": ["23:00 to 6:00"]},
)


class Kitchen(Table):
    """What there is to make batches with."""

    hands: Annotated[int, number(1, 10, example=1, about="How many people make baits.")] = 1
    pots: Annotated[int, number(1, 10, example=1, about="Pots with a basket of their own.")] = 1
    trays: Annotated[int, number(1, 50, example=2, about="Trays to dry on.")] = 1
    asleep: Annotated[Asleep | None, _READ_NIGHT] = None


class BatchOfDay(Table):
    """One of the batches: its files, beside this one, and the trays that it fills."""

    recipe: Annotated[str, text(about="The recipe's file.", example="copper-wafter.toml")]
    bench: Annotated[
        str, text(about="The bench's file: eggs and leaving.", example="bench-one-egg.toml")
    ]
    trays: Annotated[int, number(1, 20, example=1, about="Trays that the baits fill.")] = 1


class DayFile(Kitchen):
    """A day at the bench."""

    batch: tuple[BatchOfDay, ...] = Field(description="The batches, one table to each.")


def read_day_file(path: Path) -> DayFile:
    """The file of a day.

    Raises
    ------
    InputError: it cannot be read, a field is none, or there are too few batches or too many.
    """
    told = parse(load(path, what="day"), DayFile, where=str(path))
    if not 1 <= len(told.batch) <= MOST:
        raise InputError("batch", len(told.batch), f"1 to {MOST} of them", where=str(path))
    return told
