"""Fields of what a label and a data sheet say: allergens and hazard phrases."""

from __future__ import annotations

import re

from baitwright.materials.acute_toxicity import ROUTES, unit_of
from baitwright.materials.powders import allergens
from baitwright.materials.tables import find
from baitwright.quantities import Kind
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.form_fields import each_of
from baitwright.workshop.typed.fields import Reads, measured

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


def flashes_at(*, about: str) -> Reads:
    """The temperature from which a liquid's vapour can catch fire, with its unit."""
    return measured(Kind.TEMPERATURE, "-60 C", "400 C", example="45 C", about=about)


_TOXIC = re.compile(r"(.+?)\s+(?:([\d.,]+)\s*(mg/kg|mg/l|ppmV)?|(not relevant))", re.IGNORECASE)
_TOXICITY = (
    f"a route and its estimate, such as oral 2737 mg/kg, or oral not relevant; {', '.join(ROUTES)}"
)


def acute_toxicity(*, about: str) -> Reads:
    """Estimates of acute toxicity, each by a route; or that it does not matter by that route."""
    return each_of(
        lambda told: toxicity_words(*read_toxicity(told)),
        _TOXICITY,
        about,
        example="oral 2737 mg/kg; vapour not relevant",
    )


def read_toxicity(told: str) -> tuple[str, float | None]:
    """A route and its estimate in that route's unit; None where it does not matter.

    Raises
    ------
    InputError: it is not such, or in another unit.
    """
    found = _TOXIC.fullmatch(told.strip())
    route = "" if found is None else found[1].casefold()
    if found is None or route not in ROUTES:
        raise InputError("toxicity", told, _TOXICITY)
    if found[4]:
        return route, None
    unit = unit_of(route)
    number = float(found[2].replace(",", "."))
    if (found[3] or unit).casefold() != unit.casefold() or not 0.0 < number <= 1e6:
        raise InputError("toxicity", told, f"{route} in {unit}, above 0")
    return route, number


def toxicity_words(route: str, estimate: float | None) -> str:
    """An estimate as it is kept."""
    return f"{route} {'not relevant' if estimate is None else f'{estimate:g} {unit_of(route)}'}"


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
