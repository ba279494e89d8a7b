"""What a batch, or a lot that was packed or put together, cost, part by part."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from decimal import Decimal

from baitwright.ledger.cost import BagCost, BatchCost, bag_cost, batch_cost
from baitwright.ledger.entries import Lines
from baitwright.ledger.movements import NOTHING, Counted, Reason
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.bags import BAG
from baitwright.workshop.batches.batch_hours import State
from baitwright.workshop.batches.batches import batch_of
from baitwright.workshop.batches.cost_lines import lines_of, lost_of, standing_lines
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.shelf.lots import LOT, lot_of, without_price
from baitwright.workshop.shelf.stock import units_of

PACKING, ASSEMBLY = "packing", "lot of kits"
"""Kinds of record that say what a lot was made of, each under the lot's name, as bags' do."""


@dataclass(frozen=True, slots=True)
class BagPlan:
    """How a batch is to be bagged: bags, baits in each, spilled, and bag and label of one."""

    bags: int
    each: int
    spilled: int = 0
    packing: Decimal = NOTHING


@dataclass(frozen=True, slots=True)
class Told:
    """What a lot of an item cost, the unit of each part, how many were rolled, and lost since.

    ``unpriced`` has, by item, how many lots went in of which not all of the price is known.
    """

    name: str
    item: str
    cost: BatchCost
    units: Mapping[str, Counted]
    rolled: int | None = None
    lost: int = 0
    bag: BagCost | None = None
    unpriced: Mapping[str, int] = field(default_factory=dict)

    @property
    def whole(self) -> bool:
        """Whether all of it is known."""
        return not self.unpriced


def cost_of_batch(book: Notebook, batch: str, plan: BagPlan | None = None) -> Told:
    """What a batch cost, each good bait of it, and a bag where one is told.

    Raises
    ------
    InputError: no such batch, one that is not made yet, or bags for more baits than it has.
    """
    units = units_of(book)
    with book.reading() as page:
        found = batch_of(page, batch, state=State.MADE)
        batch, body = found.name, found.body or {}
        lines = lines_of(page, batch)
        cost, _ = _cost(batch, lines)
        told = Told(
            name=batch,
            item=lot_of(page, batch).item,
            cost=cost,
            units=units,
            rolled=body["actual"].get("baits_made"),
            lost=lost_of(page, batch),
            unpriced=_unpriced(page, lines),
        )
    return told if plan is None else replace(told, bag=_bag(cost, plan))


def cost_of_lot(book: Notebook, lot: str) -> Told:
    """What a lot of packs, kits or bagged baits cost that was made up here.

    Raises
    ------
    InputError: it was not, or the run was undone.
    """
    units = units_of(book)
    with book.reading() as page:
        lot = as_kept(page, LOT, lot)
        found = (page.latest(kind, lot) for kind in (PACKING, ASSEMBLY, BAG))
        run = next((one.body for one in found if one is not None and one.body), None)
        if run is None:
            accepted = "a lot that was bagged, packed or put together here"
            raise InputError("lot", lot, accepted)
        lines = standing_lines(page, run["entries"])
        cost, lost = _cost(lot, lines)
        item, unpriced = lot_of(page, lot).item, _unpriced(page, lines)
        return Told(lot, item, cost, units, lost=lost, unpriced=unpriced)


def _unpriced(page: Page, lines: Lines) -> Mapping[str, int]:
    went = {one.lot: one.item for one in lines if one.reason is not Reason.MADE}
    return Counter(went[lot] for lot in without_price(page, went))


def _cost(name: str, lines: Lines) -> tuple[BatchCost, int]:
    """What lines come to for what they made, and how much was lost on the way.

    Raises
    ------
    InputError: the lines make nothing, for they were undone.
    """
    made = sum(one.amount for one in lines if one.reason is Reason.MADE)
    if not made:
        raise InputError("cost", name, "something that was made; this was undone")
    went = [one for one in lines if one.reason is not Reason.MADE]
    lost = -sum(one.amount for one in went if one.reason is Reason.LOST)
    return batch_cost(went, baits=made), lost


def _bag(cost: BatchCost, plan: BagPlan) -> BagCost:
    needed = plan.bags * plan.each + plan.spilled
    if needed > cost.baits:
        raise InputError("bags", f"{needed} baits", f"bags for {cost.baits} baits at most")
    return bag_cost(
        cost.per_bait, baits=plan.each, spilled=plan.spilled, bags=plan.bags, packing=plan.packing
    )
