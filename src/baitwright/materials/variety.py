"""How far one lot of a powder is from what a table or a bag says of it."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.materials.powders import Ingredient
from baitwright.materials.tables import Row, load, one_of
from baitwright.terms.evidence import Evidence

ANY = "any"


@dataclass(frozen=True, slots=True, kw_only=True)
class CompositionSpread(Row):
    """Standard deviation of a figure: a share of it, and so much at least [mass fractions]."""

    applies_to: str = one_of("evidence", "ingredient")
    key: str
    figure: str
    relative: float
    least: float

    def sd_of(self, value: float) -> float:
        """For a figure of a size; half of it at most, so that no lot holds less than nothing."""
        return min(max(self.relative * value, self.least), 0.5 * value)


def spread_rows() -> dict[str, CompositionSpread]:
    """Every row by id."""
    return load("composition_spread", CompositionSpread)


def spread_of(row: Ingredient, figure: str, *, from_label: bool) -> CompositionSpread:
    """How a figure of an ingredient spreads from lot to lot.

    Parameters
    ----------
    row: the ingredient.
    figure: one of its constituents.
    from_label: whether the maker told it from a bag; then it spreads as labels do.
    """
    rows = spread_rows().values()
    own = [one for one in rows if one.key == row.id and one.figure == figure]
    if own and not from_label:
        return own[0]
    evidence = Evidence.MEASURED if from_label else row.evidence
    return next(one for one in rows if one.key == evidence.value and one.figure == ANY)
