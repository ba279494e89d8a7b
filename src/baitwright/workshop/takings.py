"""What the shop took: the margin of every order and month, and what stands on the shelf."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import Decimal

from baitwright.ledger.entries import Entries, stands, worth
from baitwright.ledger.movements import NOTHING, Movement, Reason
from baitwright.ledger.price import without_vat
from baitwright.ledger.sales import Sale
from baitwright.notebook.store import Notebook
from baitwright.workshop.order_records import orders_on
from baitwright.workshop.orders import Back, Order


@dataclass(frozen=True, slots=True)
class Takings:
    """All sales by their day, the cost of what was sold without an order, and the stock's value."""

    sales: tuple[Sale, ...]
    without_order: Decimal
    stock: Decimal


def takings(book: Notebook) -> Takings:
    """What the shop took so far; the book is read once."""
    with book.reading() as page:
        written = page.entries()

        def entries(entry: int) -> tuple[Movement, ...]:
            return written.get(entry, ())

        found = orders_on(page, entries)
        sales = [sale for order in found for sale in _sales(order, entries)]
        ordered = {order.entry for order in found}
        other = (
            worth(one for one in lines if one.reason is Reason.SOLD)
            for entry, lines in written.items()
            if entry not in ordered and stands(entry, entries)
        )
        stock = sum((one.value for one in page.accounts().values()), NOTHING)
        by_day = sorted(sales, key=lambda sale: sale.day)
        return Takings(tuple(by_day), -sum(other, NOTHING), stock)


def _sales(order: Order, entries: Entries) -> Iterator[Sale]:
    """An order's sending, and each time that something came back."""
    if order.entry is None or order.sent_on is None:
        return
    own = sum((line.own for line in order.lines), NOTHING)
    yield Sale(order.name, order.sent_on, own, -worth(entries(order.entry)))
    for back in order.back:
        yield Sale(order.name, back.day, -_own(order, back), -worth(entries(back.entry)))


def _own(order: Order, back: Back) -> Decimal:
    """The maker's own part of what was paid back, by the VAT at which it was sold."""
    rate = next(line.vat for line in order.lines if line.item == back.item)
    return without_vat(back.refund, rate)
