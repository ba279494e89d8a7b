"""A packing slip: what of which lots goes with an order, best before when, with which allergens."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.ledger.movements import Amount
from baitwright.notebook.store import Notebook
from baitwright.workshop.labels.lot_allergens import Allergens, allergens_of
from baitwright.workshop.selling.sending import sent_order
from baitwright.workshop.shelf.lots import lot_of
from baitwright.workshop.shelf.stock import units_of
from baitwright.workshop.traces.orders import Order
from baitwright.workshop.typed.amounts import in_words


@dataclass(frozen=True, slots=True)
class SlipLine:
    """So much of a lot, with its best-before day and allergens."""

    item: str
    amount: Amount
    lot: str
    best_before: str | None
    allergens: Allergens


@dataclass(frozen=True, slots=True)
class Slip:
    """A sent order with what lies in the parcel."""

    order: Order
    lines: tuple[SlipLine, ...]


def slip(book: Notebook, name: str) -> Slip:
    """The packing slip of an order that was sent.

    Raises
    ------
    InputError: no such order, or one that was not sent.
    """
    units = units_of(book)
    with book.reading() as page:
        sent = sent_order(page, name)
        went: dict[tuple[str, str], int] = {}
        for one in sent.lines:
            went[one.item, one.lot] = went.get((one.item, one.lot), 0) - one.amount
        lines = (
            SlipLine(
                item,
                Amount(amount, units[item]),
                lot,
                lot_of(page, lot).best_before,
                allergens_of(page, lot),
            )
            for (item, lot), amount in went.items()
        )
        return Slip(sent.order, tuple(lines))


def slip_text(made: Slip) -> str:
    """The slip as plain text; no prices, and no name but the customer's code."""
    order = made.order
    lines = [f"Packing slip: order {order.name}, sent {order.sent_on}"]
    lines += [f"For {order.customer}"] if order.customer else []
    for one in made.lines:
        best = "" if one.best_before is None else f", best before {one.best_before}"
        amount = in_words(one.amount.units, one.amount.counted)
        lines += ["", f"{amount}  {one.item}, lot {one.lot}{best}", f"    {_allergens(one)}"]
    return "\n".join((*lines, "", "Fishing bait: not for people or pets to eat."))


def _allergens(line: SlipLine) -> str:
    found = line.allergens
    told = {"holds": found.holds, "may hold": found.may_hold, "not known of": found.unknown}
    words = "; ".join(f"{how} {', '.join(names)}" for how, names in told.items() if names)
    return (
        f"Allergens: {words or 'none of the fourteen groups, by labels and the ingredient table'}"
    )
