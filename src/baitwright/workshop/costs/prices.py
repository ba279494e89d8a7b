"""The price list: what is asked, what it costs at the moving average, and what is left."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any

from baitwright.ledger.price import Offer, cost_of
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.costs.price_line import PriceLine
from baitwright.workshop.forms.newest import write_again
from baitwright.workshop.shelf.stock import as_item, shelf_of

PRICE = "price"


@dataclass(frozen=True, slots=True)
class Asking:
    """What of a price is to change; what is not told stays."""

    asked: Decimal | None = None
    vat: Decimal | None = None
    wanted: Decimal | None = None
    step: Decimal | None = None
    without_vat: bool = False


def price_lines(book: Notebook, item: str = "") -> tuple[PriceLine, ...]:
    """The price list by item, or one item of the shelf, be there a price or not.

    Raises
    ------
    InputError: no such item.
    """
    with book.reading() as page:
        items = [as_item(page, item)] if item else [one.name for one in page.all(PRICE)]
        return tuple(_line(page, one) for one in items)


def ask(book: Notebook, item: str, told: Asking, *, now: datetime) -> PriceLine:
    """Change the price of an item, as its next version.

    Raises
    ------
    InputError: no such item, a price that no list holds, or a first one without a price.
    """
    with book.writing() as page:
        item = as_item(page, item)
        shelf_of(page, item)
        before = offer_of(page, item)
        asked = _later(told.asked, None if before is None else before.asked)
        if asked is None:
            raise InputError(f"price of {item}", None, "a price, such as --ask 6.50")
        before = before or Offer(asked)
        rate = None if told.without_vat else _later(told.vat, before.vat)
        wanted = _later(told.wanted, before.wanted)
        step = before.step if told.step is None else told.step
        offer = Offer(asked, rate, wanted, step)
        write_again(page, PRICE, item, body=_body(item, offer), now=now)
        return _line(page, item)


def offer_of(page: Page, item: str) -> Offer | None:
    """What is asked for an item; none where no price was told."""
    record = page.latest(PRICE, item)
    if record is None or record.body is None:
        return None
    return offer_from(record.body)


def offer_from(body: Mapping[str, Any]) -> Offer:
    """What is asked, as a record has it."""
    told = (body[key] for key in ("vat", "wanted"))
    vat, wanted = (None if one is None else Decimal(one) for one in told)
    return Offer(Decimal(body["asked"]), vat, wanted, Decimal(body["step"]))


def _line(page: Page, item: str) -> PriceLine:
    shelf = shelf_of(page, item)
    at_least = not shelf.priced.amount and bool(shelf.apart)
    account = shelf.account if at_least else shelf.priced
    cost = cost_of(account, shelf.counted)
    if at_least and not account.value:
        cost = None
    return PriceLine(
        item=item,
        counted=shelf.counted,
        offer=offer_of(page, item),
        cost=cost,
        unpriced=len(shelf.apart),
        at_least=at_least,
    )


def _body(item: str, offer: Offer) -> Mapping[str, Any]:
    optional = {"vat": offer.vat, "wanted": offer.wanted}
    told = {key: None if value is None else str(value) for key, value in optional.items()}
    return {"item": item, "asked": str(offer.asked), "step": str(offer.step), **told}


def _later(told: Decimal | None, before: Decimal | None) -> Decimal | None:
    return before if told is None else told
