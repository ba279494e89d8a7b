"""What a batch cost, a bait and a bag of it, and what to ask for one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_EVEN, Decimal

from baitwright.ledger.movements import NOTHING, STEP, Movement
from baitwright.terms.errors import InputError

CENT = Decimal("0.01")


@dataclass(frozen=True, slots=True)
class Part:
    """What went into a batch of one item, and the value it took along."""

    item: str
    amount: int
    value: Decimal


@dataclass(frozen=True, slots=True)
class BatchCost:
    """Everything a batch took, and the good baits it gave; what was lost is borne by them."""

    parts: tuple[Part, ...]
    baits: int

    @property
    def total(self) -> Decimal:
        """All of it together."""
        return sum((part.value for part in self.parts), NOTHING)

    @property
    def per_bait(self) -> Decimal:
        """What one good bait cost."""
        return (self.total / self.baits).quantize(STEP, rounding=ROUND_HALF_EVEN)


def batch_cost(used: Iterable[Movement], *, baits: int) -> BatchCost:
    """What a batch cost, from the lines that it took out of the book.

    Parameters
    ----------
    used: lines that went out for the batch, and those that came back.
    baits: good ones, as counted into bags and kept.

    Raises
    ------
    InputError: no good bait is left to bear the cost.
    """
    if baits <= 0:
        raise InputError("baits", baits, "one good bait at least, to bear what the batch cost")
    parts: dict[str, Part] = {}
    for one in used:
        had = parts.get(one.item, Part(one.item, 0, NOTHING))
        parts[one.item] = Part(one.item, had.amount - one.amount, had.value - one.value)
    return BatchCost(tuple(parts.values()), baits)


@dataclass(frozen=True, slots=True)
class BagCost:
    """A bag's baits and its bag and label, with what was spilled while packing."""

    baits: Decimal
    packing: Decimal

    @property
    def total(self) -> Decimal:
        """The whole bag."""
        return self.baits + self.packing


def bag_cost(
    per_bait: Decimal, *, baits: int, spilled: int = 0, bags: int = 1, packing: Decimal = NOTHING
) -> BagCost:
    """What one bag costs out of a packing run.

    Parameters
    ----------
    per_bait: what a good bait cost.
    baits: in each bag.
    spilled: baits that the run lost; the bags bear them alike.
    bags: that the run filled.
    packing: bag and label of one.

    Raises
    ------
    InputError: a run without bags, or bags without baits.
    """
    if bags <= 0 or baits <= 0 or spilled < 0:
        got = f"{bags} bags of {baits}, {spilled} spilled"
        raise InputError("packing run", got, "one bag with one bait at least")
    each = per_bait * (baits * bags + spilled) / bags
    return BagCost(each.quantize(STEP, rounding=ROUND_HALF_EVEN), packing)


def price_for(cost: Decimal, *, margin: Decimal, step: Decimal = CENT) -> Decimal:
    """The price that leaves a margin, rounded up to a step such as 0.05.

    Parameters
    ----------
    cost: of what is sold.
    margin: share of the price that is left, 0 to less than 1; not a share of the cost.
    step: of the price list.

    Raises
    ------
    InputError: a margin that no price leaves, or a step that is none.
    """
    if not 0 <= margin < 1:
        raise InputError("margin", str(margin), "a share of the price from 0 to less than 1")
    if step <= 0:
        raise InputError("price step", str(step), "more than nothing, such as 0.05")
    steps = (cost / (1 - margin) / step).quantize(Decimal(1), rounding=ROUND_CEILING)
    return steps * step
