"""Headings of deliveries: our own, the words that others use for them, and the units in them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from enum import StrEnum

from baitwright.quantities import Kind, kind_of
from baitwright.workshop.typed.nearest import is_slip, plain_name


class Ours(StrEnum):
    """What a table of deliveries may tell of each."""

    ITEM = "item"
    AMOUNT = "amount"
    UNIT = "unit"
    PRICE = "price"
    BEST_BEFORE = "best before"
    SUPPLIER = "supplier"
    SUPPLIER_LOT = "supplier lot"
    CAME = "came"
    ALLERGENS = "allergens"
    HAZARDS = "hazards"


_WORDS: Mapping[Ours, tuple[str, ...]] = {
    Ours.ITEM: ("item", "ingredient", "material", "product", "article", "goods", "item name"),
    Ours.AMOUNT: ("amount", "quantity", "qty", "weight", "net weight", "volume", "amount received"),
    Ours.UNIT: ("unit", "units", "unit of measure", "uom"),
    Ours.PRICE: ("price", "cost", "paid", "price paid", "total price", "total cost", "line total"),
    Ours.BEST_BEFORE: (
        *("best before", "best before date", "best by", "bbe", "bbd", "best before end"),
        *("expiry", "expiry date", "expires", "use by", "use by date", "exp date"),
    ),
    Ours.SUPPLIER: ("supplier", "supplier name", "vendor", "seller", "bought from"),
    Ours.SUPPLIER_LOT: (
        *("supplier lot", "suppliers lot", "lot", "lot no", "lot number", "lot code"),
        *("batch", "batch no", "batch number", "batch code", "supplier batch"),
    ),
    Ours.CAME: ("came", "received", "date received", "delivered", "delivery date", "arrived"),
    Ours.ALLERGENS: ("allergens", "allergen", "contains"),
    Ours.HAZARDS: ("hazards", "hazard phrases", "hazard statements", "h phrases", "h statements"),
}
PIECES = frozenset({"pieces", "piece", "pcs", "pc", "each"})
"""Words for amounts that are counted."""
_BRACKETED = re.compile(r"^(?P<words>.*?)\s*[(\[](?P<unit>[^()\[\]]*)[)\]]\s*$")
_PARTED = re.compile(r"^(?P<words>.*?)(?:,|\bin\b|\s)\s*(?P<unit>\S+)$", re.IGNORECASE)


def find_column(ours: Ours, headings: tuple[str, ...]) -> tuple[list[int], str]:
    """Places of the headings that may be one of ours, and how they were found."""
    known = _WORDS[ours]
    plain = {place: _name_for(ours, heading) for place, heading in enumerate(headings)}
    if ours is Ours.PRICE:
        plain = {at: name for at, name in plain.items() if not _is_rate(headings[at])}
    joined = {word.replace(" ", "") for word in known}
    exact = [at for at, name in plain.items() if name.replace(" ", "") in joined]
    own = [at for at in exact if plain[at] == ours]  # our very word goes before others for it
    if exact:
        return own or exact, "by name"
    meant = {word for words in _WORDS.values() for word in words} - set(known)
    free = {at: name for at, name in plain.items() if name not in meant}
    near = [at for at, name in free.items() if any(is_slip(name, word) for word in known)]
    return near, "spelled otherwise"


def unit_of(heading: str) -> tuple[str, str]:
    """An amount's heading as plain words and the unit behind them; none where it names none."""
    spaced = heading.replace("_", " ")
    for pattern in (_BRACKETED, _PARTED):
        found = pattern.match(spaced)
        if found and _is_unit(found["unit"]):
            return _plain(found["words"]), found["unit"].strip()
    return _without_brackets(spaced), ""


def _name_for(ours: Ours, heading: str) -> str:
    return unit_of(heading)[0] if ours is Ours.AMOUNT else _without_brackets(heading)


def _without_brackets(heading: str) -> str:
    found = _BRACKETED.match(heading)
    return _plain(found["words"] if found else heading)


def _is_unit(text: str) -> bool:
    return kind_of(text.strip()) in {Kind.MASS, Kind.VOLUME} or text.strip().lower() in PIECES


def _is_rate(heading: str) -> bool:
    """Whether it is so much for each of something, which is no price of all."""
    return bool(re.search(r"\bper\b|/|\beach\b|\bunit (?:price|cost)\b", heading, re.IGNORECASE))


def _plain(words: str) -> str:
    return plain_name(re.sub(r"[^\w\s-]", " ", words))
