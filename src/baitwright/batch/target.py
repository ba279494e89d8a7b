"""What a bait of a kind must lift, alone and on its rig, and for how long in the lake it does."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.release import first_below
from baitwright.materials.kinds import bait_kinds, lift_words
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Backing, Origin, declared
from baitwright.terms.units import GRAMS, HOURS
from baitwright.uncertainty.spreads import Floats

LIMITS = Backing(Origin.TABLE, "common-practice", Evidence.PRACTICE)
"""What the limits of a kind rest on: the table of words."""


@dataclass(frozen=True, slots=True)
class Limits:
    """From ``low`` up to ``high``, kg of lift; infinite where open."""

    low: float
    high: float

    def holds(self, lift: Any) -> Any:
        """Which lifts lie inside."""
        values = np.asarray(lift)
        return (values >= self.low) & (values < self.high)

    def room(self, lift: float) -> float:
        """Distance to the nearer limit, negative outside."""
        return min(lift - self.low, self.high - lift)


@dataclass(frozen=True, slots=True)
class Target:
    """What is wanted of the bait alone and on its rig."""

    alone: Limits
    rig: Limits


@dataclass(frozen=True, slots=True)
class Wish:
    """What besides its kind a bait is to do.

    ``carry`` is the pull under water [kg] of the counterweight it is to hold up beyond its rig,
    ``slowest`` and ``fastest`` the speeds [m/s] between which it is to sink with its hook.
    """

    carry: float = 0.0
    slowest: float | None = None
    fastest: float | None = None


def target_of(
    kind: str, wish: Wish, *, least_pull: float = -np.inf, most_pull: float = np.inf
) -> Target:
    """The limits of a kind by the table of words, narrowed by what else is wanted.

    Parameters
    ----------
    kind: pop-up, wafter or sinker.
    wish: a counterweight to hold up.
    least_pull, most_pull: the weights at which the bait sinks as slowly and as fast as it may [kg].
    """
    row = bait_kinds()[kind]
    rig = _limits(row.on_rig)
    low, high = max(rig.low, -most_pull), min(rig.high, -least_pull)
    if wish.carry > 0.0:
        low = max(low, wish.carry)
    return Target(alone=_limits(row.alone), rig=Limits(low, high))


def _limits(words: tuple[str, ...]) -> Limits:
    """From the lowest to the highest limit of words that lie side by side."""
    rows = [lift_words()[word] for word in words]
    low = min(-np.inf if row.low is None else row.low for row in rows)
    high = max(np.inf if row.high is None else row.high for row in rows)
    return Limits(low, high)


@dataclass(frozen=True, slots=True)
class Drift:
    """Lift [kg] that the lake has taken by some times [s]; ``lost`` is (time, batch, bait)."""

    times: Floats
    lost: Floats


@declared(
    "night_drift",
    label="lift the lake takes, hour by hour",
    equation="lift as it goes in - lift after so long",
    source="archimedes",
)
def night_drift(times: tuple[float, ...], **lifts: Any) -> Drift:
    """How a bait's lift falls; one lift for each of the times, the first as it goes in."""
    told = np.stack([lifts[f"lift_{at}"] for at in range(len(times))])
    return Drift(np.asarray(times), told[0] - told)


@declared(
    "lost_by",
    label="lift the lake has taken",
    unit=GRAMS,
    equation="lift as it goes in - lift after so long",
    source="archimedes",
)
def lost_by(drift: Drift, at: int) -> Any:
    """Lift lost by one of the hours told."""
    return drift.lost[at]


@declared(
    "lasts",
    label="stops doing what is wanted after",
    unit=HOURS,
    equation="first hour at which the lift alone or on the rig leaves its limits",
    source="common-practice",
    note="straight between the hours told; never, where it still does at the end",
)
def lasts(alone: Any, rig: Any, drift: Drift, target: Target, paste_share: Any = 1.0) -> Any:
    """How long a bait goes on doing what is wanted.

    ``paste_share`` is its paste beside that of the bait soaked: the lake takes lift from paste.
    """
    lost = paste_share * drift.lost
    room = np.minimum(
        np.minimum(alone - lost - target.alone.low, target.alone.high - alone + lost),
        np.minimum(rig - lost - target.rig.low, target.rig.high - rig + lost),
    )
    return first_below(drift.times, room.reshape(len(room), -1)).reshape(room.shape[1:])
