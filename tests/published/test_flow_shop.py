"""Two machines one after the other: published exercises, their answers by brute force.

Johnson (1954), "Optimal two- and three-stage production schedules with setup times included",
Naval Research Logistics Quarterly 1, 61-68, from memory; the times are of exercises in circulation
whose printed answers are wrong in part, so that the optima here are those of every order tried.
"""

from __future__ import annotations

import pytest

from baitwright.schedule.arrange import Goal, arrange
from baitwright.schedule.jobs import Job, Means, Task

EXERCISES = [
    ((10, 5, 7, 3, 1), (2, 4, 5, 6, 7), 28.0),
    ((11, 4, 5, 15, 10), (22, 5, 3, 16, 8), 64.0),
    (
        (2.58, 1.66, 2.71, 5.52, 3.38, 5.22, 2.89),
        (3.47, 5.84, 2.41, 1.99, 7.62, 1.73, 1.11),
        25.83,
    ),
]


@pytest.mark.published
@pytest.mark.parametrize(("first", "second", "over"), EXERCISES, ids=["28", "64", "25.83"])
def test_the_last_job_is_over_when_it_can_be(
    first: tuple[float, ...], second: tuple[float, ...], over: float
) -> None:
    jobs = tuple(
        Job(str(at), (Task("first", a, {Means.HANDS: 1}), Task("second", b, {Means.POT: 1})))
        for at, (a, b) in enumerate(zip(first, second, strict=True))
    )
    found = arrange(jobs, {Means.HANDS: 1, Means.POT: 1}, goal=Goal.SOONEST, seconds=120.0)
    assert found.proved
    assert found.over == pytest.approx(over, abs=0.01)
