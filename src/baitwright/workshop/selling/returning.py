"""What came back of an order: onto the shelf, into quarantine or into the bin."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal

from baitwright.ledger.entries import worth
from baitwright.ledger.movements import NOTHING, Account, Amount, Movement, Reason
from baitwright.ledger.trace import Stop
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.forms.newest import write_again
from baitwright.workshop.selling.sending import Sent, sent_order
from baitwright.workshop.shelf.draft import Draft
from baitwright.workshop.shelf.item_units import refuse_unit
from baitwright.workshop.shelf.lots import LOT, link_all, lot_of, place_of
from baitwright.workshop.shelf.stock import counted_as
from baitwright.workshop.traces.order_records import body_from
from baitwright.workshop.traces.orders import ORDER, Back, Order, Where
from baitwright.workshop.typed.amounts import in_words


@dataclass(frozen=True, slots=True)
class CameBack:
    """What came back of a lot, what was paid back for all of it, where it goes, and why."""

    lot: str
    amount: Amount
    refund: Decimal
    where: Where
    why: str = ""


def bring_back(book: Notebook, name: str, came: CameBack, *, now: datetime, day: date) -> Order:
    """Take back part of an order, at the value at which it went out.

    What is thrown away comes in and goes out again at that value, so it stays a cost of the order.

    Raises
    ------
    InputError: it was not sent so, more than was sent, no reason for the bin, or too early a day.
    """
    if came.where is Where.BIN and not came.why.strip():
        raise InputError("why", came.why, "a reason for throwing it away")
    with book.writing() as page:
        came, sent = replace(came, lot=as_kept(page, LOT, came.lot)), sent_order(page, name)
        order = sent.order
        item, left = _left_of(page, sent, came)
        if order.sent_on is not None and day < order.sent_on:
            raise InputError("day", day.isoformat(), f"{order.sent_on} or later, for it went then")
        kept = order.total - sum((one.refund for one in order.back), NOTHING)
        if came.refund > kept:
            accepted = f"{kept:.2f} at most, which was paid and not yet paid back"
            raise InputError("refund", str(came.refund), accepted)
        draft, value = Draft(page, now=now), left.worth_of(came.amount.units)
        lot = _quarantine(draft, order, came) if came.where is Where.QUARANTINE else came.lot
        into = Movement(item, lot, now, came.amount.units, value, Reason.RETURNED)
        draft.put(into)
        if came.where is Where.BIN:
            draft.put(replace(into, amount=-into.amount, value=-value, reason=Reason.LOST))
        told = Back(
            item, came.lot, came.amount.units, came.refund, came.where, day, came.why, draft.post()
        )
        changed = replace(order, back=(*order.back, told))
        write_again(page, ORDER, name, body=body_from(changed), now=now)
    return changed


def _left_of(page: Page, sent: Sent, came: CameBack) -> tuple[str, Account]:
    """Of what item a lot is, and what of it is still with the customer, at what it went out."""
    went = [one for one in sent.lines if one.lot == came.lot]
    if not went:
        lots = ", ".join(dict.fromkeys(one.lot for one in sent.lines))
        raise InputError("lot", came.lot, f"a lot of order {sent.order.name}: {lots}")
    item = went[0].item
    refuse_unit(item, counted_as(page, item), came.amount)
    left = Account(-sum(one.amount for one in went), -worth(went))
    for back in (one for one in sent.order.back if one.lot == came.lot):
        lines = [one for one in page.entry_lines(back.entry) if one.reason is Reason.RETURNED]
        left = Account(left.amount - back.units, left.value - worth(lines))
    if not 0 < came.amount.units <= left.amount:
        accepted = f"{in_words(left.amount, came.amount.counted)} at most, which is still there"
        raise InputError(
            f"{came.lot} back", in_words(came.amount.units, came.amount.counted), accepted
        )
    return item, left


def _quarantine(draft: Draft, order: Order, came: CameBack) -> str:
    """A lot in quarantine for what came back."""
    old, day = lot_of(draft.page, came.lot), draft.now.date().isoformat()
    told = replace(
        old,
        came=day,
        supplier=order.holder,
        supplier_lot=came.lot,
        quarantined=True,
        why=came.why or f"came back of {order.holder}",
        stop=Stop.BAG.value,
    )
    lot = draft.new_lot(told, came.amount)
    link_all(draft.page, [came.lot], place_of(lot, told))
    return lot
