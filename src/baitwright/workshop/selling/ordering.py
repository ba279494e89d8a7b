"""An order taken, which sets aside what is there, cancelled, which lets go of it, and back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal

from baitwright.ledger.movements import Amount
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.costs.prices import offer_of
from baitwright.workshop.forms.newest import body_of, write_again
from baitwright.workshop.shelf.drawing import Need, let_go, reserve
from baitwright.workshop.shelf.item_units import refuse_unit
from baitwright.workshop.shelf.stock import as_item, counted_as
from baitwright.workshop.traces.order_records import body_from, order_of
from baitwright.workshop.traces.orders import ORDER, Order, OrderLine, State


@dataclass(frozen=True, slots=True)
class Wanted:
    """So much of an item; at its price of the price list unless another is agreed."""

    item: str
    amount: Amount
    price: Decimal | None = None


@dataclass(frozen=True, slots=True)
class Taken:
    """An order, and what of it was not there to be set aside."""

    order: Order
    short: tuple[Need, ...]


def take_order(
    book: Notebook, customer: str, wanted: Sequence[Wanted], *, now: datetime, day: date
) -> Taken:
    """Write an order down and set aside what is free, the earliest to expire first.

    Parameters
    ----------
    book: the notebook.
    customer: a person's code, or nothing for somebody who is not written down.
    wanted: its lines.
    now, day: the time of writing, and the day of the order.

    Raises
    ------
    InputError: no lines, an unknown person or item, another unit, or no price.
    """
    if not wanted:
        raise InputError("order", None, 'a line at least, such as "pack of 12=2"')
    with book.writing() as page:
        _check_customer(page, customer)
        name = str(page.count(ORDER) + 1)
        lines = tuple(_line(page, one) for one in wanted)
        order = Order(name, customer, day, lines)
        needs = [Need(one.item, one.amount) for one in lines]
        short = reserve(page, order.holder, needs, time=now)
        page.write(ORDER, name, body_from(order), seen=0, time=now)
    return Taken(order, short)


def cancel(book: Notebook, name: str, *, now: datetime, why: str) -> Order:
    """Cancel an order that is not sent; what was set aside for it is free again.

    Raises
    ------
    InputError: no such order, or one that was sent or cancelled.
    """
    with book.writing() as page:
        order = open_order(page, name)
        let_go(page, order.holder, time=now)
        # An entry that sent it and was undone stays named, so that nothing sends it once more.
        body = {**body_of(page, ORDER, name), "cancelled": True}
        write_again(page, ORDER, name, body=body, now=now, reason=why)
    return replace(order, is_cancelled=True)


def open_again(book: Notebook, name: str, *, now: datetime, why: str = "") -> Taken:
    """Take the cancelling of an order back; what is free is set aside for it once more.

    Raises
    ------
    InputError: no such order, one that is not cancelled, or an item counted in another unit now.
    """
    with book.writing() as page:
        order = order_of(page, name)
        if order.state is not State.CANCELLED:
            raise InputError(f"order {name}", order.state.value, "an order that was cancelled")
        for one in order.lines:
            refuse_unit(one.item, counted_as(page, one.item), one.amount)
        needs = [Need(one.item, one.amount) for one in order.lines]
        short = reserve(page, order.holder, needs, time=now)
        body = {**body_of(page, ORDER, name), "cancelled": False}
        write_again(page, ORDER, name, body=body, now=now, reason=why or "open again")
    return Taken(replace(order, is_cancelled=False), short)


def open_order(page: Page, name: str) -> Order:
    """An order that is still to be sent.

    Raises
    ------
    InputError: no such order, or one that was sent or cancelled.
    """
    order = order_of(page, name)
    if order.state is not State.OPEN:
        raise InputError(f"order {name}", order.state.value, "an order that is open")
    return order


def _line(page: Page, one: Wanted) -> OrderLine:
    one = replace(one, item=as_item(page, one.item))
    refuse_unit(one.item, counted_as(page, one.item), one.amount)
    offer = offer_of(page, one.item)
    price = one.price if one.price is not None or offer is None else offer.asked
    if price is None:
        hint = f"Ask one with `baitwright price`, or write it in the line: {one.item}=2@6.50"
        raise InputError(f"price of {one.item}", None, "a price of the price list", hint=hint)
    return OrderLine(one.item, one.amount, price, None if offer is None else offer.vat)


def _check_customer(page: Page, code: str) -> None:
    known = page.persons()
    if code and known.get(code) is None:
        hint = "Names and addresses stay out of orders; leave the code out for nobody known."
        raise InputError("customer", code, "the code of a person of the notebook", hint=hint)
