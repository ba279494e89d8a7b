"""How many hookbaits a trip takes: rods, nights, casts by how long a bait works, and spares."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.unknowns import Unknowns
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import Quantity, declared, given
from baitwright.terms.units import GRAMS, HOURS

LONGEST = 72 * 3600.0
"""Hours of fishing in a night at most, s: a bait is reckoned for as long as its soak."""


@dataclass(frozen=True, slots=True)
class Outing:
    """What is fished: rods, nights, seconds of each night, and free bait thrown in each [kg].

    ``spares`` is the share made on top of what is cast, None for the default.
    """

    rods: int
    nights: int
    night_time: float
    spares: float | None = None
    free_bait: float | None = None


@dataclass(frozen=True, slots=True)
class TripStage:
    """What to take along, and what to make so that so many are good."""

    rods: Quantity
    nights: Quantity
    night_time: Quantity
    casts: Quantity
    spares: Quantity
    take: Quantity
    make: Quantity
    a_night: Quantity
    good: Quantity
    free_bait: Quantity | None


@declared(
    "casts_a_night",
    label="casts of one rod in a night",
    equation="hours / (recast after, or stops doing what is wanted, if sooner), up; tray's mean",
    source="definition",
    note="of the baits that do what is wanted as they go in; one cast at least",
)
def casts_a_night(night_time: Any, recast: Any, lasts: Any) -> Any:
    """How often a rod is cast, on average over a tray, in each batch imagined."""
    works = np.asarray(np.minimum(recast, np.where(np.asarray(lasts) > 0.0, lasts, np.inf)))
    each = np.maximum(1.0, np.ceil(night_time / works - 1e-9))
    return np.mean(each, axis=-1, keepdims=True) if each.ndim else float(each)


@declared(
    "hookbaits_to_take",
    label="hookbaits to take",
    equation="rods x nights x casts x (1 + spares), up",
    source="definition",
)
def hookbaits_to_take(rods: Any, nights: Any, casts: Any, spares: Any) -> Any:
    """How many go along."""
    return np.ceil(rods * nights * casts * (1.0 + spares) - 1e-9)


@declared(
    "hookbaits_to_make",
    label="hookbaits to make",
    equation="take / share that does what is wanted, up",
    source="definition",
    note="the others fail the bottle test at home",
)
def hookbaits_to_make(take: Any, wish: Any) -> Any:
    """How many are rolled for it."""
    return np.ceil(take / wish - 1e-9)


@declared(
    "baits_a_night",
    label="hookbaits of a night",
    equation="take / nights, up",
    source="definition",
)
def baits_a_night(take: Any, nights: Any) -> Any:
    """How many of a session's bag go in one night."""
    return np.ceil(take / nights - 1e-9)


@declared(
    "good_baits",
    label="hookbaits of the batch that do what is wanted",
    equation="baits x share that does what is wanted, down",
    source="definition",
)
def good_baits(baits: Any, wish: Any) -> Any:
    """How many of a batch pass the bottle test."""
    return np.floor(baits * wish + 1e-9)


@dataclass(frozen=True, slots=True)
class Bags:
    """Baits in bags of a session's worth: how many in each, how many such bags, and what is over.

    No bag is filled in part: what does not fill one is over.
    """

    each: int
    bags: int
    over: int


def bags_of(baits: int, each: int) -> Bags:
    """So many baits in bags of a session's worth.

    Raises
    ------
    InputError: none in a bag, or less than no baits.
    """
    if each < 1:
        raise InputError("hookbaits in a bag", each, "one or more")
    if baits < 0:
        raise InputError("hookbaits", baits, "none or more")
    return Bags(each, baits // each, baits % each)


@declared(
    "free_bait_to_take",
    label="free bait to take",
    unit=GRAMS,
    equation="free bait a night x nights",
    source="definition",
)
def free_bait_to_take(a_night: Any, nights: Any) -> Any:
    """What is thrown in, in all."""
    return a_night * nights


def trip_of(plan: BatchPlan, outing: Outing) -> TripStage:
    """What an outing takes of the bait that is planned.

    Raises
    ------
    InputError: no rods or nights, hours that are none, or a bait of which hardly one in twenty does
        what is wanted.
    """
    _check(outing)
    unknowns = Unknowns(plan.request.draws, plan.request.factors)
    rods = given("rods", float(outing.rods), label="rods")
    nights = given("nights", float(outing.nights), label="nights")
    night_time = given("night_time", outing.night_time, label="fishing in a night", unit=HOURS)
    spares = unknowns.stated("spares", outing.spares)
    wish = plan.water.wish
    if float(wish.value) < 0.05:
        share, accepted = f"{100 * wish.value:.0f} % do what is wanted", "a bait of which 5 % do"
        hint = "`baitwright balance` says which core would."
        raise InputError("bait", share, accepted, hint=hint)
    soaked = plan.soak
    casts = casts_a_night(night_time=night_time, recast=soaked.recast, lasts=soaked.lasts)
    take = hookbaits_to_take(rods=rods, nights=nights, casts=casts, spares=spares)
    free = None
    if outing.free_bait is not None:
        a_night = given("free_bait_a_night", outing.free_bait, label="a night", unit=GRAMS)
        free = free_bait_to_take(a_night=a_night, nights=nights)
    return TripStage(
        rods=rods,
        nights=nights,
        night_time=night_time,
        casts=casts,
        spares=spares,
        take=take,
        make=hookbaits_to_make(take=take, wish=wish),
        a_night=baits_a_night(take=take, nights=nights),
        good=good_baits(baits=plan.rolled.baits, wish=wish),
        free_bait=free,
    )


def _check(outing: Outing) -> None:
    for name, count, most in (("rods", outing.rods, 12), ("nights", outing.nights, 30)):
        if not 1 <= count <= most:
            raise InputError(name, count, f"1 to {most}")
    if not 0.0 < outing.night_time <= LONGEST or not math.isfinite(outing.night_time):
        accepted = f"more than none, up to {LONGEST / 3600.0:.0f} h"
        raise InputError("hours", f"{outing.night_time / 3600.0:g} h", accepted)
    if outing.spares is not None and not 0.0 <= outing.spares <= 5.0:
        raise InputError("spares", f"{100 * outing.spares:g} %", "0 to 500 %")
