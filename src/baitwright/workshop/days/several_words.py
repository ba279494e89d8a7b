"""What is said of a day with several batches: in time or late, what to mind, and ways out."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.wording import clock, day, span
from baitwright.terms.quantity import unwrap
from baitwright.workshop.days.several import Several

_HOURS_OVER = timedelta(minutes=15)
"""Longer on the tray than planned by this is worth a word (judgement)."""


def doubts(made: Several) -> Iterator[str]:
    """What to mind about the day as it is arranged."""
    for plan in made.plans:
        if over := _overstay(plan):
            yield (
                f"{plan.request.recipe.name} lies {span(over)} longer on the tray than planned: "
                "cover it once it is dry, or it ends drier and harder than the plan tells."
            )
    if not made.proved:
        yield "The search was stopped by its time: there may be a better order."
    if made.is_late and not made.ways_out:
        yield "Nothing that was tried saves any of it: leave later or make less."


def ways_told(made: Several) -> Iterator[str]:
    """Each way out with what it leaves and costs."""
    for one in made.ways_out:
        left = f"late by {span(one.late)} in all" if one.late else "in time"
        yield f"{one.name[:1].upper()}{one.name[1:]}: {left}. Costs {one.costs}."


def in_time(plan: BatchPlan, late: timedelta) -> str:
    """When a batch is bagged, and whether that is soon enough."""
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
