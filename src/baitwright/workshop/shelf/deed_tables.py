"""What deeds of the shelf and of batches ask: amounts, money, days and reasons, as tables."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Annotated

from baitwright.ledger.movements import Amount
from baitwright.workshop.forms.form_fields import money, notes, on_day
from baitwright.workshop.typed.amounts import AMOUNTS, read_amount
from baitwright.workshop.typed.fields import Reads, number
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import one_of, text, yes_or_no

_ITEM = text(about="As it is called on the shelf.", example="semolina")
_LOT = text(about="The lot, as it is written on the bag.", example="2026-11-27/1")
WHY_SHORT = text(about="Only where more goes than the book holds.", example="a bag was not booked")


def amount(about: str, *, example: str = "25 kg", least: int = 1) -> Reads:
    """An amount of stock: a weight, a volume, or a whole number of pieces."""
    schema = {"type": "string", "examples": [example]}
    return Reads(lambda told: read_amount(str(told), least=least), AMOUNTS, about, schema)


def count(about: str, *, example: int = 10, least: int = 1) -> Reads:
    """A whole number of things."""
    return number(least, 1_000_000, example=example, about=about)


class Nothing(Table):
    """A deed that only has to be said yes to."""


class DeliveryTable(Table):
    """Something that came."""

    item: Annotated[str, _ITEM]
    amount: Annotated[Amount, amount("How much came.")]
    price: Annotated[Decimal | None, money(about="Paid for all of it; else unknown.")] = None
    best_before: Annotated[date | None, on_day(about="As its label has it.")] = None
    came: Annotated[date | None, on_day(about="When it came; today unless told.")] = None
    supplier: Annotated[str, text(about="Who it came from.", example="Reedmill")] = ""
    supplier_lot: Annotated[str, text(about="The lot on their label.", example="S-881")] = ""
    again: Annotated[
        bool, yes_or_no(about="Whether this supplier's lot came before and comes again.")
    ] = False
    why: Annotated[
        str, text(about="Only where it comes in past its best-before.", example="for trials")
    ] = ""


class TakingTable(Table):
    """Something that goes off the shelf."""

    item: Annotated[str, _ITEM]
    amount: Annotated[Amount, amount("How much goes.", example="500 g")]
    reason: Annotated[str, one_of(("used", "sold", "lost"), about="Why it goes.")] = "used"
    lot: Annotated[str, text(about="The first to expire unless told.", example="2026-11-27/1")] = ""
    why: Annotated[str, WHY_SHORT] = ""


class CountTable(Table):
    """What a count found."""

    lot: Annotated[str, _LOT]
    amount: Annotated[Amount, amount("What there is of it.", example="24.6 kg", least=0)]


class AsideTable(Table):
    """A lot that is put into quarantine."""

    lot: Annotated[str, text(about="A lot, or a supplier's lot.", example="2026-11-27/1")]
    why: Annotated[str, text(about="What is wrong with it.", example="smells musty")]


class ReleaseTable(Table):
    """A lot that is let out of quarantine."""

    lot: Annotated[str, _LOT]
    why: Annotated[str, text(about="What makes it good again.", example="dry and sweet inside")]
    all_made_of_it: Annotated[
        bool, yes_or_no(about="Whether all that was made of it comes out too.")
    ] = False


class LotTable(Table):
    """A lot."""

    lot: Annotated[str, _LOT]


class ReasonTable(Table):
    """Why something is taken away."""

    reason: Annotated[str, text(about="For later.", example="written down twice")]


class RecipeTextTable(Table):
    """The text of a recipe file."""

    recipe: Annotated[
        str, notes(about="The whole file, as TOML.", example='name = "Copper wafter" ...')
    ]
    reason: Annotated[str, text(about="Why it changed, for later.", example="softer skin")] = ""


class KeepTable(Table):
    """Whose version stands where two differ."""

    keep: Annotated[
        str, one_of(("mine", "theirs"), about="Whose version stands where a record differs.")
    ] = ""


class PurgeTable(Table):
    """The name of what is to be destroyed, typed out."""

    typed: Annotated[str, text(about="Its name, as it stands above.", example="2026-11-27/1")]
