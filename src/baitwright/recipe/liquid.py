"""A flavour, extract or powder of a recipe, in a module of its own that quick answers can load."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from baitwright.recipe.levels import Level


class Purpose(StrEnum):
    """What a line of a recipe is for: each has cautions of its own."""

    FLAVOUR = "flavour"
    DYE = "dye"
    SWEETENER = "sweetener"
    PRESERVATIVE = "preservative"


BY_LABEL = (Purpose.DYE, Purpose.PRESERVATIVE)
"""Dosed by their own labels: the trade has no usual range for all of them."""


@dataclass(frozen=True, slots=True)
class Liquid:
    """A flavour or extract with its level and what its maker says of it.

    ``carrier`` is a row of the carriers table, ``strength`` a type of the levels table;
    ``strength_assumed`` marks one that nobody stated. ``limit``
    is the most its own maker gives it, on any basis. ``powder`` marks what is weighed and stirred
    in dry, ``thick`` an extract that a syringe will not draw; ``drops_per_volume`` is set only for
    a bottle whose drops were counted. ``hazards`` are codes of its safety data sheet's phrases, and
    ``flash_point`` is the sheet's [K].
    """

    name: str
    level: Level
    carrier: str
    strength: str
    density: float | None = None
    limit: Level | None = None
    powder: bool = False
    thick: bool = False
    strength_assumed: bool = False
    drops_per_volume: float | None = None
    purpose: Purpose = Purpose.FLAVOUR
    hazards: tuple[str, ...] = ()
    flash_point: float | None = None

    @property
    def is_by_label(self) -> bool:
        """Whether nothing but its own label says how much is usual."""
        return self.purpose in BY_LABEL
