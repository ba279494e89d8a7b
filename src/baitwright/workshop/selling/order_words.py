"""Orders as they are typed and told: lines, kits' parts, lists."""

from __future__ import annotations

from collections.abc import Iterable

from baitwright.ledger.movements import Amount
from baitwright.materials.cautions import cautions
from baitwright.terms.errors import InputError
from baitwright.workshop.selling.kits import Kit
from baitwright.workshop.selling.ordering import Taken, Wanted
from baitwright.workshop.told.worth_words import as_json
from baitwright.workshop.traces.orders import Order, OrderLine
from baitwright.workshop.typed.amounts import in_words, read_amount, read_money

SELLING = "selling"


def read_part(text: str) -> tuple[str, Amount]:
    """An item and an amount as typed, such as 'label=10' or 'semolina=2 kg'.

    Raises
    ------
    InputError: it is not such.
    """
    item, equals, amount = text.rpartition("=")
    if not equals or not item.strip():
        raise InputError("item", text, "an item and an amount, such as label=10 or semolina=2kg")
    return item.strip(), read_amount(amount)


def read_line(text: str) -> Wanted:
    """A line of an order as typed: an item and an amount, with a price if one is agreed.

    Raises
    ------
    InputError: it is not such.
    """
    head, _, tail = text.rpartition("=")
    amount, at, price = tail.partition("@")
    item, units = read_part(f"{head}={amount}")
    return Wanted(item, units, read_money(price) if at else None)


def orders_text(found: Iterable[Order]) -> str:
    """Every order with how far it is, and what to mind before selling."""
    lines = [order_text(one) for one in found] or ["No order yet: baitwright sell order ITEM=2"]
    head = "Rules for selling bait differ by country; ask your local authority. In some:"
    return "\n".join((*lines, "", head, *(f"  ! {one}" for one in minded())))


def minded() -> list[str]:
    """What to mind before selling, by country."""
    told = (one for one in cautions().values() if one.trigger == SELLING)
    return [f"{one.place}: {one.text}" if one.place else one.text for one in told]


def orders_json(found: Iterable[Order]) -> str:
    """Every order for programs; money as text, so that no digit is lost."""
    return as_json({"orders": [_data(one) for one in found]})


def order_text(order: Order) -> str:
    """An order with its lines, how far it is, and what came back."""
    who = f" for {order.customer}" if order.customer else ""
    when = f" {order.sent_on}" if order.sent_on else f", ordered {order.day}"
    lines = [f"order {order.name}{who}: {order.state.value}{when}, {order.total:.2f}"]
    lines += [f"    {_line(one)}" for one in order.lines]
    for one in order.back:
        where = f"into {one.where.value}" if one.where.value != "shelf" else "onto the shelf"
        why = f", {one.why}" if one.why else ""
        lines.append(f"    back {one.day}: of {one.lot} {where}, {one.refund:.2f} paid back{why}")
    return "\n".join(lines)


def taken_text(taken: Taken) -> str:
    """An order just taken, and what of it is still to be made or bought."""
    short = [
        f"  ! {in_words(one.amount.units, one.amount.counted)} of {one.item} is not there"
        for one in taken.short
    ]
    return "\n".join((order_text(taken.order), *short))


def kit_text(kit: Kit) -> str:
    """What is in one kit by now."""
    parts = (f"{in_words(one.units, one.counted)} of {item}" for item, one in kit.parts)
    return f"{kit.item}: {', '.join(parts) or 'no parts any more'}"


def _line(one: OrderLine) -> str:
    return f"{_amount(one)} of {one.item} at {one.price:.2f}: {one.total:.2f}"


def _amount(one: OrderLine) -> str:
    return in_words(one.amount.units, one.amount.counted)


def _data(order: Order) -> dict[str, object]:
    lines = [
        {
            "item": one.item,
            "amount": one.amount.units,
            "unit": one.amount.counted.value,
            "price": one.price,
            "vat": one.vat,
            "total": one.total,
        }
        for one in order.lines
    ]
    back = [
        {"lot": one.lot, "amount": one.units, "refund": one.refund, "to": one.where.value}
        for one in order.back
    ]
    told = {"order": order.name, "customer": order.customer, "state": order.state.value}
    days = {"ordered": order.day, "sent": order.sent_on}
    return {**told, **days, "lines": lines, "total": order.total, "back": back}
