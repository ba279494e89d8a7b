"""What stands on the table today, in SI. None means the maker did not say."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum


class EggKind(StrEnum):
    """The binding liquid; each has a composition of its own in the egg table."""

    WHOLE = "whole"
    WHITE = "white"
    YOLK = "yolk"
    CARTON = "carton"
    EGG_FREE = "egg-free"


@dataclass(frozen=True, slots=True)
class Eggs:
    """Eggs of one kind: by grade and count, weighed in the shell, or measured in the bowl.

    A measurement of the contents wins over a weight in the shell, and that over the grade.
    ``grade`` names its system, as in ``"EU L"``.
    """

    kind: EggKind
    count: int | None = None
    grade: str | None = None
    shell_mass: float | None = None
    contents_mass: float | None = None
    contents_volume: float | None = None


@dataclass(frozen=True, slots=True)
class Room:
    """The air the baits dry in."""

    temperature: float | None = None
    humidity: float | None = None
    air_speed: float | None = None


@dataclass(frozen=True, slots=True)
class Pot:
    """The pot: its water, the heat that reaches the water, and how many baits go in at once."""

    water_volume: float | None = None
    net_power: float | None = None
    basket: int | None = None


@dataclass(frozen=True, slots=True)
class Hook:
    """The hook by size, or weighed."""

    size: int | None = None
    mass: float | None = None


@dataclass(frozen=True, slots=True)
class Tub:
    """A tub of prepared mix on the table, by weight; or the weight wanted of a new one."""

    mass: float | None = None
    wanted: float | None = None


@dataclass(frozen=True, slots=True)
class Bench:
    """Today's table: eggs or baits wanted, air, pot, water, hook, tub, and the time of leaving."""

    now: datetime
    eggs: tuple[Eggs, ...] = ()
    baits_wanted: int | None = None
    leaving: datetime | None = None
    room: Room = field(default_factory=Room)
    pot: Pot = field(default_factory=Pot)
    hook: Hook = field(default_factory=Hook)
    tub: Tub = field(default_factory=Tub)
    altitude: float | None = None
    lake_temperature: float | None = None
    start_temperature: float | None = None
    syringes: tuple[float, ...] = ()
    cores: tuple[float, ...] = ()
    country: str | None = None
