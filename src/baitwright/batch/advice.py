"""How long to set the timer: from the band of setting times, and what of it is margin."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.terms.quantity import Quantity, declared
from baitwright.terms.units import PERCENT, SECONDS
from baitwright.uncertainty.bands import quantiles

_TIMER_STEP = 5.0
"""A kitchen timer is set in steps of 5 s."""
_SET = 0.9
"""The timer is set for 9 baits in 10."""


@declared(
    "pot_seconds",
    label="boil",
    unit=SECONDS,
    equation="the time by which 9 baits in 10 have set, plus the hold, up to the next 5 s; where "
    "they do not set, as long as the run was followed",
    source="judgement",
    note="measure by cutting one open; a set centre earlier or later teaches your cook factor",
)
def pot_seconds(followed: Any, set_seconds: Any, hold: Any) -> float:
    """What to set the timer to."""
    enough = quantiles(np.ravel(set_seconds), (_SET,))[0] + hold
    return on_the_timer(min(enough, float(followed)))


def on_the_timer(seconds: float) -> float:
    """The next step of a kitchen timer."""
    return float(_TIMER_STEP * np.ceil(seconds / _TIMER_STEP - 1e-9))


@declared(
    "set_share",
    label="baits set through when lifted out",
    unit=PERCENT,
    equation="share of draws whose coldest paste has set by then",
    source="definition",
)
def set_share(set_seconds: Any, seconds: Any) -> float:
    """The share of baits set at the advised time."""
    return float(np.mean(np.asarray(set_seconds) <= seconds))


@declared(
    "margin",
    label="margin from the middle bait to 9 in 10",
    unit=SECONDS,
    equation="time by which 9 baits in 10 have set less the time by which half have",
    source="definition",
)
def margin(set_seconds: Any) -> float:
    """Seconds kept for what is not known and for baits that differ."""
    return _from_middle(set_seconds)


@declared(
    "margin_of_cook",
    label="margin, were only your cook factor in doubt",
    unit=SECONDS,
    equation="the same for the middle bait, with the cook factor as uncertain as it is",
    source="definition",
    note="baits cut open after the boil take this away",
)
def margin_of_cook(model_seconds: Any, factor: Any) -> float:
    """Seconds of margin that a known kitchen would save."""
    middle = quantiles(np.ravel(model_seconds), (0.5,))[0]
    return _from_middle(middle * np.asarray(factor))


@declared(
    "margin_of_baits",
    label="margin, were your cook factor known",
    unit=SECONDS,
    equation="the same with the cook factor at its middle: baits and pots differ all the same",
    source="definition",
    note="baits of an even size take this away",
)
def margin_of_baits(model_seconds: Any, factor: Any) -> float:
    """Seconds of margin that stay when the kitchen is known."""
    middle = quantiles(np.ravel(factor), (0.5,))[0]
    return _from_middle(middle * np.asarray(model_seconds))


def _from_middle(seconds: Any) -> float:
    middle, late = quantiles(np.ravel(seconds), (0.5, _SET))
    return late - middle if np.isfinite(late) else np.inf


@dataclass(frozen=True, slots=True)
class Margin:
    """Seconds beyond the middle bait's set, and what doubt and differing baits ask for alone."""

    whole: Quantity
    of_cook: Quantity
    of_baits: Quantity


def margin_for(set_seconds: Quantity, model_seconds: Quantity, factor: Quantity) -> Margin:
    """The margin and its two parts."""
    return Margin(
        whole=margin(set_seconds=set_seconds),
        of_cook=margin_of_cook(model_seconds=model_seconds, factor=factor),
        of_baits=margin_of_baits(model_seconds=model_seconds, factor=factor),
    )
