"""Plans as jobs of a day, nights as jobs that cannot be moved, and plans at their new hours."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta

from baitwright.batch.day import Step
from baitwright.recipe.bench import ThawsIn
from baitwright.schedule.arrange import Arranged
from baitwright.schedule.jobs import Job, Means, Task
from baitwright.workshop.days.several_file import Asleep
from baitwright.workshop.days.works import Work

_MINUTE = timedelta(minutes=1)
_MORE_NIGHTS = timedelta(days=2)
"""How long past all work nights are still reckoned with: the search may leave room there."""


def job_of(work: Work, *, since: datetime, leaving: datetime | None) -> Job:
    """The steps of a work, and by when they are to be over.

    Parameters
    ----------
    work: the plan, and where its baits lie.
    since: when the day's plan begins.
    leaving: by when; a batch that names no time of its own leaves with the others.
    """
    due = None if leaving is None else (leaving - since) / _MINUTE
    tasks = [task for step in work.plan.day.steps for task in _tasks(step, work)]
    stays = work.stow is not None and due is not None
    if stays:
        tasks.append(Task("leave", 0.0))
    return Job(work.name, tuple(tasks), due=due, stays=stays)


def thaws_of(work: Work, *, since: datetime, leaving: datetime | None) -> Iterator[Job]:
    """Baits that thaw for the outing: somebody takes them out, then they lie."""
    due = None if leaving is None else (leaving - since) / _MINUTE
    for step in work.plan.day.beside:
        yield Job(f"{work.name}: {step.name}", tuple(_taken_out(step, at_once=True)), due=due)


def _tasks(step: Step, work: Work) -> Iterator[Task]:
    if step.name == "eggs out":  # eggs do not wait in the warm
        yield from _taken_out(step, at_once=True)
    elif step.name == "thaw":  # in the fridge they may lie a little longer
        places = [one.place for one in work.plan.request.bench.frozen]
        yield from _taken_out(step, at_once=any(one is not ThawsIn.FRIDGE for one in places))
    else:
        yield _task(step, (step.end - step.start) / _MINUTE, work)


def _taken_out(step: Step, *, at_once: bool) -> Iterator[Task]:
    """Somebody has to be up for it, and then it waits."""
    minutes = (step.end - step.start) / _MINUTE
    yield Task(step.name, 1.0, {Means.HANDS: 1}, at_once=True)
    yield Task(step.name, minutes - 1.0, stretches=not at_once, at_once=at_once)


def _task(step: Step, minutes: float, work: Work) -> Task:
    match step.name:
        case "roll and boil":
            return Task(step.name, minutes, {Means.HANDS: 1, Means.POT: 1}, at_once=True)
        case "mix" | "bag":  # paste stiffens while it waits; what is frozen goes in at once
            at_once = step.name == "mix" or work.stow is not None
            return Task(step.name, minutes, {Means.HANDS: 1}, at_once=at_once)
        case "dry":
            needs: dict[str, float] = {Means.TRAYS: work.trays}
            if work.place.fan:
                needs[Means.FAN] = work.trays
            return Task(step.name, minutes, needs, stretches=True)
        case "glug":
            return Task(step.name, minutes, stretches=True)
        case "freeze":
            return Task(step.name, minutes, {Means.FREEZER: work.litres}, stretches=True)
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
    works: Sequence[Work], jobs: Sequence[Job], arranged: Arranged, *, since: datetime
) -> tuple[Work, ...]:
    """The works with each step when its turn comes; ``jobs`` are theirs, then those that thaw."""
    every = [
        _hours(job, starts, ends)
        for job, starts, ends in zip(jobs, arranged.starts, arranged.ends, strict=False)
    ]
    thaws = iter(every[len(works) :])
    return tuple(
        _moved(work, hours, [next(thaws) for _ in work.plan.day.beside], since=since)
        for work, hours in zip(works, every[: len(works)], strict=True)
    )


_Hours = Mapping[str, tuple[float, float]]


def _hours(job: Job, starts: Sequence[float], ends: Sequence[float]) -> _Hours:
    """Start and end of each step, whose tasks follow one another."""
    hours: dict[str, tuple[float, float]] = {}
    for task, start, end in zip(job.tasks, starts, ends, strict=True):
        hours[task.name] = (hours.get(task.name, (start, end))[0], end)
    return hours


def _moved(work: Work, hours: _Hours, thaws: Sequence[_Hours], *, since: datetime) -> Work:
    day = work.plan.day
    steps = tuple(_at(step, hours[step.name], since) for step in day.steps)
    pairs = zip(day.beside, thaws, strict=True)
    beside = tuple(_at(step, own[step.name], since) for step, own in pairs)
    moved = replace(day, steps=steps, beside=beside, slack=steps[0].start - since)
    return replace(work, plan=replace(work.plan, day=moved))


def _at(step: Step, hours: tuple[float, float], since: datetime) -> Step:
    start, end = hours
    return replace(step, start=since + start * _MINUTE, end=since + end * _MINUTE)
