"""What a powder or a liquid has about it that calls for care: triggers of cautions."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.hazard_phrases import FLAMMABLE, triggers_of_sheet
from baitwright.materials.liquids import Carrier
from baitwright.materials.powders import Ingredient
from baitwright.materials.tables import Row, load, one_of

_NUTS = ("nuts", "peanuts")
_WET = ("liquid", "oil")


@dataclass(frozen=True, slots=True, kw_only=True)
class CareWord(Row):
    """A word in a name, a group of ingredients or an ingredient, and the trigger it raises."""

    looks_at: str = one_of("word", "group", "id")
    word: str
    trigger: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """What a liquid's safety data sheet says: phrases, and its flash point [K] if it has one."""

    hazards: tuple[str, ...] = ()
    flash_point: float | None = None


def care_words() -> Mapping[str, CareWord]:
    """Every word by id."""
    return load("care_words", CareWord)


def triggers_of_name(name: str) -> set[str]:
    """What a name alone gives away, such as garlic; whole words, in any capitals."""
    plain = f" {' '.join(re.findall(r'[a-z]+', name.lower()))} "
    return {
        one.trigger
        for one in care_words().values()
        if one.looks_at == "word" and f" {one.word} " in plain
    }


def triggers_of_powder(row: Ingredient) -> set[str]:
    """What a row of the ingredient table raises in a mix."""
    found = triggers_of_name(f"{row.id} {row.name}")
    for one in care_words().values():
        if (one.looks_at, one.word) in (("group", row.group), ("id", row.id)):
            found.add(one.trigger)
    if row.role not in _WET:
        found.add("dust")
    if row.dust_sensitiser:
        found.add("sensitiser")
    if row.pet_hazard:
        found.add("pets")
    if row.contains.intersection(_NUTS):
        found.add("nuts")
    if row.allergens:
        found.add("allergens")
    return found


def triggers_of_liquid(
    name: str, carrier: Carrier, sheet: Sheet, *, strength: str = ""
) -> set[str]:
    """What a bottle raises, by its name, its carrier and its safety data sheet.

    The sheet's flash point stands over that of the carrier; a phrase only adds.
    """
    found = (
        {"liquid"} | triggers_of_name(name) | triggers_of_sheet(sheet.hazards, sheet.flash_point)
    )
    if sheet.flash_point is None and carrier.flammable:
        found.add(FLAMMABLE)
    if carrier.id == "essential-oil":
        found.add("neat-essential-oil")
    if "acid" in strength:
        found.add("acid")
    return found
