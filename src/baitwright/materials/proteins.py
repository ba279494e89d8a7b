"""Which proteins set by heat and which bind by taking up water, by ingredient."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.powders import Ingredient
from baitwright.materials.tables import Row, load, one_of


@dataclass(frozen=True, slots=True, kw_only=True)
class ProteinKind(Row):
    """How the protein of an ingredient binds, as shares of that protein; the id is its own."""

    kind: str = one_of("egg", "whey", "casein", "milk", "gluten", "gelatine")
    setting: float
    hydrating: float


def protein_kinds() -> Mapping[str, ProteinKind]:
    """Every ingredient whose protein binds; the protein of any other is taken to do neither."""
    return load("protein_kinds", ProteinKind)


def binding(row: Ingredient) -> tuple[float, float]:
    """Protein of an ingredient that sets by heat, and that binds by taking up water, by mass."""
    kind = protein_kinds().get(row.id)
    if kind is None:
        return 0.0, 0.0
    return row.protein * kind.setting, row.protein * kind.hydrating
