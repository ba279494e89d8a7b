"""The price list in words, for programs, and as a table; and shares as they are typed."""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal, InvalidOperation
from pathlib import Path

from baitwright.ledger.movements import Counted
from baitwright.terms.errors import InputError
from baitwright.workshop.costs.price_line import PriceLine
from baitwright.workshop.told.csv_file import Cell, write_csv
from baitwright.workshop.told.worth_words import as_json, how_known, in_percent, percent

PER = {Counted.PIECES: "each", Counted.MILLIGRAMS: "a kg", Counted.MICROLITRES: "a litre"}
_COLUMNS = (
    *("item", "price_is_for", "asked", "vat_percent", "cost", "margin", "margin_percent"),
    *("margin_wanted_percent", "price_for_that", "below_cost", "cost_known", "lots_without_price"),
)


def read_share(text: str, field: str) -> Decimal:
    """A share as typed, in per cent.

    Raises
    ------
    InputError: it is none, or not from 0 to less than 100 %.
    """
    accepted = "per cent such as 20%, from 0 to less than 100"
    bare = text.strip()
    try:
        value = Decimal(bare.removesuffix("%").strip().replace(",", ".")) / 100
    except InvalidOperation:
        raise InputError(field, text, accepted) from None
    if not bare.endswith("%") or not value.is_finite() or not 0 <= value < 1:
        raise InputError(field, text, accepted)
    return value


def price_text(lines: Iterable[PriceLine]) -> str:
    """Each item with its cost, its price, what is left and what would leave enough."""
    told = [_told(one) for one in lines]
    return "\n".join(told) or "No price yet: baitwright price ITEM --ask 6.50"


def price_json(lines: Iterable[PriceLine]) -> str:
    """The same for programs; money as text, so that no digit is lost."""
    return as_json({"prices": [_row(one) for one in lines]})


def price_table(path: Path, lines: Iterable[PriceLine]) -> Path:
    """The price list as a CSV file.

    Raises
    ------
    InputError: it cannot be written.
    """
    return write_csv(path, _COLUMNS, [tuple(_row(one).values()) for one in lines])


def _row(one: PriceLine) -> dict[str, Cell]:
    told = (
        *(one.item, PER[one.counted], one.asked, in_percent(one.vat), one.cost),
        *(one.left, in_percent(one.left_share), in_percent(one.wanted), one.price_wanted),
        "yes" if one.is_below_cost else "no",
        how_known(one.cost, whole=not one.at_least and one.cost is not None),
        one.unpriced,
    )
    return dict(zip(_COLUMNS, told, strict=True))


def _told(one: PriceLine) -> str:
    per = PER[one.counted]
    cost = _cost(one)
    if one.offer is None:
        return f"{one.item}: {cost} {per}, no price yet"
    vat = "" if one.offer.vat is None else f" with {percent(one.offer.vat)} VAT in it"
    words = [f"{one.item}: {one.offer.asked:.2f} {per}{vat}", cost]
    if one.left is not None:
        most = " at most" if one.at_least else ""
        words.append(f"leaves {one.left:.2f}{most}, {percent(one.left_share)}{most}")
    if one.price_wanted is not None:
        most = " at most" if one.at_least else ""
        words.append(f"{one.price_wanted:.2f} would leave {percent(one.offer.wanted)}{most}")
    return ("! below cost  " if one.is_below_cost else "") + ", ".join(words)


def _cost(one: PriceLine) -> str:
    """What one costs, with how many lots nobody knows that of."""
    lots = f"{one.unpriced} lot{'s' if one.unpriced > 1 else ''} without a"
    if one.cost is None:
        return (
            f"cost unknown, {lots} price" if one.unpriced else "no cost, for none is on the shelf"
        )
    if one.at_least:
        return f"costs {one.cost:.4f} at least ({lots} full price)"
    left_out = f" ({lots} full price left out)" if one.unpriced else ""
    return f"costs {one.cost:.4f}{left_out}"
