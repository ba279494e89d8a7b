"""Fields of what a label and a data sheet say: allergens and hazard phrases."""

from __future__ import annotations

import re

from baitwright.materials.powders import allergens
from baitwright.materials.tables import find
from baitwright.terms.errors import InputError
from baitwright.workshop.fields import Reads
from baitwright.workshop.form_fields import each_of

_HAZARD = r"(?:H[2-4]\d\d(?:[DFdfi]|FD|Fd|fd)?|EUH[0-4]\d\dA?|P[1-5]\d\d)"

PHRASE = re.compile(rf"{_HAZARD}(?:\+{_HAZARD})*")
"""Hazard, further hazard and precaution codes as regulation 1272/2008 numbers them (recalled);
several that are read together are joined by a plus."""

PHRASES = "codes of phrases such as H317; EUH208; P305+P351+P338"

NONE = "none"
"""Told where a label names no group of allergens."""


def hazard_codes(*, about: str) -> Reads:
    """Codes of the phrases on a safety data sheet; what they say is not repeated here."""

    def code(told: str) -> str:
        plain = told.replace(" ", "")
        if not PHRASE.fullmatch(plain):
            raise InputError("", told, PHRASES)
        return plain

    return each_of(code, PHRASES, about, example="H317; H412")


def allergen_groups(*, about: str) -> Reads:
    """Groups of allergens as the law has them, or none; where nobody said, they are unknown."""
    groups = each_of(allergen_group, _groups(), about, example="milk; fish")

    def read(value: object) -> tuple[str, ...]:
        words = value if isinstance(value, list) else str(value).split(";")
        plain = [str(word).strip().casefold() for word in words]
        if NONE in plain and len(plain) > 1:
            raise InputError("", value, f"{NONE} alone, or groups")
        return (NONE,) if plain == [NONE] else groups.read(value)

    return Reads(read, groups.accepted, about, groups.schema)


def allergen_group(told: str) -> str:
    """The id of a group of allergens, as the law has it.

    Raises
    ------
    InputError: there is no such group.
    """
    try:
        return find(allergens(), told, "").id
    except InputError:
        raise InputError("", told, _groups()) from None


def _groups() -> str:
    return f"groups of allergens, each one of {', '.join(allergens())}; or {NONE}"
