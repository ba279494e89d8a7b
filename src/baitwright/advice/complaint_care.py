"""What a complaint calls for before anything else, where somebody may have come to harm above all."""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import TypeVar

from baitwright.materials.tables import Row, one_of, read_rows

DATA = Path(__file__).with_name("data")
_WORD = re.compile(r"\w+")
_SHORTEST = 4
"""From so many letters on, a word that only begins like it counts too (judgement)."""
R = TypeVar("R", bound=Row)


@dataclass(frozen=True, slots=True, kw_only=True)
class FirstCare(Row):
    """One first thing to do: for every complaint, or where somebody may have come to harm.

    ``text`` is told to the maker, ``said`` by the maker to whoever complained.
    """

    trigger: str = one_of("always", "harm")
    country: str
    checked_on: str
    text: str
    said: str


def first_care(*, harm: bool) -> tuple[FirstCare, ...]:
    """What a complaint calls for, harm first."""
    rows = [row for row in _table("complaint_care", FirstCare).values()]
    raised = [row for row in rows if harm or row.trigger == "always"]
    return tuple(sorted(raised, key=lambda row: row.trigger != "harm"))


def speaks_of_harm(words: str) -> bool:
    """Whether words of a complaint sound like illness or an allergy; better once too often."""
    told = [word.casefold() for word in _WORD.findall(words)]
    stems = _table("harm_words", Row)
    return any(
        word == stem or (len(stem) >= _SHORTEST and word.startswith(stem))
        for word in told
        for stem in stems
    )


def _table(name: str, kind: type[R]) -> Mapping[str, R]:
    return _read(name, kind)  # type: ignore[return-value]


@cache
def _read(name: str, kind: type[Row]) -> Mapping[str, Row]:
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return read_rows(csv.reader(file), name, kind)
