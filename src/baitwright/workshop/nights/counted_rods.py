"""The rods of one night that can be counted, and what is wrong with the others."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from baitwright.learning.rates import Fished
from baitwright.notebook.page import Revision
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.night_sums import bites_that_fit

_HOUR = 3600.0


@dataclass(frozen=True, slots=True)
class RodNight:
    """One rod of one night; ``at`` is its turn on the record."""

    at: int
    bait: str
    position: str
    fished: Fished


@dataclass(frozen=True, slots=True)
class Doubtful:
    """Something of a night that is left out, or that is counted and asked about."""

    night: str
    said: str
    counted: bool = False


def rods_of(one: Revision) -> Sequence[Mapping[str, Any]]:
    """The rods of a night, as its record tells them."""
    rods: Sequence[Mapping[str, Any]] = (one.body or {}).get("rod", ())
    return rods


def said_in(one: Revision, key: str) -> str:
    """What a record says under a key, as words."""
    return str((one.body or {}).get(key, ""))


def counted(one: Revision, known: Mapping[str, str]) -> tuple[list[RodNight], list[Doubtful]]:
    """The rods of a night that can be counted, and what is wrong with the others."""
    body, rods = one.body or {}, rods_of(one)
    by_rods = sum(rod.get("bites", 0) for rod in rods)
    all_told = body.get("bites") == by_rods
    even = body["rod_hours"] / len(rods) if "rod_hours" in body and rods else None
    even = None if any("hours" in rod for rod in rods) else even
    found, wrong = [], []
    for at, rod in enumerate(rods, start=1):
        bait = known.get(rod.get("bag", ""), rod.get("bag", "")) or rod.get("bait", "")
        bites = rod.get("bites", 0 if all_told else None)
        hours = rod.get("hours", even)
        missing = _missing(bait, bites, hours)
        if missing:
            wrong.append(Doubtful(one.name, f"rod {at} has no {' and no '.join(missing)}"))
            continue
        try:
            bites_that_fit(f"rod[{at}].bites", bites, hours)
        except InputError as error:
            wrong.append(Doubtful(one.name, str(error)))
            continue
        fished = Fished(bites, hours / _HOUR)
        found.append(RodNight(at, bait, rod.get("position", ""), fished))
    if rods and body.get("bites", by_rods) > by_rods and not wrong:
        more = body["bites"] - by_rods
        wrong.append(Doubtful(one.name, f"{more} of its bites are on no rod", counted=True))
    return found, wrong


def _missing(bait: str, bites: int | None, hours: float | None) -> list[str]:
    told = (("bait or bag", bait), ("bites", bites is not None), ("hours", hours))
    return [said for said, is_there in told if not is_there]
