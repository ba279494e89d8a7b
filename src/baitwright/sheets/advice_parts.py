"""An answer put together for paper, mail and message: the same parts in the same order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby

from baitwright.advice.answers import Advice, Statement
from baitwright.advice.grades import Grade
from baitwright.materials.factors import set_said
from baitwright.sources import key_said

TITLE = "Advice"
GRADES = (
    f"Behind every line stands what it rests on: {', '.join(map(str, Grade))}. A line is as sure "
    "as the weakest thing under it."
)
TO_NARROW = "What would make it surer"
RESTS_ON = "What it rests on"
CARES = "Take care"


@dataclass(frozen=True, slots=True)
class Row:
    """One statement as it stands on a sheet; its head is blank where that above is the same."""

    head: str
    text: str
    grade: str
    rests_on: str
    is_first: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """The statements about one thing."""

    about: str
    rows: tuple[Row, ...]


def groups(advice: Advice) -> tuple[Group, ...]:
    """What is said, thing by thing."""
    by_thing = groupby(advice.found.statements, key=lambda one: one.about)
    return tuple(Group(about, tuple(_rows(told))) for about, told in by_thing)


def assumed(advice: Advice) -> tuple[Row, ...]:
    """What it rests on."""
    return tuple(_rows(iter(advice.found.assumptions)))


def _rows(told: Iterator[Statement]) -> Iterator[Row]:
    before = ""
    for one in told:
        head = "" if one.head == before else one.head
        yield Row(head, one.text, str(one.grade), one.rests_on, one.is_first)
        before = one.head


def cares(advice: Advice) -> tuple[str, ...]:
    """What calls for care, each with its source where there is one."""
    return tuple(
        f"{one.text} [{key_said(one.source)}]" if one.source not in ("", "supplier") else one.text
        for one in advice.found.cares
    )


def mark(advice: Advice) -> str:
    """What every copy of an answer says it is."""
    return f"Answer {advice.name}, version {advice.version}"


def made_with(advice: Advice) -> str:
    """The program and the set of factors it was computed with, and when."""
    factors = f", factors: {set_said(advice.found.factors)}" if advice.found.factors else ""
    return f"{advice.day}, Baitwright {advice.program}{factors}"
