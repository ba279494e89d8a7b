"""How long hands, pot and paste take: loads, rolling, kneading, and what of it needs somebody."""

from __future__ import annotations

import math
from typing import Any

import numpy as np

from baitwright.terms.quantity import declared
from baitwright.terms.units import MINUTES, SECONDS


@declared(
    "baits_to_plan",
    label="baits to plan hands and pot for",
    equation="the count in the middle of the band, whole",
    source="definition",
)
def baits_to_plan(baits: Any) -> float:
    """How many baits the day is planned for."""
    return float(max(1.0, np.floor(np.median(baits))))


@declared(
    "boil_loads",
    label="loads in the pot",
    equation="loads = baits / basket, up",
    source="definition",
)
def boil_loads(baits: Any, basket: Any) -> float:
    """How many baskets the tray fills."""
    return float(math.ceil(baits / basket - 1e-9))


@declared(
    "load_time",
    label="one load, in and out",
    unit=SECONDS,
    equation="boil + swap",
    source="definition",
)
def load_time(boil: Any, swap: Any) -> Any:
    """Time one basket holds the pot."""
    return boil + swap


@declared(
    "rolling_time",
    label="rolling",
    unit=MINUTES,
    equation="baits / pace",
    source="common-practice",
)
def rolling_time(baits: Any, pace: Any) -> Any:
    """Time the hands need, both rollings included."""
    return baits / pace


@declared(
    "rolling_in_lots",
    label="rolling, with each further lot kneaded",
    unit=MINUTES,
    equation="rolling + (lots - 1) x kneading a lot again",
    source="common-practice",
)
def rolling_in_lots(rolling: Any, lots: Any, again: Any) -> Any:
    """Time the hands need where the paste is worked in lots."""
    return rolling + (lots - 1.0) * again


@declared(
    "roll_and_boil",
    label="rolling and boiling together",
    unit=MINUTES,
    equation="the longer of (all rolled, last load boiled) and (first load rolled, all boiled)",
    source="johnson-1954",
    note="baskets are boiled while the next is rolled",
)
def roll_and_boil(rolling: Any, baits: Any, basket: Any, loads: Any, load: Any) -> Any:
    """Time from the first bait rolled to the last one out of the pot."""
    first = rolling * min(basket, baits) / baits
    return max(rolling + load, first + loads * load)


@declared(
    "paste_lots",
    label="lots of paste, each rolled before it stiffens",
    equation="lots = rolling / working time, up",
    source="common-practice",
)
def paste_lots(rolling: Any, working: Any) -> float:
    """Into how many lots to part the work so that no paste stiffens."""
    return float(max(1, math.ceil(rolling / working - 1e-9)))


@declared(
    "mixer_lots",
    label="lots in the mixer",
    equation="lots = paste in the middle of the band / what the mixer kneads at once, up",
    source="definition",
)
def mixer_lots(paste: Any, mixer: Any) -> float:
    """How often the mixer is filled."""
    return float(max(1, math.ceil(float(np.median(paste)) / mixer - 1e-9)))


@declared(
    "mixing_in_lots",
    label="weighing and kneading every lot",
    unit=MINUTES,
    equation="lots in the mixer x weighing and kneading",
    source="common-practice",
)
def mixing_in_lots(lots: Any, mixing: Any) -> Any:
    """Time the hands need before there is paste to roll."""
    return lots * mixing


@declared(
    "hands_on",
    label="hands-on work before the tray",
    unit=MINUTES,
    equation="weighing and kneading + rolling and boiling together",
    source="common-practice",
    note="both rollings included; bagging comes after the tray",
)
def hands_on(mixing: Any, together: Any) -> Any:
    """Time that somebody stands at the bench for, up to the tray."""
    return mixing + together


@declared(
    "trays_filled",
    label="trays that the baits fill",
    equation="trays = baits (D / 15 mm)^2 / baits of 15 mm on a tray, up; D the middle as rolled",
    source="definition",
)
def trays_filled(baits: Any, diameter: Any, holds: Any) -> float:
    """How many trays the baits lie on, side by side."""
    room = baits * (float(np.median(diameter)) / 0.015) ** 2
    return float(max(1, math.ceil(room / holds - 1e-9)))
