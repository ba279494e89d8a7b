"""How far a batch is, its steps by the clock, and how long its baits lie on the tray."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum
from typing import Any

BATCH, PLAN = "batch", "plan"
WRITTEN = "written"
"""The entry of a plan's record that keeps the bench as it was told."""
DRY = "dry"
"""What the step on the tray is called."""


class State(StrEnum):
    """How far a batch is."""

    PLANNED = "planned"
    MADE = "made"
    CANCELLED = "cancelled"

    @classmethod
    def _missing_(cls, value: object) -> State | None:
        return cls.CANCELLED if value == "called off" else None  # the word of older notebooks


@dataclass(frozen=True, slots=True)
class Hour:
    """One step of a day, from when to when by the clock on the wall."""

    name: str
    text: str
    start: datetime
    end: datetime


@dataclass(frozen=True, slots=True)
class Hours:
    """A batch's steps, when its maker leaves, and how long its baits lie on the tray.

    ``tray`` is for how long they are left there, then the low and the high end of the band in which
    four in five are ready; nothing where the air never dries them.
    """

    steps: tuple[Hour, ...]
    leaving: datetime | None
    tray: tuple[timedelta, timedelta, timedelta] | None


def hours_from(told: Mapping[str, Any]) -> Hours:
    """The hours of a batch as its record has them."""
    steps = (
        Hour(name, text, *map(datetime.fromisoformat, times))
        for name, text, *times in told["steps"]
    )
    leaving, tray = told["leaving"], told["tray"]
    left, low, high = (timedelta(seconds=one) for one in tray or (0, 0, 0))
    return Hours(
        tuple(steps),
        None if leaving is None else datetime.fromisoformat(leaving),
        (left, low, high) if tray else None,
    )


def holder(name: str) -> str:
    """Who reservations of a batch are for."""
    return f"batch {name}"
