"""Several planned batches in one day, as a page shows them."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from baitwright.notebook.store import Notebook
from baitwright.sheets.calendar import day_calendar
from baitwright.sheets.picture_days import days_picture
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH, State
from baitwright.workshop.batches.kept_plan import kept_plan
from baitwright.workshop.days.free_work import free_work
from baitwright.workshop.days.question_day import DayBatch, DayQuestion
from baitwright.workshop.days.several import Several, arrange_works
from baitwright.workshop.days.several_file import MOST
from baitwright.workshop.days.several_words import (
    doubts,
    in_time,
    means_told,
    taken_up,
    ways_told,
)
from baitwright.workshop.days.works import work_of
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.told.answer_parts import Part


def day_asked(book: Notebook, told: DayQuestion, *, now: datetime) -> tuple[Part, ...]:
    """The batches at their hours; nothing where none is planned and none was named.

    Raises
    ------
    InputError: no such batch, too many of them, or one that asks for more than there is.
    """
    made = day_of(book, told, now=now)
    if made is None:
        return ()
    lines = tuple(map(in_time, made.plans, made.late))
    parts = [
        Part("In time?", lines=lines, points=tuple(doubts(made))),
        Part("What it takes", lines=(means_told(told),), points=tuple(taken_up(made))),
        Part(pictures=(days_picture(made.plans),)),
    ]
    if made.ways_out:
        parts.insert(1, Part("Ways out", points=tuple(ways_told(made))))
    return tuple(parts)


def day_of(book: Notebook, told: DayQuestion, *, now: datetime) -> Several | None:
    """The batches in turn, or nothing where there are none.

    Raises
    ------
    InputError: as `day_asked`.
    """
    batches = told.batch or _planned(book)
    if not batches:
        return None
    count = len(batches) + len(told.free_bait)
    if count > MOST:
        accepted = f"{MOST} at most in one day, free baits among them"
        raise InputError("batch", count, accepted)
    works = []
    for one in batches:
        work = work_of(worked_out(kept_plan(book, one.name)), one)
        works.append(replace(work, batch=one.name))
    for free in told.free_bait:
        work = free_work(worked_out(kept_plan(book, free.name)), free)
        works.append(replace(work, batch=f"{free.name}, free bait"))
    since = now.replace(second=0, microsecond=0, tzinfo=None)
    return arrange_works(works, told, since=since)


def day_asked_calendar(book: Notebook, told: DayQuestion, *, now: datetime) -> bytes:
    """The day as a calendar file, whose events follow the batches' names.

    Raises
    ------
    InputError: as `day_asked`, and where nothing is planned.
    """
    made = day_of(book, told, now=now)
    if made is None:
        raise InputError("batch", None, "a batch that is planned")
    names = [one.batch for one in made.works]
    return day_calendar(*made.plans, named=names, now=now.replace(tzinfo=None))


def _planned(book: Notebook) -> tuple[DayBatch, ...]:
    """The batches that are planned and not made."""
    with book.reading() as page:
        found = [
            one.name
            for one in page.last(BATCH, 50)
            if one.body is not None and one.body["state"] == State.PLANNED
        ]
    return tuple(DayBatch(name=name) for name in reversed(found[:MOST]))
