"""A batch's job with fewer baits, or without its tray."""

from __future__ import annotations

import math
from dataclasses import replace

from baitwright.schedule.jobs import Job, Means, Task


def smaller(job: Job, share: float) -> Job:
    """The job with only a share of its baits: less rolling, fewer trays, less room."""
    return replace(job, tasks=tuple(_lightened(task, share) for task in job.tasks))


def _lightened(task: Task, share: float) -> Task:
    needs = {means: _shared(means, count, share) for means, count in task.needs.items()}
    rolls = task.name == "roll and boil"
    minutes = float(round(task.minutes * share)) if rolls else task.minutes
    return replace(task, minutes=minutes, needs=needs)


def _shared(means: str, count: float, share: float) -> float:
    """What so much less takes of a means: whole trays, any part of a litre, the same hands."""
    match means:
        case Means.TRAYS | Means.FAN:
            return math.ceil(count * share)
        case Means.FREEZER:
            return count * share
        case _:
            return count


def undried(job: Job) -> Job:
    """The job without its tray."""
    return replace(
        job,
        tasks=tuple(
            replace(task, minutes=0.0, needs={}) if task.name in ("dry", "glug") else task
            for task in job.tasks
        ),
    )
