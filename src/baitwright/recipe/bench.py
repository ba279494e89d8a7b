"""What stands on the table today, in SI. None means the maker did not say."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from enum import StrEnum

from baitwright.recipe.eggs import Eggs
from baitwright.recipe.rig import Rig


@dataclass(frozen=True, slots=True)
class ReadyMark:
    """When a bait is dry enough, by one of three: weight lost, water activity, or the clock."""

    loss: float | None = None
    water_activity: float | None = None
    time: float | None = None


@dataclass(frozen=True, slots=True)
class LaterAir:
    """The air over the tray from some time on.

    None leaves temperature and movement as they were before, and in the air the water it held;
    without ``dryer`` the baits stand in the room again.
    """

    after: float
    temperature: float | None = None
    humidity: float | None = None
    air_speed: float | None = None
    dryer: float | None = None


@dataclass(frozen=True, slots=True)
class Room:
    """The air the baits dry in, what of them it reaches, and the mark they are dried to.

    ``dryer`` is the temperature that a dryer warms the room's air to; ``then`` is the air later on,
    the last of it until they are ready.
    """

    temperature: float | None = None
    humidity: float | None = None
    air_speed: float | None = None
    exposure: float | None = None
    dryer: float | None = None
    ready: ReadyMark | None = None
    then: tuple[LaterAir, ...] = ()


class Quench(StrEnum):
    """What boiled baits are dropped into; left out, they cool in air."""

    COLD_WATER = "cold water"
    ICE_WATER = "ice water"


@dataclass(frozen=True, slots=True)
class Pot:
    """The pot: its water, the heat that reaches the water, and how many baits go in at once.

    ``salt`` is what the water holds of it, ``boils_at`` a thermometer's word, which wins over
    pressure, altitude and salt.
    """

    water_volume: float | None = None
    net_power: float | None = None
    basket: int | None = None
    salt: float | None = None
    boils_at: float | None = None
    quench: Quench | None = None


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
class Storage:
    """Where the dried baits are put: fridge, out of the cold and freezer by temperature.

    ``packed`` says whether they lie in closed bags, ``keep_for`` how long they are wanted.
    """

    fridge: float | None = None
    ambient: float | None = None
    freezer: float | None = None
    packed: bool | None = None
    keep_for: float | None = None


class Frozen(StrEnum):
    """What comes out of the freezer for this batch or this outing."""

    EGG = "egg"
    PASTE = "paste"
    HOOKBAITS = "hookbaits"
    FREE_BAITS = "free baits"


class ThawsIn(StrEnum):
    """Where it thaws."""

    FRIDGE = "fridge"
    ROOM = "room"
    COLD_WATER = "cold water"


@dataclass(frozen=True, slots=True)
class FromFreezer:
    """A pack that is to thaw: what it is, how thick it was frozen, and where it thaws."""

    what: Frozen
    thickness: float | None = None
    place: ThawsIn = ThawsIn.FRIDGE


@dataclass(frozen=True, slots=True)
class Bench:
    """Today's table: eggs or baits wanted, air, pot, water, hook, tub, and the time of leaving.

    ``pressure`` is the air's in the kitchen, in place of its altitude; ``rig`` is None where only
    the hook is told. ``at_water`` names the water the baits are for, whose rules may be known.
    ``pace`` is how fast baits are rolled, 1/s; ``roller`` is true where that is done on a table.
    """

    now: datetime
    eggs: tuple[Eggs, ...] = ()
    baits_wanted: int | None = None
    leaving: datetime | None = None
    room: Room = field(default_factory=Room)
    pot: Pot = field(default_factory=Pot)
    hook: Hook = field(default_factory=Hook)
    rig: Rig | None = None
    tub: Tub = field(default_factory=Tub)
    store: Storage = field(default_factory=Storage)
    altitude: float | None = None
    pressure: float | None = None
    lake_temperature: float | None = None
    start_temperature: float | None = None
    syringes: tuple[float, ...] = ()
    cores: tuple[float, ...] = ()
    country: str | None = None
    at_water: str | None = None
    frozen: tuple[FromFreezer, ...] = ()
    pace: float | None = None
    roller: bool = False
