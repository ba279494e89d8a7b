"""Hazard phrases of a safety data sheet by their codes, and the cautions that each raises."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from baitwright.materials.liquids import FLAMMABLE_UP_TO
from baitwright.materials.tables import Row, load

FLAMMABLE = "flash-point-below-60C"
COMBUSTIBLE = "flash-point-60-to-93C"
OTHER = "other-hazard"
"""Raised by a phrase that is not in the table: nothing on a sheet is passed over."""
COMBUSTIBLE_UP_TO = 273.15 + 93.0  # category 4 of the UN classes, clp-1272-2008 has none
_CODE = re.compile(r"(EUH|H|P)(\d{3})")


@dataclass(frozen=True, slots=True, kw_only=True)
class HazardPhrase(Row):
    """A phrase by its code: what it means in short, and the trigger of its cautions."""

    means: str
    trigger: str


def hazard_phrases() -> Mapping[str, HazardPhrase]:
    """Every phrase known here by its code."""
    return load("hazard_phrases", HazardPhrase)


def codes_in(told: Iterable[str]) -> Iterator[str]:
    """Codes of hazards one by one, without the letters that some end in; precautions left out.

    ``H300+H310`` is two, ``H360FD`` is ``H360``.
    """
    for one in told:
        for kind, number in _CODE.findall(one):
            if kind != "P":
                yield f"{kind}{number}"


def meaning(code: str) -> str:
    """What a code means in short; that it is not known here where it is not."""
    known = hazard_phrases().get(code)
    return "not among the phrases here: read the sheet" if known is None else known.means


def triggers_of_sheet(codes: Iterable[str], flash_point: float | None = None) -> set[str]:
    """What a safety data sheet raises.

    Parameters
    ----------
    codes: its phrases, as ``H226`` or ``H300+H310``.
    flash_point: as the sheet has it [K]; None where it has none.
    """
    known = hazard_phrases()
    found = {known[one].trigger if one in known else OTHER for one in codes_in(codes)}
    if flash_point is not None and flash_point <= FLAMMABLE_UP_TO:
        found.add(FLAMMABLE)
    elif flash_point is not None and flash_point <= COMBUSTIBLE_UP_TO:
        found.add(COMBUSTIBLE)
    return found
