"""The day of a batch as an iCalendar file that any calendar takes in, with alarms."""

from __future__ import annotations

import hashlib
from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta
from typing import TYPE_CHECKING

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.day import Step
from baitwright.sheets.wording import figure, to_the_minute

if TYPE_CHECKING:
    from icalendar import Alarm, Event

AHEAD = timedelta(minutes=15)
"""How long before the first step its alarm goes off."""
_RINGS_AT_END = ("thaw", "roll and boil", "dry", "glug", "freeze")
_COUNTED_FROM = datetime(2020, 1, 1, tzinfo=UTC)
"""A sequence counts the seconds from here; it is whole and below 2^31 until 2088."""


def day_calendar(
    plan: BatchPlan, *others: BatchPlan, named: Sequence[str] = (), now: datetime | None = None
) -> bytes:
    """The steps of the day as an iCalendar file, of several batches where there are others.

    Parameters
    ----------
    plan, others: whose steps.
    named: what each is called in the notebook; its events then stay the same whenever it leaves.
    now: when the hours were worked out, where that is not the plan's own ``now``.

    Times are the maker's own clock, without a time zone, as they stand in the plan. An event's UID
    follows from recipe, day of leaving and step, so that a plan exported again for the same outing
    moves the events and does not double them, and its SEQUENCE grows with every second that passes
    until then, so that the newer of two is known. DTSTAMP and LAST-MODIFIED are ``now``; the
    standard wants them in UTC, so the maker's clock is written as if it were.

    Reference: rfc-5545.
    """
    from icalendar import Calendar  # heavy, so only those who export pay

    calendar = Calendar()
    calendar.add("prodid", f"-//Baitwright//Day plan {plan.version}//EN")
    calendar.add("version", "2.0")
    calendar.add("method", "PUBLISH")
    plans = (plan, *others)
    calendar.add("x-wr-calname", " and ".join(dict.fromkeys(_name(one) for one in plans)))
    alike = Counter[str]()
    for at, one in enumerate(plans):
        alike[_name(one)] += 1
        bench = one.request.bench
        outing = f"{_name(one)}\n{(bench.leaving or bench.now).date().isoformat()}"
        turn = f"\nbatch {alike[_name(one)]}" if alike[_name(one)] > 1 else ""
        whose = named[at] if at < len(named) else f"{outing}{turn}"
        for event in _events(one, whose, now=now or bench.now):
            calendar.add_component(event)
    written: bytes = calendar.to_ical()
    return written


def _name(plan: BatchPlan) -> str:
    return plan.request.recipe.name


def _events(plan: BatchPlan, whose: str, *, now: datetime) -> Iterator[Event]:
    for place, step in enumerate((*plan.day.steps, *plan.day.beside)):
        event = _event(plan, step, now=now)
        event.add("uid", _uid(whose, step))
        if place == 0 or step in plan.day.beside:
            event.add_component(_alarm(f"In {AHEAD.seconds // 60} min: {step.name}", -AHEAD))
        if step.name in _RINGS_AT_END and (plan.day.dries or step.name != "dry"):
            event.add_component(_alarm(f"Done: {step.name}", timedelta(0), at_end=True))
        yield event


def _event(plan: BatchPlan, step: Step, *, now: datetime) -> Event:
    from icalendar import Event

    recipe = plan.request.recipe
    event = Event()
    stamp = now.replace(tzinfo=UTC)
    event.add("dtstamp", stamp)
    event.add("last-modified", stamp)
    event.add("sequence", max(0, int((stamp - _COUNTED_FROM).total_seconds())))
    event.add("dtstart", to_the_minute(step.start))
    event.add("dtend", to_the_minute(step.end))
    event.add("summary", f"{recipe.name}: {step.name}")
    event.add("description", "\n".join([step.text, *_numbers(plan, step)]))
    if recipe.invented:
        event.add("comment", "invented demo")
    return event


def _uid(whose: str, step: Step) -> str:
    """A name for this step of a batch of the notebook, or of a recipe's outing on a day."""
    said = f"{whose}\n{step.name}"
    return f"{hashlib.blake2b(said.encode(), digest_size=16).hexdigest()}@baitwright"


def _numbers(plan: BatchPlan, step: Step) -> list[str]:
    """The numbers one wants to see when the alarm rings."""
    stirred = tuple(part for lot in plan.eggs.lots for part in lot.parts)
    told = {
        "mix": (*(stirred or (plan.eggs.mass,)), plan.mix.dry_mix),
        "roll and boil": (plan.rolled.pinch, plan.boil.seconds, plan.day.loads),
        "dry": (plan.dry.time,) if plan.day.dries else (),
        "glug": (plan.glug.for_all,) if plan.glug else (),
        "bag": (plan.rolled.baits,),
    }
    return [f"{one.label}: {figure(one).text}" for one in told.get(step.name, ())]


def _alarm(words: str, offset: timedelta, *, at_end: bool = False) -> Alarm:
    from icalendar import Alarm

    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", words)
    alarm.add("trigger", offset, parameters={"related": "END"} if at_end else {})
    return alarm
