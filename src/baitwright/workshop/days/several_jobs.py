"""Plans as jobs of a day, nights as jobs that cannot be moved, and plans at their new hours."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.day import Step
from baitwright.schedule.arrange import Arranged
from baitwright.schedule.jobs import Job, Means, Task
from baitwright.terms.errors import InputError
from baitwright.workshop.days.several_file import Asleep

_MINUTE = timedelta(minutes=1)
_MORE_NIGHTS = timedelta(days=2)
"""How long past all work nights are still reckoned with: the search may leave room there."""


def job_of(plan: BatchPlan, *, trays: int, since: datetime, leaving: datetime | None) -> Job:
    """The steps of a plan, and by when they are to be over.

    Parameters
    ----------
    trays: how many its baits fill.
    since: when the day's plan begins.
    leaving: by when; a batch that names no time of its own leaves with the others.

    Raises
    ------
    InputError: its baits never dry in this air.
    """
    name = plan.request.recipe.name
    if not plan.day.dries:
        accepted = "air in which they dry within four days"
        raise InputError(f"room of {name}", "air in which they stay wet", accepted)
    due = None if leaving is None else (leaving - since) / _MINUTE
    tasks = tuple(task for step in plan.day.steps for task in _tasks(step, trays))
    return Job(name, tasks, due=due)


def _tasks(step: Step, trays: int) -> Iterator[Task]:
    minutes = (step.end - step.start) / _MINUTE
    if step.name == "eggs out":  # somebody has to be up for it; and eggs do not wait in the warm
        yield Task(step.name, 1.0, {Means.HANDS: 1}, at_once=True)
        yield Task(step.name, minutes - 1.0, at_once=True)
        return
    yield _task(step, minutes, trays)


def _task(step: Step, minutes: float, trays: int) -> Task:
    match step.name:
        case "roll and boil":
            return Task(step.name, minutes, {Means.HANDS: 1, Means.POT: 1}, at_once=True)
        case "mix":  # paste stiffens while it waits
            return Task(step.name, minutes, {Means.HANDS: 1}, at_once=True)
        case "dry":
            return Task(step.name, minutes, {Means.TRAYS: trays}, stretches=True)
        case "glug":
            return Task(step.name, minutes, stretches=True)
        case _:
            return Task(step.name, minutes, {Means.HANDS: 1})


def nights(
    asleep: Asleep | None, *, since: datetime, jobs: Sequence[Job], hands: int
) -> Iterator[Job]:
    """Each night within reach as a job that takes all hands and cannot be moved."""
    if asleep is None:
        return
    due = max((one.due for one in jobs if one.due is not None), default=0.0)
    reach = since + (max(due, 0.0) + sum(one.minutes for one in jobs)) * _MINUTE + _MORE_NIGHTS
    day = since.date() - timedelta(days=1)
    while (begins := datetime.combine(day, asleep.begins)) < reach:
        ends = datetime.combine(day, asleep.ends)
        ends += timedelta(days=1) if ends <= begins else timedelta(0)
        start, over = max((begins - since) / _MINUTE, 0.0), (ends - since) / _MINUTE
        if over > start:
            sleep = Task("asleep", over - start, {Means.HANDS: hands})
            yield Job("night", (sleep,), begins=start)
        day += timedelta(days=1)


def at_their_hours(
    plans: Sequence[BatchPlan], jobs: Sequence[Job], arranged: Arranged, *, since: datetime
) -> tuple[BatchPlan, ...]:
    """The plans with each step when its turn comes."""
    return tuple(
        _moved(plan, _hours(job, arranged.starts[at], arranged.ends[at]), since=since)
        for at, (plan, job) in enumerate(zip(plans, jobs, strict=True))
    )


def _hours(
    job: Job, starts: Sequence[float], ends: Sequence[float]
) -> Mapping[str, tuple[float, float]]:
    """Start and end of each step, whose tasks follow one another."""
    hours: dict[str, tuple[float, float]] = {}
    for task, start, end in zip(job.tasks, starts, ends, strict=True):
        hours[task.name] = (hours.get(task.name, (start, end))[0], end)
    return hours


def _moved(
    plan: BatchPlan, hours: Mapping[str, tuple[float, float]], *, since: datetime
) -> BatchPlan:
    steps = tuple(
        replace(step, start=since + start * _MINUTE, end=since + end * _MINUTE)
        for step in plan.day.steps
        for start, end in [hours[step.name]]
    )
    slack = steps[0].start - since
    return replace(plan, day=replace(plan.day, steps=steps, slack=slack))
