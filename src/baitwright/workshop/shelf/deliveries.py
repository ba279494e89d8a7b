"""Deliveries onto the shelf: each a lot of its own, one or many as one entry of the book."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal

from baitwright.ledger.movements import NOTHING, Amount, Book, Counted, Movement, Reason
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.shelf.item_units import agree_on_unit, refuse_unit
from baitwright.workshop.shelf.lots import LOT, Lot, lot_names, place_of
from baitwright.workshop.shelf.stock import standing
from baitwright.workshop.shelf.supplier_lots import came_already, came_twice, supplier_lot


@dataclass(frozen=True, slots=True)
class Delivery:
    """What came, what it cost in the shop's money, the supplier's words for it, and its label's.

    ``came`` is today where nobody said; a ``value`` that nobody said is unknown, and not nothing.
    """

    item: str
    amount: Amount
    value: Decimal | None
    best_before: date | None = None
    supplier: str = ""
    supplier_lot: str = ""
    came: date | None = None
    allergens: str = ""
    hazards: str = ""


def bring_in(
    book: Notebook, came: Delivery, *, now: datetime, again: bool = False, why: str = ""
) -> str:
    """Put a delivery on the shelf as a lot of its own; the lot's name.

    Parameters
    ----------
    book, came, now: where, what and when.
    again: the supplier's lot may come a second time.
    why: it comes in although its best-before day is over.

    Raises
    ------
    InputError: the item is counted in another unit, the delivery is nothing, its supplier's lot
        came before and nobody said that it came again, or it is past its day and nobody said why.
    """
    best = came.best_before
    if best is not None and best < now.date() and not why.strip():
        hint = "Say --why it comes in all the same."
        raise InputError("best-before", f"{best}, which is over", "today or later", hint=hint)
    key = supplier_lot(came.item, came.supplier, came.supplier_lot)
    with book.writing() as page:
        before = came_already(page, came.item).get(key)
        if before is not None and not again:
            raise came_twice(came.supplier_lot, f"lot {before} here")
        (lot,) = put_on_shelf(page, (came,), now=now, why=why)
    return lot


def put_on_shelf(
    page: Page, delivered: Iterable[Delivery], *, now: datetime, why: str = ""
) -> tuple[str, ...]:
    """Put deliveries on the shelf, each as a lot of its own, all as one entry; the lots' names.

    ``why`` is written down as the reason.

    Raises
    ------
    InputError: an item is counted in another unit, or a delivery is nothing.
    """
    next_name = lot_names(page)
    counted: dict[str, Counted] = {}
    stands: dict[str, Book] = {}
    lines, links = [], []
    for came in delivered:
        if came.item in counted:
            refuse_unit(came.item, counted[came.item], came.amount)
        else:
            agree_on_unit(page, came.item, came.amount, now=now)
            counted[came.item] = came.amount.counted
            stands[came.item] = standing(page, came.item)
        day = came.came or now.date()
        lot = next_name(day)
        told = _lot_of(came, day)
        page.write(LOT, lot, told.as_body(), seen=0, time=now, reason=why)
        value = NOTHING if came.value is None else came.value
        line = Movement(came.item, lot, now, came.amount.units, value, Reason.BOUGHT)
        stands[came.item] = stands[came.item].take(line)
        lines.append(line)
        if came.supplier_lot:
            supplied = Place(Stop.SUPPLIED, f"{came.supplier} {came.supplier_lot}".strip())
            links.append(Link(supplied, place_of(lot, told)))
    page.link(*links)
    page.post(lines)
    return tuple(line.lot for line in lines)


def _lot_of(came: Delivery, day: date) -> Lot:
    best = None if came.best_before is None else came.best_before.isoformat()
    return Lot(
        item=came.item,
        came=day.isoformat(),
        best_before=best,
        supplier=came.supplier,
        supplier_lot=came.supplier_lot,
        allergens=came.allergens,
        hazards=came.hazards,
        priced=came.value is not None,
    )
