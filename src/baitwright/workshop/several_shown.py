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
from baitwright.sheets.wording import clock, count_of, day, span
from baitwright.terms.quantity import unwrap
from baitwright.workshop.files import write_together
from baitwright.workshop.several import Several

_STEPS = (15, 16, 22, 15, 24)
_HOURS_OVER = timedelta(minutes=15)
"""Longer on the tray than planned by this is worth a word (judgement)."""


def several_shown(made: Several) -> str:
    """The day for people in a terminal."""
    told = made.told
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
        lines += bullet(_in_time(plan, late), "?" if late else "-")
    for plan in made.plans:
        if over := _overstay(plan):
            lines += bullet(
                f"{plan.request.recipe.name} lies {span(over)} longer on the tray than planned: "
                "cover it once it is dry, or it ends drier and harder than the plan tells.",
                "?",
            )
    if not made.proved:
        lines += bullet("The search was stopped by its time: there may be a better order.", "?")
    if made.ways_out:
        lines += heading("Ways out")
        for one in made.ways_out:
            left = f"late by {span(one.late)} in all" if one.late else "in time"
            lines += bullet(f"{one.name}: {left}. Costs {one.costs}.")
    elif made.is_late:
        lines += bullet("Nothing that was tried saves any of it: leave later or make less.", "?")
    return "\n".join(lines)


_WITH = {Doing.HANDS: "hands", Doing.WAITING: "waits", Doing.DRYING: "on the tray"}


def several_as_json(made: Several) -> dict[str, Any]:
    """The day for programs."""
    return {
        "begins": made.plans[0].request.bench.now.isoformat(),
        "means": {name: getattr(made.told, name) for name in ("hands", "pots", "trays")},
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
    """Write the day's calendar into a folder.

    Raises
    ------
    InputError: the folder cannot be written to.
    """
    return write_together(folder, {"day.ics": day_calendar(*made.plans)}, field="out")


def _in_order(made: Several) -> Iterator[tuple[BatchPlan, Step]]:
    every = ((plan, step) for plan in made.plans for step in plan.day.steps)
    yield from sorted(every, key=lambda one: (one[1].start, one[1].end))


def _in_time(plan: BatchPlan, late: timedelta) -> str:
    name, last = plan.request.recipe.name, plan.day.steps[-1].end
    told = f"{name} is bagged {day(last)} {clock(last)}"
    leaving = plan.request.bench.leaving
    if late:
        return f"{told}: LATE by {span(late)}"
    return told if leaving is None else f"{told}; leaving {day(leaving)} {clock(leaving)}"


def _overstay(plan: BatchPlan) -> timedelta:
    """How much longer than planned the baits lie on their tray, where it matters."""
    lies = next(step.end - step.start for step in plan.day.steps if step.name == "dry")
    over = lies - timedelta(seconds=float(unwrap(plan.dry.time.value)))
    return over if over > _HOURS_OVER else timedelta(0)


def _iso(moment: datetime | None) -> str | None:
    return None if moment is None else moment.isoformat()
