"""A year on paper: what was made, what it cost, what went wrong, what was learned."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal
from pathlib import Path

from baitwright.quantities import tidy
from baitwright.sheets.list_sheet import Column, Group, Listed, ListSheet, Paper, list_pages
from baitwright.sheets.picture_year import MONTHS
from baitwright.sheets.wording import count_of
from baitwright.workshop.told.files import write_together
from baitwright.workshop.told.worth_words import NOT_KNOWN, in_short
from baitwright.workshop.years.year import YearReport
from baitwright.workshop.years.year_book import Paid
from baitwright.workshop.years.year_told import (
    NOTHING_LEARNED,
    NOTHING_MADE,
    besides_told,
    cost_told,
    nights_told,
    score_told,
    wrong_told,
)

_MADE = (
    Column("recipe", 3.4),
    Column("batches", 1.1, numbers=True),
    Column("good baits", 1.3, numbers=True),
    Column("cost", 1.5, numbers=True),
    Column("each", 1.3, numbers=True),
)
_READ = (
    Column("reading", 3.4),
    Column("read", 1.0, numbers=True),
    Column("in its band", 1.3, numbers=True),
    Column("against plan", 1.6, numbers=True),
)
_BAITS = (
    Column("bait", 3.4),
    Column("nights", 1.0, numbers=True),
    Column("rod-hours", 1.3, numbers=True),
    Column("bites", 1.0, numbers=True),
)
_PER_MONTH = tuple(Column(month, 1.0, numbers=True) for month in MONTHS)


def write_year(path: Path, told: YearReport, *, paper: str, now: datetime) -> Path:
    """Write a year as a PDF on `a4` or `a5`.

    Raises
    ------
    InputError: the file cannot be written.
    """
    pages = list_pages(year_sheet(told, now=now), Paper(paper))
    return write_together(path.parent, {path.name: pages}, field="pdf")[0]


def year_sheet(told: YearReport, *, now: datetime) -> ListSheet:
    """A year in its four parts."""
    batches = count_of(told.batches, "batch", "batches")
    about = f"{batches}, {count_of(told.baits, 'good bait')}{', so far' if told.so_far else ''}"
    tables = (
        _made(told),
        *_months(told),
        Listed("What it cost", (), (), tuple(cost_told(told))),
        Listed("What went wrong", (), (), tuple(map(_sentence, wrong_told(told)))),
        *_learned(told),
    )
    return ListSheet(f"Year {told.year}", about, now, tables)


def _made(told: YearReport) -> Listed:
    if not told.made:
        return Listed("What was made", (), (), (NOTHING_MADE,))
    rows = tuple(
        (one.recipe, str(one.batches), str(one.baits), *_cost(one.cost, one.baits))
        for one in told.made
    )
    whole = ("all together", str(told.batches), str(told.baits), *_cost(told.cost, told.baits))
    remarks = () if told.cost.whole else (NOT_KNOWN,)
    return Listed("What was made", _MADE, (Group(rows=rows), Group(whole)), remarks)


def _cost(cost: Paid, baits: int) -> tuple[str, str]:
    each = cost.value / baits if baits else Decimal(0)
    sign = "" if cost.whole else "≥ "
    told = f"{sign}{each:.4f}" if cost.whole or cost.value else "?"
    return in_short(cost.value, whole=cost.whole), told


def _months(told: YearReport) -> Iterable[Listed]:
    if told.baits:
        row = tuple(str(many) if many else "-" for many in told.months)
        yield Listed("Good baits, month by month", _PER_MONTH, (Group(rows=(row,)),))


def _learned(told: YearReport) -> Iterable[Listed]:
    """Numbers as tables, and the lines that no table has."""
    learned = told.learned
    lines = [*score_told(learned), *nights_told(learned), *besides_told(learned)]
    remarks = tuple(map(_sentence, lines or [NOTHING_LEARNED]))
    yield Listed("What was learned", (), (), remarks)
    if learned.readings:
        read = tuple(
            (
                one.label,
                str(one.score.of),
                str(one.score.inside),
                f"{100 * (one.over_planned - 1):+.1f} %",
            )
            for one in learned.readings
        )
        yield Listed("Readings against their plans", _READ, (Group(rows=read),))
    if learned.baits:
        rows = tuple(
            (one.bait, str(one.nights), tidy(one.rod_hours, 4), str(one.bites))
            for one in learned.baits
        )
        yield Listed("Baits fished", _BAITS, (Group(rows=rows),), ("In no order of merit.",))


def _sentence(line: str) -> str:
    told = f"{line[:1].upper()}{line[1:]}"
    return f"{told.rstrip('.:')}."
