"""How much water each class of dry matter holds, and which class a powder or carrier belongs to."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.powders import Ingredient
from baitwright.materials.tables import Row, load, one_of

BOUGHT = "bought"
"""The class of a whole bait whose mix has unknown parts."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Isotherm(Row):
    """A class of dry matter at 20 °C: its isotherm, and from which activity to which it stands.

    ``first`` to ``third`` are the constants of the model as its own paper prints them: first layer
    [kg/kg], C and K of ``gab``; A, B and C of ``chung-pfost``; K, N and C of ``henderson``. A
    ``solute`` is dissolved, and ``none`` holds no water. ``fat`` is the share of fat in the dry
    matter that was measured; None where fat counts with the rest. Belonging to the class:
    ``groups`` of ingredients, ``ingredients`` that differ from their group, ``carriers``.
    """

    label: str
    model: str = one_of("gab", "chung-pfost", "henderson", "solute", "none")
    first: float = 0.0
    second: float = 0.0
    third: float = 0.0
    fat: float | None
    low: float
    high: float
    groups: tuple[str, ...]
    ingredients: tuple[str, ...]
    carriers: tuple[str, ...]


def isotherms() -> Mapping[str, Isotherm]:
    """Every class of dry matter by id."""
    return load("isotherms", Isotherm)


def isotherm_of(part: Ingredient) -> Isotherm:
    """The class an ingredient belongs to: its own, or else its group's.

    Raises
    ------
    IndexError: the table has no class for it, which is a slip of ours.
    """
    rows = isotherms().values()
    own = [row for row in rows if part.id in row.ingredients]
    return (own or [row for row in rows if part.group in row.groups])[0]


def isotherm_of_carrier(carrier: str) -> Isotherm:
    """The class a liquid belongs to by the id of its carrier.

    Raises
    ------
    StopIteration: the table has no class for it, which is a slip of ours.
    """
    return next(row for row in isotherms().values() if carrier in row.carriers)
