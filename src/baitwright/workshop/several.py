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
from baitwright.workshop.plan_batch import plan_batch
from baitwright.workshop.several_file import DayFile, read_day_file
from baitwright.workshop.several_jobs import at_their_hours, job_of, nights
from baitwright.workshop.several_ways import tries


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

    told: DayFile
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
    leaving = [one.request.bench.leaving for one in plans]
    last = max(filter(None, leaving), default=None)
    jobs = tuple(
        job_of(plan, trays=one.trays, since=since, leaving=leaves or last)
        for plan, one, leaves in zip(plans, told.batch, leaving, strict=True)
    )
    try:
        found = _arranged(jobs, told, since=since)
    except InputError as error:
        raise error.located(str(path)) from None
    late = _late(found, len(plans))
    ways = tuple(_ways_out(jobs, plans, told, late=sum(late, timedelta(0))))
    moved = at_their_hours(plans, jobs, found, since=since)
    return Several(told, moved, late, found.proved, ways)


def _arranged(jobs: Sequence[Job], told: DayFile, *, since: datetime) -> Arranged:
    has: Mapping[str, int] = {
        Means.HANDS: told.hands,
        Means.POT: told.pots,
        Means.TRAYS: told.trays,
    }
    fixed = nights(told.asleep, since=since, jobs=jobs, hands=told.hands)
    goal = Goal.SOONEST if all(one.due is None for one in jobs) else Goal.LATEST
    return arrange((*jobs, *fixed), has, goal=goal)


def _late(found: Arranged, batches: int) -> tuple[timedelta, ...]:
    return tuple(timedelta(minutes=round(one)) for one in found.late[:batches])


def _ways_out(
    jobs: tuple[Job, ...], plans: Sequence[BatchPlan], told: DayFile, *, late: timedelta
) -> Iterator[WayOut]:
    """What would help, tried one at a time; nothing where nobody is late or it would not help."""
    if not late:
        return
    since = max(one.request.bench.now for one in plans)
    for name, costs, changed, kitchen in tries(jobs, plans, told):
        found = _arranged(changed, kitchen, since=since)
        left = sum(_late(found, len(jobs)), timedelta(0))
        if left < late:
            yield WayOut(name, costs, left)
