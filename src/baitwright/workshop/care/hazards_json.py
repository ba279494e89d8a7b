"""Cautions, allergens and bottles for programs."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from baitwright.advice.hazards import AtHand, Doing, allergens_here, cards_of, unknown_here
from baitwright.materials.hazard_phrases import codes_in, meaning
from baitwright.workshop.told.plain import plain


def hazards_json(at_hand: Sequence[AtHand], *, doings: Iterable[Doing], country: str) -> Any:
    """What things call for; temperatures in degrees Celsius."""
    found = cards_of(at_hand, doings=doings, country=country)
    return {
        "country": country or None,
        "country_note": found.country,
        "cautions": [{**plain(one.caution), "because": list(one.because)} for one in found.cards],
        "allergens": [
            {
                "number": one.group.number,
                "group": one.group.id,
                "in": list(one.holding),
                "perhaps_in": list(one.perhaps),
            }
            for one in allergens_here(at_hand)
        ],
        "not_known": list(unknown_here(at_hand)),
        "bottles": [_bottle(one) for one in at_hand if one.carrier is not None],
    }


def _bottle(one: AtHand) -> dict[str, Any]:
    flash = one.sheet.flash_point
    return {
        "name": one.name,
        "phrases": {code: meaning(code) for code in codes_in(one.sheet.hazards)},
        "flash_point_C": None if flash is None else round(flash - 273.15, 2),
        "has_sheet": one.has_sheet,
    }
