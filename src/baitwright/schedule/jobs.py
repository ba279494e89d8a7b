"""What is to be done in a day, and what there is to do it with. Times are minutes."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from baitwright.terms.errors import InputError

A_HAIR = 1e-9
"""More than there is by less than this is no more: litres are sums of fractions."""


class Means(StrEnum):
    """What a task takes up while it lasts."""

    HANDS = "hands"
    POT = "pot"
    TRAYS = "trays"
    FAN = "fan"
    """Trays before a fan."""
    FREEZER = "freezer"
    """Litres in the freezer."""


@dataclass(frozen=True, slots=True)
class Task:
    """One step of a batch.

    Parameters
    ----------
    name: as it is told.
    minutes: how long it lasts.
    needs: how many hands, pots, trays and litres it takes up.
    stretches: whether it lasts, with all that it takes up, until the next step begins: baits stay
        on their trays until somebody bags them.
    at_once: whether the next step begins the minute this one ends: paste stiffens.
    """

    name: str
    minutes: float
    needs: Mapping[str, float] = field(default_factory=dict)
    stretches: bool = False
    at_once: bool = False

    def __post_init__(self) -> None:
        if not 0.0 <= self.minutes < math.inf:
            raise InputError(f"minutes of {self.name}", self.minutes, "none or more")


@dataclass(frozen=True, slots=True)
class Job:
    """A batch: its steps in order, and by when the last one is to be over.

    Parameters
    ----------
    name: as it is told.
    tasks: at least one.
    due: minutes from the beginning of the day's plan; none where nothing waits for it.
    stays: whether its last step begins no sooner than it is due: what is frozen stays in the
        freezer until leaving.
    begins: where its first step stands and cannot be moved: a night's sleep.
    """

    name: str
    tasks: tuple[Task, ...]
    due: float | None = None
    begins: float | None = None
    stays: bool = False

    @property
    def minutes(self) -> float:
        """All steps one after the other."""
        return math.fsum(one.minutes for one in self.tasks)


def has_means_for(jobs: tuple[Job, ...], has: Mapping[str, float]) -> None:
    """Whether every single step can be done at all.

    Raises
    ------
    InputError: a step takes more than there is.
    """
    for job in jobs:
        for task in job.tasks:
            for means, count in task.needs.items():
                if count > has.get(means, 0) + A_HAIR:
                    accepted = f"{has.get(means, 0):g} at most: there are no more"
                    asked = round(count, 1)
                    raise InputError(f"{means} for {job.name}, {task.name}", asked, accepted)
