"""Arrangements against every order there is, and the laws that any arrangement keeps."""

from __future__ import annotations

from itertools import combinations, permutations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baitwright.schedule.arrange import Arranged, Goal, arrange
from baitwright.schedule.crowds import crowds
from baitwright.schedule.jobs import Job, Means, Task
from baitwright.terms.errors import InputError

KITCHEN = {Means.HANDS: 1, Means.POT: 1, Means.TRAYS: 2}


def batch(
    name: str, *, due: float | None = 1800.0, roll: float = 40.0, dry: float = 480.0, trays: int = 1
) -> Job:
    tasks = (
        Task("eggs out", 60.0, at_once=True),
        Task("mix", 20.0, {Means.HANDS: 1}, at_once=True),
        Task("roll and boil", roll, {Means.HANDS: 1, Means.POT: 1}, at_once=True),
        Task("dry", dry, {Means.TRAYS: trays}, stretches=True),
        Task("bag", 20.0, {Means.HANDS: 1}),
    )
    return Job(name, tasks, due=due)


def asked_for(jobs: tuple[Job, ...], found: Arranged, means: Means, minute: float) -> int:
    """How much of a means is taken up just after a minute."""
    return sum(
        task.needs.get(means, 0)
        for job, starts, ends in zip(jobs, found.starts, found.ends, strict=True)
        for task, start, end in zip(job.tasks, starts, ends, strict=True)
        if start <= minute + 1e-6 < end - 1e-6
    )


def holds(jobs: tuple[Job, ...], found: Arranged, has: dict[Means, int]) -> None:
    """Nothing takes more than there is, and the steps of each job follow one another."""
    for starts in found.starts:
        for minute in starts:
            for means, most in has.items():
                assert asked_for(jobs, found, means, minute) <= most
    for job, starts, ends in zip(jobs, found.starts, found.ends, strict=True):
        for at, task in enumerate(job.tasks):
            assert starts[at] >= -1e-6
            assert ends[at] - starts[at] >= task.minutes - 0.02
            if at + 1 < len(job.tasks):
                assert starts[at + 1] >= ends[at] - 0.02
                if task.at_once:
                    assert starts[at + 1] == pytest.approx(ends[at], abs=0.02)


def test_one_batch_ends_at_leaving() -> None:
    job = batch("alone")
    found = arrange((job,), KITCHEN)
    assert found.ends[0][-1] == 1800.0
    assert found.starts[0][0] == pytest.approx(1800.0 - job.minutes)
    assert found.late == (0.0,)
    assert found.proved


def test_one_pair_of_hands_does_one_thing_at_a_time() -> None:
    jobs = (batch("one"), batch("other"))
    found = arrange(jobs, KITCHEN)
    holds(jobs, found, KITCHEN)
    two = arrange(jobs, {**KITCHEN, Means.HANDS: 2, Means.POT: 2})
    assert min(two.starts)[0] > min(found.starts)[0]
    assert two.starts[0] == two.starts[1]


def test_a_night_is_left_alone() -> None:
    night = Job("night", (Task("asleep", 420.0, {Means.HANDS: 1}),), begins=1300.0)
    jobs = (batch("one"), batch("other"), night)
    found = arrange(jobs, KITCHEN)
    holds(jobs, found, KITCHEN)
    assert found.starts[2] == (1300.0,)


def test_with_one_tray_the_second_waits_and_is_late_if_it_must() -> None:
    jobs, has = (batch("one", due=900.0), batch("other", due=900.0)), {**KITCHEN, Means.TRAYS: 1}
    found = arrange(jobs, has)
    holds(jobs, found, has)
    assert sum(found.late) > 0.0
    assert sum(arrange(jobs, KITCHEN).late) == 0.0


def test_baits_that_lie_on_keep_their_tray() -> None:
    """Both dry as long as they do, and whoever is bagged late holds the tray until then."""
    night = Job("night", (Task("asleep", 400.0, {Means.HANDS: 1}),), begins=590.0)
    jobs, has = (batch("one"), batch("other"), night), {**KITCHEN, Means.TRAYS: 1}
    holds(jobs, arrange(jobs, has), has)


def test_what_asks_for_more_than_there_is_is_named() -> None:
    with pytest.raises(InputError, match=r"trays for one, dry.*3.*2 at most"):
        arrange((batch("one", trays=3),), KITCHEN)
    with pytest.raises(InputError, match="minutes of rest"):
        Task("rest", -1.0)


def shop(first: list[int], second: list[int]) -> float:
    """When the last of several jobs leaves the second machine, as arranged."""
    jobs = tuple(
        Job(str(at), (Task("first", a, {Means.HANDS: 1}), Task("second", b, {Means.POT: 1})))
        for at, (a, b) in enumerate(zip(first, second, strict=True))
    )
    return arrange(jobs, {Means.HANDS: 1, Means.POT: 1}, goal=Goal.SOONEST).over


def by_hand(first: list[int], second: list[int]) -> float:
    """The same over every order of the jobs; on two machines one order does for both."""
    best = float("inf")
    for order in permutations(range(len(first))):
        one = two = 0
        for at in order:
            one += first[at]
            two = max(one, two) + second[at]
        best = min(best, two)
    return best


@settings(max_examples=8)
@given(st.lists(st.tuples(st.integers(1, 30), st.integers(1, 30)), min_size=2, max_size=4))
def test_two_machines_are_as_quick_as_the_best_of_every_order(times: list[tuple[int, int]]) -> None:
    """Brute force over every order (Johnson, 1954: one order is best for both machines)."""
    first, second = [one for one, _ in times], [two for _, two in times]
    assert shop(first, second) == pytest.approx(by_hand(first, second), abs=0.02)


@given(st.lists(st.integers(1, 4), min_size=2, max_size=6), st.integers(1, 5))
def test_crowds_are_all_that_ask_for_too_much_and_no_larger(needs: list[int], most: int) -> None:
    tasks = [Task(str(at), 1.0, {Means.TRAYS: min(one, most)}) for at, one in enumerate(needs)]
    asks = [one.needs[Means.TRAYS] for one in tasks]
    found = set(crowds(tasks, {Means.TRAYS: most}))
    for size in range(1, len(tasks) + 1):
        for some in combinations(range(len(tasks)), size):
            too_much = sum(asks[one] for one in some) > most
            assert too_much == any(crowd <= set(some) for crowd in found)
    for crowd in found:
        assert sum(asks[one] for one in crowd) - min(asks[one] for one in crowd) <= most
