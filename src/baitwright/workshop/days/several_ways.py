"""Ways out of a day that is too short: what else could be done, and what that costs."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from baitwright.batch.plan import BatchPlan, plan
from baitwright.schedule.jobs import Job
from baitwright.workshop.days.several_file import Kitchen

_FAN = 2.0
"""Air over a tray before a desk fan, m/s (judgement)."""


def tries(
    jobs: tuple[Job, ...], plans: Sequence[BatchPlan], kitchen: Kitchen
) -> Iterator[tuple[str, str, tuple[Job, ...], Kitchen]]:
    """Each way out: its name, what it costs, the jobs, and what there is to do them with."""
    halved = tuple(_with(job, "roll and boil", 0.5) for job in jobs)
    yield "half of each batch", "half the baits", halved, kitchen
    fanned = tuple(map(_behind_a_fan, jobs, plans))
    yield (
        f"a fan on the trays (air at {_FAN:g} m/s, our judgement)",
        "a fan, and a harder crust",
        fanned,
        kitchen,
    )
    undried = tuple(_with(_with(job, "dry", 0.0), "glug", 0.0) for job in jobs)
    wet = "leave with them wet: dry them at the water or freeze them"
    yield (
        wet,
        "softer baits until they have dried, and room to dry them or a freezer",
        undried,
        kitchen,
    )
    for name, costs, field in (
        ("one more pair of hands", "somebody's time", "hands"),
        ("one more tray", "a tray and its place", "trays"),
        ("one more pot", "a pot, a basket and a ring", "pots"),
    ):
        yield name, costs, jobs, kitchen.model_copy(update={field: getattr(kitchen, field) + 1})
    if kitchen.asleep is not None:
        no_sleep = kitchen.model_copy(update={"asleep": None})
        yield "nobody goes to bed", "a night's sleep", jobs, no_sleep


def _behind_a_fan(job: Job, before: BatchPlan) -> Job:
    """The job with the tray in moving air, planned anew."""
    bench = before.request.bench
    moved = replace(bench, room=replace(bench.room, air_speed=_FAN))
    again = plan(replace(before.request, bench=moved))
    (dry,) = (one for one in again.day.steps if one.name == "dry")
    (was,) = (one for one in before.day.steps if one.name == "dry")
    return _with(job, "dry", (dry.end - dry.start) / (was.end - was.start))


def _with(job: Job, step: str, share: float) -> Job:
    """The job with one step taking only a share of its time."""
    tasks = tuple(
        replace(task, minutes=float(round(task.minutes * share))) if task.name == step else task
        for task in job.tasks
    )
    return replace(job, tasks=tasks)
