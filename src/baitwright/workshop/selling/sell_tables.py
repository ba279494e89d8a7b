"""What deeds of selling ask: orders and their lines, packs, kits, what comes back, prices."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated

from pydantic import Field

from baitwright.ledger.movements import Amount
from baitwright.workshop.costs.price_words import read_share
from baitwright.workshop.forms.form_fields import money, on_day, person_code
from baitwright.workshop.shelf.deed_tables import amount, count
from baitwright.workshop.traces.orders import Where
from baitwright.workshop.typed.fields import Reads
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import one_of, text, yes_or_no

_ITEM = text(about="As it is called on the shelf.", example="wafters, bag of 30")
_WHEN = on_day(about="Today unless told.")
_WHY = text(about="For later.", example="asked for another size")


def share(about: str, example: str) -> Reads:
    """A share in per cent."""
    schema = {"type": "string", "examples": [example]}
    accepted = "per cent such as 20 %, from 0 to less than 100"
    return Reads(lambda told: read_share(str(told), "share"), accepted, about, schema)


class LineTable(Table):
    """One line of an order."""

    item: Annotated[str, _ITEM]
    amount: Annotated[Amount, amount("How much of it.", example="2")]
    price: Annotated[Decimal | None, money(about="As on the price list unless told.")] = None


class OrderTable(Table):
    """An order."""

    customer: Annotated[str, person_code(about="Nobody known unless told.")] = ""
    day: Annotated[date | None, _WHEN] = None
    line: tuple[LineTable, ...] = Field((), description="What is wanted, line by line.")


class CancelTable(Table):
    """Why an order is cancelled."""

    why: Annotated[str, _WHY] = ""


class SendTable(Table):
    """When an order is sent."""

    day: Annotated[date | None, _WHEN] = None


class BackTable(Table):
    """What came back of an order."""

    lot: Annotated[str, text(about="The lot, as on the packing slip.", example="2026-11-27/4")]
    amount: Annotated[Amount, amount("How much came back.", example="1")]
    refund: Annotated[Decimal, money(about="Paid back for it; 0 for nothing.")]
    to: Annotated[str, one_of(tuple(Where), about="Its lot, a lot in quarantine, or the bin.")]
    why: Annotated[str, text(about="The bin asks for it.", example="bag torn")] = ""
    day: Annotated[date | None, _WHEN] = None


class PartTable(Table):
    """So much of an item."""

    item: Annotated[str, _ITEM]
    amount: Annotated[Amount, amount("How much of it.", example="10")]


class PackTable(Table):
    """A packing run."""

    lot: Annotated[str, text(about="The lot of baits.", example="2026-11-27/B1")]
    into: Annotated[str, text(about="What the packs are called on the shelf.", example="pack")]
    packs: Annotated[int, count("How many packs.", example=8)]
    each: Annotated[int, count("Baits in each.", example=30)]
    lost: Annotated[int, count("Baits spilled or broken.", example=2, least=0)] = 0
    why: Annotated[
        str, text(about="Only where more goes than the book holds.", example="counted twice")
    ] = ""
    material: tuple[PartTable, ...] = Field((), description="Bags and labels, for all packs.")


class KitTable(Table):
    """What is in one kit."""

    kit: Annotated[str, text(about="What it is called.", example="winter box")]
    part: tuple[PartTable, ...] = Field((), description="What one of it holds.")


class JoinTable(Table):
    """Kits that are put together."""

    kit: Annotated[str, text(about="A kit that was written down.", example="winter box")]
    count: Annotated[int, count("How many.", example=4)]


class ApartTable(Table):
    """Kits that are taken apart."""

    lot: Annotated[str, text(about="The lot of kits.", example="2026-11-27/6")]
    count: Annotated[int, count("How many.", example=1)]


class PriceTable(Table):
    """What is asked for an item; what is left empty stays."""

    item: Annotated[str, _ITEM]
    ask: Annotated[Decimal | None, money(about="Of a customer, all in.")] = None
    vat: Annotated[Decimal | None, share("VAT within that price.", "20 %")] = None
    no_vat: Annotated[bool, yes_or_no(about="No VAT in it any more.")] = False
    margin: Annotated[Decimal | None, share("Of the price, to be left.", "40 %")] = None
    step: Annotated[Decimal | None, money(about="Prices end on such a step.", example="0.05")] = (
        None
    )
