"""Numbers that a fault hangs on and a plan has no use for: each made of the plan's own."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from baitwright.batch.batch_plan import BatchPlan
from baitwright.terms.quantity import Quantity, declared
from baitwright.terms.units import SECONDS


@declared(
    "spare_in_pot",
    label="time in the pot beyond what the set needs",
    unit=SECONDS,
    equation="spare = seconds in the pot - seconds to set",
    source="definition",
    note="below nothing the middle is not set when it is lifted out; carry-over comes on top",
)
def spare_in_pot(seconds: Any, set_seconds: Any) -> Any:
    """What is left of the boil once the coldest paste has set."""
    return seconds - set_seconds


@declared(
    "rolled_for",
    label="rolling beside the time paste stays workable",
    equation="baits / pace / working time",
    source="judgement",
    note="above 1 the last of the paste is rolled stiff, unless it is made in lots",
)
def rolled_for(baits: Any, pace: Any, working: Any) -> Any:
    """How long the last of the paste waits, beside how long it may."""
    return baits / pace / working


@declared(
    "paste_moisture",
    label="water beside dry matter in the paste",
    equation="water / (dry matter + liquids)",
    source="definition",
)
def paste_moisture(water: Any, solids: Any, liquids: Any) -> Any:
    """How wet the paste is as rolled."""
    return water / (solids + liquids)


@declared(
    "skin_behind",
    label="water activity of the middle over the skin's",
    equation="difference = evened out - skin",
    source="judgement",
    note="the more the skin dries ahead of its middle, the more it is pulled",
)
def skin_behind(middle: Any, skin: Any) -> Any:
    """How far the skin dries ahead of the rest."""
    return middle - skin


def more_of(plan: BatchPlan) -> Iterator[Quantity]:
    """These numbers of a plan."""
    bait = plan.rolled.bait
    lots = dict(plan.day.lots.inputs)
    pace = dict(lots["rolling"].inputs)["pace"]
    yield spare_in_pot(seconds=plan.boil.seconds, set_seconds=plan.boil.set_seconds)
    yield rolled_for(baits=plan.rolled.baits, pace=pace, working=lots["working"])
    yield paste_moisture(water=bait.water, solids=bait.solids, liquids=bait.solute_mass)
    yield skin_behind(middle=plan.keep.activity, skin=plan.keep.skin)
