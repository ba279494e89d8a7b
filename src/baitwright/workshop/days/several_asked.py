"""Several planned batches in one day, as a page shows them."""

from __future__ import annotations

from datetime import datetime

from baitwright.notebook.store import Notebook
from baitwright.sheets.picture_days import days_picture
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH, State
from baitwright.workshop.batches.kept_plan import kept_plan
from baitwright.workshop.days.question_day import DayBatch, DayQuestion
from baitwright.workshop.days.several import arrange_plans
from baitwright.workshop.days.several_file import MOST
from baitwright.workshop.days.several_words import doubts, in_time, ways_told
from baitwright.workshop.plans.plan_told import worked_out
from baitwright.workshop.told.answer_parts import Part


def day_asked(book: Notebook, told: DayQuestion, *, now: datetime) -> tuple[Part, ...]:
    """The batches at their hours; nothing where none is planned and none was named.

    Raises
    ------
    InputError: no such batch, too many of them, or one that asks for more than there is.
    """
    batches = told.batch or _planned(book)
    if not batches:
        return ()
    if len(batches) > MOST:
        raise InputError("batch", len(batches), f"{MOST} at most in one day")
    plans = [worked_out(kept_plan(book, one.name)) for one in batches]
    since = now.replace(second=0, microsecond=0, tzinfo=None)
    made = arrange_plans(plans, [one.trays for one in batches], told, since=since)
    lines = tuple(map(in_time, made.plans, made.late))
    parts = [
        Part("In time?", lines=lines, points=tuple(doubts(made))),
        Part(pictures=(days_picture(made.plans),)),
    ]
    if made.ways_out:
        parts.insert(1, Part("Ways out", points=tuple(ways_told(made))))
    return tuple(parts)


def _planned(book: Notebook) -> tuple[DayBatch, ...]:
    """The batches that are planned and not made."""
    with book.reading() as page:
        found = [
            one.name
            for one in page.last(BATCH, 50)
            if one.body is not None and one.body["state"] == State.PLANNED
        ]
    return tuple(DayBatch(name=name) for name in reversed(found[:MOST]))
