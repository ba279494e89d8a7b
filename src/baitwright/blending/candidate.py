"""An ingredient as this maker has it: the shelf's row under what the bag says, price and stock."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field

from baitwright.materials.powders import Ingredient, gross_energy
from baitwright.materials.tables import CONSTITUENTS
from baitwright.terms.errors import InputError

FIGURES: Mapping[str, str] = {
    "water": "%",
    "protein": "%",
    "fat": "%",
    "carbohydrate": "%",
    "fibre": "%",
    "ash": "%",
    "gross energy": "kJ/100g",
    "density": "g/ml",
    "bulk density": "g/ml",
    "water holding": "g/g",
}
"""What a row of a mix can be about, and the unit it is told in. Inside all of it is SI."""
_BURNS = ("protein", "fat", "carbohydrate", "fibre")


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """One thing a mix may be made of.

    Parameters
    ----------
    ingredient: the shelf's row with the maker's label values in place of the table's.
    price: paid for it [per kg], in the maker's own money; None where it is not known.
    stock: at hand [kg]; None where it is not counted.
    overridden: the table's value and the label's, in SI, of every figure the label changes. The
        table's is None for a figure it does not have.
    unstated: figures that neither table nor label tells. What ``ingredient`` holds for them is a
        filler and never read: missing is not zero.
    """

    ingredient: Ingredient
    price: float | None = None
    stock: float | None = None
    overridden: Mapping[str, tuple[float | None, float]] = field(default_factory=dict)
    unstated: frozenset[str] = frozenset()

    @property
    def id(self) -> str:
        """The ingredient's id."""
        return self.ingredient.id

    @property
    def name(self) -> str:
        """The ingredient's name."""
        return self.ingredient.name

    def figure(self, name: str) -> float | None:
        """One of `FIGURES` as a mass fraction or in SI, or None where nobody tells it."""
        if name in self.unstated:
            return None
        if name == "gross energy":
            known = self.unstated.isdisjoint(_BURNS)
            return gross_energy(self.ingredient) if known else None
        if name == "density":
            known = self.ingredient.given_density is not None or self.unstated.isdisjoint(
                CONSTITUENTS
            )
            return self.ingredient.density if known else None
        value: float | None = getattr(self.ingredient, name.replace(" ", "_"))
        return None if value is None or math.isnan(value) else value

    def needed(self, name: str, *, row: str) -> float:
        """The same figure where a row of the wishes cannot do without it.

        Raises
        ------
        InputError: nobody tells it; the message names the row and the ingredient.
        """
        value = self.figure(name)
        if value is None:
            accepted = f"the {name} of {self.name}, from its label or a table"
            hint = "Missing is not nothing. Or leave the ingredient out of this mix."
            raise InputError(row, None, accepted, hint=hint)
        return value
