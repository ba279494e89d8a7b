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
from baitwright.terms.quantity import unwrap
from baitwright.workshop.days.several import Several
from baitwright.workshop.days.several_words import doubts, in_time, means_told, taken_up, ways_told
from baitwright.workshop.told.files import write_together

_MEANS = ("hands", "pots", "trays", "fans", "fan_trays")
_MINUTE = timedelta(minutes=1)
_STEPS = (15, 16, 24, 15, 24)


def several_shown(made: Several) -> str:
    """The day for people in a terminal."""
    lines = [f"A DAY OF {count_of(len(made.plans), 'BATCH', 'BATCHES')}"]
    lines += paragraph(means_told(made.kitchen))
    lines += heading("By the clock")
    last = None
    for plan, step in _in_order(made):
        date = day(step.start) if step.start.date() != last else ""
        last = step.start.date()
        hours = f"{clock(step.start)} to {clock(step.end)}"
        lines += table(
            [(date, hours, plan.request.recipe.name, step.name, _WITH[step.doing])], _STEPS
        )
    lines += heading("What it takes")
    for said in taken_up(made):
        lines += bullet(said)
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
        "means": {
            **{name: getattr(made.kitchen, name) for name in _MEANS},
            "freezer_l": None if made.kitchen.freezer is None else 1e3 * made.kitchen.freezer,
        },
        "proved": made.proved,
        "batches": [
            {
                "recipe": work.name,
                "free_bait": work.is_free_bait,
                "leaving": _iso(work.leaving),
                "late_min": late / _MINUTE,
                "trays": work.trays,
                "freezer_l": round(work.litres, 1),
                "hands_on_min": float(unwrap(work.plan.day.hands_on.value)) / 60.0,
                "steps": [_step(step) for step in work.plan.day.steps],
                "beside": [_step(step) for step in work.plan.day.beside],
            }
            for work, late in zip(made.works, made.late, strict=True)
        ],
        "ways_out": [
            {
                "name": one.name,
                "costs": one.costs,
                "late_min": one.late / _MINUTE,
                "hindered": one.hindered or None,
            }
            for one in made.ways_out
        ],
    }


def _step(step: Step) -> dict[str, str]:
    return {
        "name": step.name,
        "start": step.start.isoformat(),
        "end": step.end.isoformat(),
        "doing": step.doing.value,
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
    every = ((plan, step) for plan in made.plans for step in (*plan.day.steps, *plan.day.beside))
    yield from sorted(every, key=lambda one: (one[1].start, one[1].end))


def _iso(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat()
