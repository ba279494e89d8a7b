"""Baits compared, as data."""

from __future__ import annotations

import json
import math
from typing import Any

from baitwright.learning.pairs import Interval
from baitwright.learning.rates import Dispersion
from baitwright.terms.band import Band
from baitwright.workshop.comparing.compare import Compared
from baitwright.workshop.comparing.two_baits import BaitFished


def compared_json(made: Compared) -> str:
    """For programs; hours are rod-hours, rates bites per 24 of them."""
    data: dict[str, Any] = {
        "baits": [_bait_data(one) for one in made.baits],
        "scatter": _scatter_data(made.scatter),
        "hours_of_a_rod": made.hours,
        "doubtful": [
            {"night": one.night, "said": one.said, "counted": one.counted}
            for one in made.found.doubtful
        ],
    }
    if (two := made.two) is not None:
        data["two"] = {
            "nights_with_both": two.shared,
            "ratio": _number(two.ratio.ratio) if two.chance is not None else None,
            "exact": [_interval_data(one) for one in two.ratio.exact],
            "mid_p": [_interval_data(one) for one in two.ratio.mid],
            "with_own_scatter": _interval_data(two.ratio.widened),
            "scatter": _scatter_data(two.scatter),
            "chance_first_higher": two.chance,
            "more_nights": {f"{one.ratio:g}": one.nights for one in two.more},
            "each_on_its_own_rods": two.same_side,
        }
    if made.times:
        data["within_shared_nights"], data["may_be_ranked"] = made.joined, made.ranks
        data["times_them_all"] = {one.name: _band_data(one) for one in made.times}
    return json.dumps(data, ensure_ascii=False, indent=2)


def _bait_data(one: BaitFished) -> dict[str, Any]:
    told = {"bait": one.name, "bites": one.fished.bites, "rod_hours": one.fished.rod_hours}
    return {**told, "nights": len(one.nights), "blanks": one.blanks, "rate": _band_data(one.rate)}


def _band_data(band: Band) -> dict[str, Any]:
    ends = ((f"{held}", (f"low{held}", f"high{held}")) for held in (50, 80, 95))
    held = {name: [getattr(band, end) for end in both] for name, both in ends}
    return {"median": band.median, **held}


def _interval_data(one: Interval) -> dict[str, Any]:
    return {"level": one.level, "low": one.low, "high": _number(one.high)}


def _scatter_data(one: Dispersion) -> dict[str, Any]:
    return {"ratio": one.ratio, "degrees": one.degrees, "widens": one.widens}


def _number(value: float) -> float | None:
    """JSON knows neither infinity nor nan."""
    return value if math.isfinite(value) else None
