"""Several batches in one day: planned one by one, then put in turn at hands, pot and trays."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

from baitwright.batch.batch_plan import BatchPlan
from baitwright.terms.errors import InputError
from baitwright.workshop.days.free_work import free_work
from baitwright.workshop.days.in_turn import arranged, jobs_of, lateness
from baitwright.workshop.days.several_file import BatchOfDay, FreeOfDay, Kitchen, read_day_file
from baitwright.workshop.days.several_jobs import at_their_hours
from baitwright.workshop.days.several_ways import WayOut, ways_out
from baitwright.workshop.days.works import Work, work_of
from baitwright.workshop.plans.plan_batch import plan_batch


@dataclass(frozen=True, slots=True)
class Several:
    """The batches at their hours.

    ``late`` is how much later than leaving each one ends; ``proved`` is false where the search ran
    out of time before it knew that nothing better is possible.
    """

    kitchen: Kitchen
    since: datetime
    works: tuple[Work, ...]
    late: tuple[timedelta, ...]
    proved: bool
    ways_out: tuple[WayOut, ...]

    @property
    def plans(self) -> tuple[BatchPlan, ...]:
        """The plans at their hours."""
        return tuple(one.plan for one in self.works)

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
    known: dict[tuple[str, str], BatchPlan] = {}

    def planned(one: BatchOfDay | FreeOfDay) -> BatchPlan:
        if (one.recipe, one.bench) not in known:
            files = (path.parent / one.recipe, path.parent / one.bench)
            known[one.recipe, one.bench] = plan_batch(
                *files, factors_path=factors_path, clock=lambda: now
            )
        return known[one.recipe, one.bench]

    try:
        works = [work_of(planned(one), one) for one in told.batch]
        works += [free_work(planned(one), one) for one in told.free_bait]
        since = max(one.plan.request.bench.now for one in works)
        return arrange_works(works, told, since=since)
    except InputError as error:
        raise error.located(str(path)) from None


def arrange_works(works: Sequence[Work], kitchen: Kitchen, *, since: datetime) -> Several:
    """Put batches in turn.

    Parameters
    ----------
    works: what is made; at least one.
    kitchen: what there is to make them with.
    since: nothing begins before.

    Raises
    ------
    InputError: a batch that asks for more than there is.
    """
    jobs = jobs_of(works, since=since)
    found = arranged(jobs, kitchen, since=since)
    late = lateness(found, len(works))
    ways = tuple(ways_out(works, kitchen, late=late, since=since))
    moved = at_their_hours(works, jobs, found, since=since)
    return Several(kitchen, since, moved, late, found.proved, ways)
