"""Several batches in one day: planned one by one, then put in turn at hands, pot and trays."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from baitwright.batch.batch_plan import BatchPlan
from baitwright.schedule.arrange import Arranged, Goal, arrange
from baitwright.schedule.jobs import Job, Means
from baitwright.terms.errors import InputError
from baitwright.workshop.days.several_file import Kitchen, read_day_file
from baitwright.workshop.days.several_jobs import at_their_hours, job_of, nights
from baitwright.workshop.days.several_ways import tries
from baitwright.workshop.plans.plan_batch import plan_batch


@dataclass(frozen=True, slots=True)
class WayOut:
    """Something that makes a late day less late: what it is, what it costs, and what is left."""

    name: str
    costs: str
    late: timedelta


@dataclass(frozen=True, slots=True)
class Several:
    """The batches at their hours.

    ``late`` is how much later than leaving each one ends; ``proved`` is false where the search ran
    out of time before it knew that nothing better is possible.
    """

    kitchen: Kitchen
    since: datetime
    plans: tuple[BatchPlan, ...]
    late: tuple[timedelta, ...]
    proved: bool
    ways_out: tuple[WayOut, ...]

    @property
    def is_late(self) -> bool:
        """Whether any batch ends after its leaving."""
        return any(self.late)


def arrange_day(
    path: Path, *, factors_path: Path | None = None, clock: Callable[[], datetime]
) -> Several:
    """Plan the batches of a day's file and put them in turn.

    Parameters
    ----------
    path: the day's file; recipes and benches are looked for beside it.
    factors_path: the maker's own factors.
    clock: tells the local time where a bench names none.

    Raises
    ------
    InputError: anything in the files that cannot be used.
    """
    told = read_day_file(path)
    now = clock()
    plans = tuple(
        plan_batch(
            path.parent / one.recipe,
            path.parent / one.bench,
            factors_path=factors_path,
            clock=lambda: now,
        )
        for one in told.batch
    )
    since = max(one.request.bench.now for one in plans)
    try:
        return arrange_plans(plans, [one.trays for one in told.batch], told, since=since)
    except InputError as error:
        raise error.located(str(path)) from None


def arrange_plans(
    plans: Sequence[BatchPlan], fills: Sequence[int], kitchen: Kitchen, *, since: datetime
) -> Several:
    """Put batches in turn.

    Parameters
    ----------
    plans: one to a batch.
    fills: how many trays each fills.
    kitchen: what there is to make them with.
    since: nothing begins before.

    Raises
    ------
    InputError: a batch that never dries, or one that asks for more than there is.
    """
    leaving = [one.request.bench.leaving for one in plans]
    last = max(filter(None, leaving), default=None)
    jobs = tuple(
        job_of(plan, trays=fill, since=since, leaving=leaves or last)
        for plan, fill, leaves in zip(plans, fills, leaving, strict=True)
    )
    found = _arranged(jobs, kitchen, since=since)
    late = _late(found, len(plans))
    ways = tuple(_ways_out(jobs, plans, kitchen, late=sum(late, timedelta(0)), since=since))
    moved = at_their_hours(plans, jobs, found, since=since)
    return Several(kitchen, since, moved, late, found.proved, ways)


def _arranged(jobs: Sequence[Job], kitchen: Kitchen, *, since: datetime) -> Arranged:
    has: Mapping[str, int] = {
        Means.HANDS: kitchen.hands,
        Means.POT: kitchen.pots,
        Means.TRAYS: kitchen.trays,
    }
    fixed = nights(kitchen.asleep, since=since, jobs=jobs, hands=kitchen.hands)
    goal = Goal.SOONEST if all(one.due is None for one in jobs) else Goal.LATEST
    return arrange((*jobs, *fixed), has, goal=goal)


def _late(found: Arranged, batches: int) -> tuple[timedelta, ...]:
    return tuple(timedelta(minutes=round(one)) for one in found.late[:batches])


def _ways_out(
    jobs: tuple[Job, ...],
    plans: Sequence[BatchPlan],
    kitchen: Kitchen,
    *,
    late: timedelta,
    since: datetime,
) -> Iterator[WayOut]:
    """What would help, tried one at a time; nothing where nobody is late or it would not help."""
    if not late:
        return
    for name, costs, changed, other in tries(jobs, plans, kitchen):
        found = _arranged(changed, other, since=since)
        left = sum(_late(found, len(jobs)), timedelta(0))
        if left < late:
            yield WayOut(name, costs, left)
