"""What really happened, as the maker wrote it down."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Reading:
    """One measurement of something the plan predicted, in SI.

    ``quantity`` is the predicted quantity's name; ``count`` how many baits were measured together.
    """

    quantity: str
    value: float
    count: int = 1


@dataclass(frozen=True, slots=True)
class BatchRecord:
    """The readings of one batch, made on one day, against one plan."""

    plan_name: str
    made_on: datetime | None
    readings: tuple[Reading, ...]
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Look:
    """What the baits of one sample did in a clear container, so long after they went in."""

    after: float
    floated: int
    hung: int
    sank: int
    on_rig: bool = False
    still_firm: int | None = None
    off_core: int | None = None

    @property
    def count(self) -> int:
        """Baits looked at."""
        return self.floated + self.hung + self.sank


@dataclass(frozen=True, slots=True)
class PushedUnder:
    """One bait on a scale: its weight, and the scale's rise with it under in a tared cup."""

    mass: float
    rise: float


@dataclass(frozen=True, slots=True)
class WeighedTogether:
    """So many of one thing on a scale at once."""

    count: int
    mass: float


@dataclass(frozen=True, slots=True)
class Soaked:
    """So many baits weighed together dry, and wiped and weighed after so long in the test's water.

    ``after`` in s, ``before`` and ``mass`` in kg.
    """

    after: float
    count: int
    before: float
    mass: float

    @property
    def gain(self) -> float:
        """Weight gained over the weight before."""
        return self.mass / self.before - 1.0


@dataclass(frozen=True, slots=True)
class BottleTest:
    """A sample of one tray in clear water, on one day, against one plan, in SI.

    ``tray`` is the number of baits the sample was taken from and ``lake_depth`` where they are to
    fish; both None where nobody said.
    """

    plan_name: str
    made_on: datetime | None
    water_temperature: float
    looks: tuple[Look, ...]
    tray: int | None = None
    lake_depth: float | None = None
    pushed_under: tuple[PushedUnder, ...] = ()
    baits: WeighedTogether | None = None
    cores: WeighedTogether | None = None
    soaked: tuple[Soaked, ...] = ()
    remark: str = ""
