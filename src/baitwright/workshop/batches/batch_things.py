"""Things that a made batch tells of itself, each as one number in the unit it is read in."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from statistics import fmean
from typing import Any

from baitwright.quantities import from_si

Actual = Mapping[str, Any]


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing of a batch: its name, its unit, how it is read, and what moves with it."""

    value: str
    unit: str
    read: Callable[[Actual], float | None]
    touches: str


def _weight(of: str) -> Callable[[Actual], float | None]:
    return lambda told: from_si(told[of], "g") / 20.0 if of in told else None


def _one(of: str, unit: str) -> Callable[[Actual], float | None]:
    return lambda told: from_si(told[of], unit) if of in told else None


def _size(of: str) -> Callable[[Actual], float | None]:
    return lambda told: from_si(fmean(told[of]), "mm") if told.get(of) else None


def _per_egg(told: Actual) -> float | None:
    return told["baits_made"] / len(told["eggs"]) if {"baits_made", "eggs"} <= told.keys() else None


def _baits(told: Actual) -> float | None:
    return float(told["baits_made"]) if "baits_made" in told else None


def _left_of_tray(told: Actual) -> float | None:
    if not {"twenty_fresh", "twenty_at_8h"} <= told.keys():
        return None
    return 100.0 * float(told["twenty_at_8h"] / told["twenty_fresh"])


CHARTED = (
    Thing("bait, fresh", "g", _weight("twenty_fresh"), "size, boil and lift"),
    Thing("bait after 8 h", "g", _weight("twenty_at_8h"), "when they are ready, and lift"),
    Thing("diameter, fresh", "mm", _size("diameter_fresh"), "boil, drying and lift"),
    Thing("diameter, dried", "mm", _size("diameter_dried"), "lift, and the fit on the hair"),
    Thing("baits per egg", "", _per_egg, "size, and what one bait costs"),
)
"""What charts hold batch against batch."""
THINGS = (
    Thing("egg in the bowl", "g", _one("egg_in_bowl", "g"), "every dose, and the dry mix"),
    Thing("dry mix used", "g", _one("tub_used", "g"), "flavour per kilogram, and firmness"),
    *CHARTED,
    Thing("weight left after 8 h", "%", _left_of_tray, "when they are ready, and how they keep"),
    Thing("one dried bait", "g", _one("cup_weight", "g"), "lift"),
    Thing("its rise in the cup", "g", _one("cup_rise", "g"), "lift"),
    Thing("time in the pot", "s", _one("boiled", "s"), "set, skin and hardness"),
    Thing("baits", "", _baits, "what one bait costs"),
)
"""All that one batch is held against others by."""
