"""What something cost, as a page shows it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from baitwright.ledger.movements import Counted
from baitwright.workshop.costs.cost_words import borne, share_of
from baitwright.workshop.costs.costs import Told


@dataclass(frozen=True, slots=True)
class PartLine:
    """What went in of one item, its value, and its share of the whole."""

    item: str
    amount: int
    counted: Counted
    value: Decimal
    share: Decimal | None
    whole: bool = True


@dataclass(frozen=True, slots=True)
class CostView:
    """A cost, its dearest part first; ``wasted`` were rolled and are not good."""

    told: Told
    parts: tuple[PartLine, ...]
    wasted: int
    borne: str


def cost_view(told: Told, *, each: str = "bait") -> CostView:
    """A cost part by part."""
    parts = tuple(
        PartLine(
            item=one.item,
            amount=one.amount,
            counted=told.units[one.item],
            value=one.value,
            share=share_of(one, told),
            whole=one.item not in told.unpriced,
        )
        for one in sorted(told.cost.parts, key=lambda part: -part.value)
    )
    wasted = max((told.rolled or 0) - told.cost.baits, 0)
    return CostView(told, parts, wasted, borne(told, each) if told.lost > 0 else "")
