"""Orders as records of the notebook, read as the book has them: what was undone is not done."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict
from datetime import date
from decimal import Decimal
from typing import Any

from baitwright.ledger.entries import Entries, stands
from baitwright.ledger.movements import Amount, Counted
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.workshop.forms.newest import body_of
from baitwright.workshop.traces.orders import ORDER, Back, Order, OrderLine, Where


def orders(book: Notebook) -> tuple[Order, ...]:
    """Every order, the first one first."""
    with book.reading() as page:
        return orders_on(page, page.entry_lines)


def one_order(book: Notebook, name: str) -> Order:
    """An order by its number.

    Raises
    ------
    InputError: there is none.
    """
    with book.reading() as page:
        return order_of(page, name)


def orders_on(page: Page, entries: Entries) -> tuple[Order, ...]:
    """Every order of a page, the first one first."""
    found = [one for one in page.all(ORDER) if one.body is not None]
    read = (order_from(one.name, one.body or {}, entries) for one in found)
    return tuple(sorted(read, key=lambda one: (len(one.name), one.name)))


def order_of(page: Page, name: str) -> Order:
    """An order by its number.

    Raises
    ------
    InputError: there is none.
    """
    return order_from(name, body_of(page, ORDER, name), page.entry_lines)


def order_from(name: str, body: Mapping[str, Any], entries: Entries) -> Order:
    """An order as its record and the book have it: what was undone in the book is not done."""
    sent = body["entry"] is not None and stands(body["entry"], entries)
    back = (_back(one) for one in body["back"])
    return Order(
        name,
        body["about"],
        date.fromisoformat(body["day"]),
        tuple(_line(one) for one in body["lines"]),
        body["cancelled"],
        body["entry"] if sent else None,
        date.fromisoformat(body["sent_on"]) if sent else None,
        tuple(one for one in back if stands(one.entry, entries)),
        tuple((item, lot, units) for item, lot, units in body["aside"]),
    )


def body_from(order: Order) -> dict[str, Any]:
    """An order as plain data for its record."""
    return {
        "about": order.customer,
        "day": order.day.isoformat(),
        "lines": [_line_body(one) for one in order.lines],
        "cancelled": order.is_cancelled,
        "entry": order.entry,
        "sent_on": None if order.sent_on is None else order.sent_on.isoformat(),
        "aside": [list(one) for one in order.aside],
        "back": [_back_body(one) for one in order.back],
    }


def _line(told: Mapping[str, Any]) -> OrderLine:
    amount = Amount(told["units"], Counted(told["counted"]))
    vat = None if told["vat"] is None else Decimal(told["vat"])
    return OrderLine(told["item"], amount, Decimal(told["price"]), vat)


def _line_body(one: OrderLine) -> dict[str, Any]:
    amount = {"units": one.amount.units, "counted": one.amount.counted.value}
    vat = None if one.vat is None else str(one.vat)
    return {"item": one.item, **amount, "price": str(one.price), "vat": vat}


def _back(told: Mapping[str, Any]) -> Back:
    day, refund = date.fromisoformat(told["day"]), Decimal(told["refund"])
    return Back(**{**told, "refund": refund, "where": Where(told["where"]), "day": day})


def _back_body(one: Back) -> dict[str, Any]:
    text = {"refund": str(one.refund), "where": one.where.value, "day": one.day.isoformat()}
    return {**asdict(one), **text}
