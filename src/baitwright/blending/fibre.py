"""Which fibre a table means: dietary, crude, or chitin. They are never compared in silence."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum

from baitwright.materials.powders import Ingredient


class Fibre(StrEnum):
    """What a figure of fibre counts."""

    DIETARY = "dietary fibre"
    CRUDE = "crude fibre"
    CHITIN = "chitin"
    UNKNOWN = "fibre of unknown kind"


_DIETARY = ("usda-sr28", "ifct-2017")
_CRUDE = ("inrae-cirad-afz", "copra-page", "adpi-wpc")
_CHITIN = ("krill-meal", "shrimp-meal", "shrimp-powder")


def fibre_of(row: Ingredient) -> Fibre | None:
    """What the fibre of an ingredient is; nothing where it has none."""
    if not row.fibre > 0.0:
        return None
    if row.id in _CHITIN:
        return Fibre.CHITIN
    if row.source in _DIETARY:
        return Fibre.DIETARY
    return Fibre.CRUDE if row.source in _CRUDE else Fibre.UNKNOWN


def fibres_in(rows: Iterable[Ingredient]) -> tuple[Fibre, ...]:
    """Every kind of fibre that some ingredients bring, once each."""
    return tuple(dict.fromkeys(kind for row in rows if (kind := fibre_of(row)) is not None))
