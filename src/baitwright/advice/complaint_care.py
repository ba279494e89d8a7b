"""What a complaint calls for first, above all where somebody may have come to harm."""

from __future__ import annotations

import re
from dataclasses import dataclass

from baitwright.advice.faults_tables import table
from baitwright.materials.tables import Row, one_of

_WORD = re.compile(r"\w+")
_SHORTEST = 4
"""From so many letters on, a word that only begins like it counts too (judgement)."""


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
    rows = table("complaint_care", FirstCare).values()
    raised = (row for row in rows if harm or row.trigger == "always")
    return tuple(sorted(raised, key=lambda row: row.trigger != "harm"))


def speaks_of_harm(words: str) -> bool:
    """Whether words of a complaint sound like illness or an allergy; better once too often."""
    told = [word.casefold() for word in _WORD.findall(words)]
    stems = table("harm_words", Row)
    return any(
        word == stem or (len(stem) >= _SHORTEST and word.startswith(stem))
        for word in told
        for stem in stems
    )
