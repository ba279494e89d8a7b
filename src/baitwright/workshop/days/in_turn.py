"""Works of a day as jobs in this kitchen, each at its hour."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta

from baitwright.schedule.arrange import Arranged, Goal, arrange
from baitwright.schedule.jobs import Job, Means
from baitwright.workshop.days.several_file import Kitchen
from baitwright.workshop.days.several_jobs import job_of, nights, thaws_of
from baitwright.workshop.days.works import Work


def jobs_of(works: Sequence[Work], *, since: datetime) -> tuple[Job, ...]:
    """The works as jobs, then the baits that thaw for the outing."""
    last = max(filter(None, (one.leaving for one in works)), default=None)
    jobs = [job_of(one, since=since, leaving=one.leaving or last) for one in works]
    for one in works:
        jobs += thaws_of(one, since=since, leaving=one.leaving or last)
    return tuple(jobs)


def arranged(jobs: Sequence[Job], kitchen: Kitchen, *, since: datetime) -> Arranged:
    """The jobs at their hours, in this kitchen.

    Raises
    ------
    InputError: a step that asks for more than there is.
    """
    has: Mapping[str, float] = {
        Means.HANDS: kitchen.hands,
        Means.POT: kitchen.pots,
        Means.TRAYS: math.inf if kitchen.trays is None else kitchen.trays,
        Means.FAN: kitchen.fans * kitchen.fan_trays,
        Means.FREEZER: math.inf if kitchen.freezer is None else 1e3 * kitchen.freezer,
    }
    fixed = nights(kitchen.asleep, since=since, jobs=jobs, hands=kitchen.hands)
    goal = Goal.SOONEST if all(one.due is None for one in jobs) else Goal.LATEST
    return arrange((*jobs, *fixed), has, goal=goal)


def lateness(found: Arranged, batches: int) -> tuple[timedelta, ...]:
    """How late each of the first batches ends."""
    return tuple(timedelta(minutes=round(one)) for one in found.late[:batches])
