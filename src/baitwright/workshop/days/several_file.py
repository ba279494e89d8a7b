"""The file of a day with several batches: which they are, and what there is to make them with."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import time
from enum import StrEnum
from pathlib import Path
from typing import Annotated

from pydantic import Field

from baitwright.quantities import Kind
from baitwright.terms.errors import InputError
from baitwright.workshop.typed.fields import Reads, measured, number
from baitwright.workshop.typed.reading import Table, load, parse
from baitwright.workshop.typed.words import text, word, yes_or_no

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


class Freezes(StrEnum):
    """Whether baits go into the freezer until leaving, dried or as they come from the pot."""

    NO = "no"
    DRIED = "dried"
    WET = "wet"


class Kitchen(Table):
    """What there is to make batches with."""

    hands: Annotated[int, number(1, 10, example=1, about="How many people make baits.")] = 1
    pots: Annotated[int, number(1, 10, example=1, about="Pots with a basket of their own.")] = 1
    trays: Annotated[
        int | None, number(1, 50, example=2, about="Trays to dry on; left out, enough.")
    ] = None
    fans: Annotated[int, number(0, 10, example=1, about="Fans to dry before.")] = 0
    fan_trays: Annotated[int, number(1, 10, example=2, about="Trays that one fan serves.")] = 2
    freezer: Annotated[
        float | None,
        measured(
            Kind.VOLUME, "0 l", "2000 l", example="12 l", about="Free room in it; left out, enough."
        ),
    ] = None
    asleep: Annotated[Asleep | None, _READ_NIGHT] = None


class Place(Table):
    """Where the baits of a batch lie: trays, fan, freezer."""

    trays: Annotated[
        int | None, number(1, 20, example=1, about="Trays that they fill; left out, reckoned.")
    ] = None
    fan: Annotated[bool, yes_or_no(about="Whether they dry before a fan.")] = False
    frozen: Annotated[Freezes, word(Freezes, about="Whether they are frozen until leaving.")] = (
        Freezes.NO
    )


class FreeAmount(Place):
    """Free baits: how much, and how they are rolled."""

    dry_mix: Annotated[
        float | None,
        measured(Kind.MASS, "50 g", "100 kg", example="2 kg", about="Left out, the recipe's."),
    ] = None
    by_hand: Annotated[bool, yes_or_no(about="Whether rolled by hand instead of on a table.")] = (
        False
    )
    pace: Annotated[
        float | None,
        number(0.2, 500, whole=False, example=40, about="Free baits rolled in a minute."),
    ] = None


class BatchOfDay(Place):
    """One of the batches: its files, beside this one, and where its baits lie."""

    recipe: Annotated[str, text(about="The recipe's file.", example="copper-wafter.toml")]
    bench: Annotated[
        str, text(about="The bench's file: eggs and leaving.", example="bench-one-egg.toml")
    ]


class FreeOfDay(FreeAmount):
    """Free baits as a batch of their own, matched to the hookbait of these files."""

    recipe: Annotated[str, text(about="The hookbait's recipe.", example="copper-wafter.toml")]
    bench: Annotated[str, text(about="The bench's file.", example="bench-one-egg.toml")]


class DayFile(Kitchen):
    """A day at the bench."""

    batch: tuple[BatchOfDay, ...] = Field(description="The batches, one table to each.")
    free_bait: tuple[FreeOfDay, ...] = Field(
        (), description="Free baits made on the same day, one table to each."
    )


def read_day_file(path: Path) -> DayFile:
    """The file of a day.

    Raises
    ------
    InputError: it cannot be read, a field is none, or there are too few batches or too many.
    """
    told = parse(load(path, what="day"), DayFile, where=str(path))
    count = len(told.batch) + len(told.free_bait)
    if not told.batch or count > MOST:
        accepted = f"1 to {MOST} of them, free baits among them"
        raise InputError("batch", count, accepted, where=str(path))
    return told
