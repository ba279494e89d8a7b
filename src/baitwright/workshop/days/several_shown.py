"""Several batches in one day as text, as JSON and as a calendar."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.day import Doing, Step
from baitwright.sheets.calendar import day_calendar
from baitwright.sheets.layout import bullet, heading, paragraph, table
from baitwright.sheets.picture_days import days_picture
from baitwright.sheets.wording import clock, count_of, day
from baitwright.workshop.days.several import Several
from baitwright.workshop.days.several_words import doubts, in_time, ways_told
from baitwright.workshop.told.files import write_together

_STEPS = (15, 16, 22, 15, 24)


def several_shown(made: Several) -> str:
    """The day for people in a terminal."""
    told = made.kitchen
    means = f"{count_of(told.hands, 'pair')} of hands, {count_of(told.pots, 'pot')}, "
    lines = [f"A DAY OF {count_of(len(made.plans), 'BATCH', 'BATCHES')}"]
    lines += paragraph(f"{means}{count_of(told.trays, 'tray')}.")
    lines += heading("By the clock")
    last = None
    for plan, step in _in_order(made):
        date = day(step.start) if step.start.date() != last else ""
        last = step.start.date()
        hours = f"{clock(step.start)} to {clock(step.end)}"
        lines += table(
            [(date, hours, plan.request.recipe.name, step.name, _WITH[step.doing])], _STEPS
        )
    lines += heading("In time?")
    for plan, late in zip(made.plans, made.late, strict=True):
        lines += bullet(in_time(plan, late), "?" if late else "-")
    for doubt in doubts(made):
        lines += bullet(doubt, "?")
    if made.ways_out:
        lines += heading("Ways out")
        for way in ways_told(made):
            lines += bullet(way)
    return "\n".join(lines)


_WITH = {Doing.HANDS: "hands", Doing.WAITING: "waits", Doing.DRYING: "on the tray"}


def several_as_json(made: Several) -> dict[str, Any]:
    """The day for programs."""
    return {
        "begins": made.since.isoformat(),
        "means": {name: getattr(made.kitchen, name) for name in ("hands", "pots", "trays")},
        "proved": made.proved,
        "batches": [
            {
                "recipe": plan.request.recipe.name,
                "leaving": _iso(plan.request.bench.leaving),
                "late_min": late / timedelta(minutes=1),
                "steps": [
                    {
                        "name": step.name,
                        "start": step.start.isoformat(),
                        "end": step.end.isoformat(),
                        "doing": step.doing.value,
                    }
                    for step in plan.day.steps
                ],
            }
            for plan, late in zip(made.plans, made.late, strict=True)
        ],
        "ways_out": [
            {"name": one.name, "costs": one.costs, "late_min": one.late / timedelta(minutes=1)}
            for one in made.ways_out
        ],
    }


def write_day(made: Several, folder: Path) -> tuple[Path, ...]:
    """Write the day's calendar and its strip into a folder.

    Raises
    ------
    InputError: the folder cannot be written to.
    """
    strip = days_picture(made.plans).svg.encode()
    return write_together(
        folder, {"day.ics": day_calendar(*made.plans), "day.svg": strip}, field="out"
    )


def _in_order(made: Several) -> Iterator[tuple[BatchPlan, Step]]:
    every = ((plan, step) for plan in made.plans for step in plan.day.steps)
    yield from sorted(every, key=lambda one: (one[1].start, one[1].end))


def _iso(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat()
