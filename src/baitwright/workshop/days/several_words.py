"""What is said of a day with several batches: in time or late, what to mind, and ways out."""

from __future__ import annotations

import math
from collections.abc import Iterator
from datetime import datetime, timedelta

from baitwright.batch.batch_plan import BatchPlan
from baitwright.materials.defaults import default
from baitwright.quantities import show
from baitwright.sheets.wording import clock, count_of, day, figure, span
from baitwright.terms.quantity import unwrap
from baitwright.workshop.days.several import Several
from baitwright.workshop.days.several_file import Kitchen
from baitwright.workshop.days.works import FAN_AIR, Work

_HOURS_OVER = timedelta(minutes=15)
"""Longer on the tray than planned by this is worth a word (judgement)."""


def means_told(kitchen: Kitchen) -> str:
    """What there is to make batches with."""
    parts = [f"{count_of(kitchen.hands, 'pair')} of hands", count_of(kitchen.pots, "pot")]
    parts.append("trays enough" if kitchen.trays is None else count_of(kitchen.trays, "tray"))
    if kitchen.fans:
        each = f"{count_of(kitchen.fan_trays, 'tray')} each"
        parts.append(f"{count_of(kitchen.fans, 'fan')} for {each}")
    if kitchen.freezer is not None:
        parts.append(f"{show(kitchen.freezer, 'l')} of freezer")
    return f"{', '.join(parts)}."


def taken_up(made: Several) -> Iterator[str]:
    """What each batch takes: baits, hands, trays, fan, freezer; and what thaws meanwhile."""
    for one in made.works:
        day = one.plan.day
        parts = [
            f"{figure(day.baits).text} baits",
            f"{figure(day.hands_on).text} of hands before the tray",
            *(_lies(one) if any(step.name == "dry" for step in day.steps) else ()),
        ]
        if one.stow is not None:
            parts.append(f"{one.litres:.1f} l of freezer ({figure(one.stow.room).band} l)")
        for thaw in day.thaws:
            hours = f"{figure(thaw.time).band} h in the {thaw.frozen.place}"
            parts.append(f"thawing of {thaw.frozen.what} {hours}")
        yield f"{one.name}: {', '.join(parts)}."


def _lies(work: Work) -> Iterator[str]:
    reckoned = "" if work.place.trays is not None else " (reckoned)"
    before = ", before a fan" if work.place.fan else ""
    yield f"{count_of(work.trays, 'tray')}{reckoned}{before}"


def doubts(made: Several) -> Iterator[str]:
    """What to mind about the day as it is arranged."""
    for one in made.works:
        if over := _overstay(one.plan):
            yield (
                f"{one.name} lies {span(over)} longer on the tray than planned: "
                "cover it once it is dry, or it ends drier and harder than the plan tells."
            )
        yield from _still_frozen(one)
    if any(one.place.fan for one in made.works):
        air = show(default(FAN_AIR).value, "m/s")
        yield f"Air before a fan is taken as {air}, our judgement: weigh ten baits as they dry."
    yield from _freezer(made)
    if not made.proved:
        yield "The search was stopped by its time: there may be a better order."
    if made.is_late and not made.ways_out:
        yield "Nothing that was tried saves any of it: leave later or make less."


def _still_frozen(work: Work) -> Iterator[str]:
    for step in work.plan.day.beside:
        if work.leaving is not None and step.end > work.leaving:
            yield (
                f"{work.name}, {step.name}: not through before {day(step.end)} {clock(step.end)}; "
                "thaw them in cold water in a tight bag, or take them frozen."
            )


def _freezer(made: Several) -> Iterator[str]:
    """What lies in the freezer when all of it does, and whether there is room."""
    need, has = math.fsum(one.litres for one in made.works), made.kitchen.freezer
    if need and has is None:
        yield f"The freezer takes {need:.1f} l: look whether there is so much room."
    elif need and has is not None and need > 1e3 * has:
        short = need - 1e3 * has
        yield (
            f"The freezer is too small for all of it at once: {need:.1f} l, and there are "
            f"{show(has, 'l')}; {short:.1f} l have to stay out or go elsewhere."
        )


def ways_told(made: Several) -> Iterator[str]:
    """Each way out with what it leaves and costs."""
    for one in made.ways_out:
        left = f"late by {span(one.late)} in all" if one.late else "in time"
        if one.hindered:
            left = f"cannot be done here ({one.hindered})"
        yield f"{one.name[:1].upper()}{one.name[1:]}: {left}. Costs {one.costs}."


def in_time(plan: BatchPlan, late: timedelta) -> str:
    """When a batch is bagged, and whether that is soon enough."""
    name, last = plan.request.recipe.name, _bagged(plan)
    told = f"{name} is bagged {day(last)} {clock(last)}"
    leaving = plan.request.bench.leaving
    if late:
        return f"{told}: LATE by {span(late)}"
    return told if leaving is None else f"{told}; leaving {day(leaving)} {clock(leaving)}"


def _bagged(plan: BatchPlan) -> datetime:
    return next(step.end for step in plan.day.steps if step.name == "bag")


def _overstay(plan: BatchPlan) -> timedelta:
    """How much longer than planned the baits lie on their tray, where it matters."""
    lies = (step.end - step.start for step in plan.day.steps if step.name == "dry")
    over = next(lies, timedelta(0)) - timedelta(seconds=float(unwrap(plan.dry.time.value)))
    return over if over > _HOURS_OVER else timedelta(0)
