"""An order sent: what goes is the earliest to expire, and never out of quarantine."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime

from baitwright.ledger.movements import Movement, Reason
from baitwright.ledger.trace import Place, Stop
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.newest import write_again
from baitwright.workshop.selling.ordering import open_order
from baitwright.workshop.shelf.draft import Draft, Part
from baitwright.workshop.shelf.drawing import let_go
from baitwright.workshop.shelf.lots import link_all
from baitwright.workshop.traces.order_records import body_from, order_of
from baitwright.workshop.traces.orders import ORDER, Order, State


@dataclass(frozen=True, slots=True)
class Sent:
    """An order that was sent, with the lines of its entry."""

    order: Order
    lines: tuple[Movement, ...]


def send(book: Notebook, name: str, *, now: datetime, day: date) -> Sent:
    """Take what was ordered off the shelf, the earliest to expire first; never from quarantine.

    Raises
    ------
    InputError: no open order of the name, a day before the order, or too little of an item.
    """
    with book.writing() as page:
        order = open_order(page, name)
        if day < order.day:
            raise InputError(
                "day", day.isoformat(), f"{order.day} or later, for it was ordered then"
            )
        aside = page.reserved_for(order.holder)
        let_go(page, order.holder, time=now)
        draft = Draft(page, now=now)
        for line in order.lines:
            draft.take(Part(line.item, line.amount, Reason.SOLD))
        sent = replace(order, entry=draft.post(), sent_on=day, aside=aside)
        link_all(page, (one.lot for one in draft.lines), Place(Stop.SALE, sent.holder))
        write_again(page, ORDER, name, body=body_from(sent), now=now)
    return Sent(sent, tuple(draft.lines))


def sent_order(page: Page, name: str) -> Sent:
    """An order that was sent, with what went.

    Raises
    ------
    InputError: no such order, or one that was not sent.
    """
    order = order_of(page, name)
    if order.state is not State.SENT:
        raise InputError(f"order {name}", order.state.value, "an order that was sent")
    return Sent(order, page.entry_lines(order.entry))
