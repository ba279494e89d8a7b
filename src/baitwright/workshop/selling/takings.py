"""What the shop took: the margin of every order and month, and what stands on the shelf."""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import dataclass
from decimal import Decimal

from baitwright.ledger.entries import Entries, stands, worth
from baitwright.ledger.movements import NOTHING, Movement, Reason
from baitwright.ledger.price import without_vat
from baitwright.ledger.sales import Sale
from baitwright.notebook.store import Notebook
from baitwright.workshop.shelf.lots import without_price
from baitwright.workshop.traces.order_records import orders_on
from baitwright.workshop.traces.orders import Back, Order


@dataclass(frozen=True, slots=True)
class Takings:
    """All sales by their day, the cost of what was sold without an order, and the stock's value.

    ``stock_unpriced`` counts the lots on the shelf of which not all of the price is known.
    """

    sales: tuple[Sale, ...]
    without_order: Decimal
    stock: Decimal
    stock_unpriced: int = 0
    without_order_whole: bool = True


def takings(book: Notebook) -> Takings:
    """What the shop took so far; the book is read once."""
    with book.reading() as page:
        written = page.entries()

        def entries(entry: int) -> tuple[Movement, ...]:
            return written.get(entry, ())

        found = orders_on(page, entries)
        ordered = {order.entry for order in found}
        other = [
            one
            for entry, lines in written.items()
            if entry not in ordered and stands(entry, entries)
            for one in lines
            if one.reason is Reason.SOLD
        ]
        held = {lot for _, lot, _ in page.stock()}
        moved = {one.lot for one in other} | {
            one.lot for order in found if order.entry for one in entries(order.entry)
        }
        unpriced = without_price(page, held | moved)
        sales = [sale for order in found for sale in sales_of(order, entries, unpriced)]
        return Takings(
            sales=tuple(sorted(sales, key=lambda sale: sale.day)),
            without_order=-worth(other),
            stock=sum((one.value for one in page.accounts().values()), NOTHING),
            stock_unpriced=len(unpriced & held),
            without_order_whole=not any(one.lot in unpriced for one in other),
        )


def sales_of(order: Order, entries: Entries, unpriced: Container[str]) -> Iterator[Sale]:
    """An order's sending, and each time that something came back.

    ``unpriced`` are lots of which not all of the price is known.
    """
    if order.entry is None or order.sent_on is None:
        return
    own, sent = sum((line.own for line in order.lines), NOTHING), entries(order.entry)
    whole = not any(one.lot in unpriced for one in sent)
    yield Sale(order.name, order.sent_on, own, -worth(sent), whole)
    for back in order.back:
        cost = -worth(entries(back.entry))
        yield Sale(order.name, back.day, -_own(order, back), cost, back.lot not in unpriced)


def _own(order: Order, back: Back) -> Decimal:
    """The maker's own part of what was paid back, by the VAT at which it was sold."""
    rate = next(line.vat for line in order.lines if line.item == back.item)
    return without_vat(back.refund, rate)
