"""When each step of several batches begins: nothing late that need not be, then begun last."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import combinations

import numpy as np

from baitwright.blending.program import Floats, Program
from baitwright.blending.solver import Ended, Found, Session
from baitwright.schedule.crowds import crowds
from baitwright.schedule.jobs import Job, Means, Task, has_means_for
from baitwright.terms.errors import ComputationError

SECONDS = 20.0
"""How long an arrangement is looked for (judgement): a day of five batches takes less than one."""
_A_HAIR = 1e-6


class Goal(StrEnum):
    """What makes an arrangement a good one, when nothing is later than it must be."""

    LATEST = "latest"
    """Begun as late as can be: the usual one, worked back from leaving."""
    SOONEST = "soonest"
    """All done as soon as can be."""


@dataclass(frozen=True, slots=True)
class Arranged:
    """When each step begins and ends, job by job, minutes from the beginning of the plan.

    ``late`` is how much later than due each job ends; ``proved`` is false where the search was
    stopped before it knew that nothing better is possible.
    """

    starts: tuple[tuple[float, ...], ...]
    ends: tuple[tuple[float, ...], ...]
    late: tuple[float, ...]
    proved: bool

    @property
    def over(self) -> float:
        """When the last step of all ends."""
        return max(ends[-1] for ends in self.ends)


def arrange(
    jobs: tuple[Job, ...],
    has: Mapping[str, float],
    *,
    goal: Goal = Goal.LATEST,
    seconds: float = SECONDS,
) -> Arranged:
    """Find a time for each step.

    One thing after another is made as good as it can be without spoiling the one before: what is
    late in all; when the first step of all begins, the later the better (or when all is over, the
    sooner the better); how long steps last beyond their time; and when every other step begins.

    Parameters
    ----------
    jobs: with at least one step each.
    has: how many hands, pots, trays and litres there are.

    Raises
    ------
    InputError: a step takes more than there is.
    ComputationError: no arrangement was found in time, or none is possible around what is fixed.
    """
    has_means_for(jobs, has)
    model = _Model(jobs, has)
    session = Session(model.program, seconds=seconds)
    found = _best(session, model.lateness)
    session.hold(model.lateness, found.goal + _A_HAIR)
    soonest = goal is Goal.SOONEST
    wishes = (model.last if soonest else -model.first, model.overstay)
    ended = [found.ended]
    for wish in filter(np.any, wishes):
        found = _best(session, wish)
        session.hold(wish, found.goal + _A_HAIR)
        ended.append(found.ended)
    found = _best(session, model.starts if soonest else -model.starts)
    proved = Ended.TIME not in (*ended, found.ended)
    return model.read(found, proved=proved)


def _best(session: Session, cost: Floats) -> Found:
    found = session.solve(cost, duals=False)
    if not found.is_there:
        raise ComputationError("no arrangement of the day was found")
    return found


class _Model:
    """The program: a column for each start, and one for each order of two that need the same."""

    def __init__(self, jobs: tuple[Job, ...], has: Mapping[str, float]) -> None:
        self.jobs = jobs
        self.program = Program((), np.empty(0), [], [], [])
        self._horizon = _horizon(jobs)
        self._tasks = [task for job in jobs for task in job.tasks]
        self._job_of = [at for at, job in enumerate(jobs) for _ in job.tasks]
        self._start = [self.program.column(0.0, self._horizon) for _ in self._tasks]
        self._in_turn()
        self._apart(has)
        self._late = [self.program.column(0.0, self._horizon) for _ in jobs]
        self._first = self.program.column(0.0, self._horizon)
        self._last = self.program.column(0.0, self._horizon)
        self._judged()

    @property
    def lateness(self) -> Floats:
        """What is late in all."""
        return self._cost(self._late)

    @property
    def first(self) -> Floats:
        """When the first step of all begins."""
        return self._cost([self._first])

    @property
    def last(self) -> Floats:
        """When the last step of all ends."""
        return self._cost([self._last])

    @property
    def overstay(self) -> Floats:
        """How long steps that wait for the next one last, but for a number that is always so.

        In the freezer it does not matter how long.
        """
        cost = np.zeros(len(self.program.whole))
        for at, task in enumerate(self._tasks):
            if task.stretches and self._follows(at) and not task.needs.get(Means.FREEZER):
                cost[self._start[at + 1]] += 1.0
                cost[self._start[at]] -= 1.0
        return cost

    @property
    def starts(self) -> Floats:
        """Every start that can be moved."""
        return self._cost(self._start)

    def read(self, found: Found, *, proved: bool) -> Arranged:
        """The arrangement in what was found, to the hundredth of a minute."""
        at = np.round(found.columns, 2) + 0.0
        starts, ends, here = [], [], 0
        for job in self.jobs:
            began = [float(at[self._start[here + step]]) for step in range(len(job.tasks))]
            steps = zip(job.tasks, began, [*began[1:], None], strict=True)
            ends.append(tuple(_end(*one) for one in steps))
            starts.append(tuple(began))
            here += len(job.tasks)
        late = tuple(
            0.0 if job.due is None else max(0.0, round(ended[-1] - job.due, 2))
            for job, ended in zip(self.jobs, ends, strict=True)
        )
        return Arranged(tuple(starts), tuple(ends), late, proved)

    def _cost(self, columns: Sequence[int]) -> Floats:
        cost = np.zeros(len(self.program.whole))
        cost[list(columns)] = 1.0
        return cost

    def _in_turn(self) -> None:
        """Steps of a job follow one another; one that is fixed stays where it is."""
        here = 0
        for job in self.jobs:
            if job.begins is not None:
                start = self._start[here]
                self.program.column_low[start] = self.program.column_high[start] = job.begins
            for step in range(here, here + len(job.tasks) - 1):
                task, pair = self._tasks[step], (self._start[step], self._start[step + 1])
                most = {"high": task.minutes} if task.at_once else {}
                self.program.row(pair, (-1.0, 1.0), low=task.minutes, **most)
            here += len(job.tasks)

    def _apart(self, has: Mapping[str, float]) -> None:
        """Of each crowd that asks for too much, two come one after the other."""
        orders: dict[tuple[int, int], int] = {}
        for crowd in crowds(self._tasks, has):
            pairs = list(combinations(sorted(crowd), 2))
            if any(self._job_of[one] == self._job_of[other] for one, other in pairs):
                continue  # one of them is over before the other begins as it is
            both = [pair for one, other in pairs for pair in ((one, other), (other, one))]
            for pair in both:
                if pair not in orders:
                    orders[pair] = self._ordered(*pair)
            columns = [orders[pair] for pair in both]
            most = {"high": 1.0} if len(pairs) == 1 else {}
            self.program.row(columns, [1.0] * len(columns), low=1.0, **most)

    def _ordered(self, one: int, other: int) -> int:
        """A column that is 1 only where one step is over when the other begins."""
        order = self.program.column(0.0, 1.0, whole=True)
        task = self._tasks[one]
        if task.stretches and self._follows(one):
            over, wait = self._start[one + 1], 0.0
        else:
            over, wait = self._start[one], task.minutes
        columns, low = [self._start[other], over, order], wait - self._horizon
        self.program.row(columns, [1.0, -1.0, -self._horizon], low=low)
        return order

    def _follows(self, at: int) -> bool:
        """Whether a step of the same job comes after that one."""
        return at + 1 < len(self._tasks) and self._job_of[at + 1] == self._job_of[at]

    def _judged(self) -> None:
        here = 0
        for at, job in enumerate(self.jobs):
            end = here + len(job.tasks) - 1
            over = self._tasks[end].minutes
            if job.due is not None:
                pair = (self._late[at], self._start[end])
                self.program.row(pair, (1.0, -1.0), low=over - job.due)
                if job.stays:
                    self.program.column_low[self._start[end]] = max(job.due - over, 0.0)
            if job.begins is None:
                self.program.row((self._last, self._start[end]), (1.0, -1.0), low=over)
                self.program.row((self._start[here], self._first), (1.0, -1.0), low=0.0)
            here += len(job.tasks)


def _end(task: Task, start: float, following: float | None) -> float:
    return following if task.stretches and following is not None else start + task.minutes


def _horizon(jobs: Sequence[Job]) -> float:
    """A time by which all can be done, whatever the order."""
    fixed = max((one.begins + one.minutes for one in jobs if one.begins is not None), default=0.0)
    due = max((one.due for one in jobs if one.due is not None), default=0.0)
    return max(fixed, due) + sum(one.minutes for one in jobs) + 1.0
