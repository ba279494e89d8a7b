"""Powders, meals and the liquids counted with them, by composition."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from baitwright.materials.tables import Row, composition_of, find, load, one_of
from baitwright.terms.evidence import Evidence

if TYPE_CHECKING:
    from baitwright.materials.eggs import EggForm

ROLES = (
    "binder",
    "coarse",
    "soluble",
    "hardener",
    "protein",
    "oil",
    "attractor",
    "filler",
    "liquid",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ingredient(Row):
    """One thing a mix is made of, by mass fractions as it is.

    ``carbohydrate`` is without ``fibre``; the parts of a few rows do not add up to 1 as printed
    and were left so. ``fibre`` is dietary fibre, crude fibre or chitin, as its source counts it.
    Densities are in kg/m3, energy in J/kg, ``water_holding`` in kg water per kg.
    """

    name: str
    group: str
    role: str = one_of(*ROLES)
    water: float
    protein: float
    fat: float
    carbohydrate: float
    fibre: float
    ash: float
    locator: str = ""
    energy: float | None
    energy_basis: str = one_of("metabolisable", "gross", "none")
    composition_density: float
    given_density: float | None
    bulk_density: float | None
    bulk_evidence: Evidence | None
    bulk_source: str = ""
    bulk_locator: str = ""
    water_holding: float | None
    water_holding_evidence: Evidence | None
    water_holding_source: str = ""
    water_holding_locator: str = ""
    allergens: tuple[str, ...]
    gluten_cereals: tuple[str, ...]
    dust_sensitiser: bool
    pet_hazard: bool
    hazard_evidence: Evidence
    hazard_source: str

    @property
    def composition(self) -> dict[str, float]:
        """Mass fractions by the names every composition has, as printed."""
        return composition_of(self)

    @property
    def density(self) -> float:
        """Density without air between or inside the grains [kg/m3]."""
        return self.composition_density if self.given_density is None else self.given_density

    @property
    def contains(self) -> frozenset[str]:
        """Allergen groups it certainly holds."""
        return frozenset(name for name in self.allergens if not name.startswith("?"))

    @property
    def may_contain(self) -> frozenset[str]:
        """Allergen groups it may hold, depending on maker or recipe."""
        return frozenset(name[1:] for name in self.allergens if name.startswith("?"))


@dataclass(frozen=True, slots=True, kw_only=True)
class Allergen(Row):
    """One of the fourteen groups of EU law, and whether US law knows it too."""

    number: int
    name: str
    us_major: bool
    us_name: str = ""


def ingredients() -> Mapping[str, Ingredient]:
    """Every ingredient by id."""
    return load("ingredients", Ingredient)


def ingredient(name: str, field: str = "mix.ingredient") -> Ingredient:
    """An ingredient by id or name.

    Raises
    ------
    InputError: there is none; the message offers the nearest names.
    """
    return find(ingredients(), name, field)


def allergens() -> Mapping[str, Allergen]:
    """The allergen groups by id, in the order of the law."""
    return load("allergens", Allergen)


def allergens_in(parts: Iterable[Ingredient]) -> tuple[tuple[Allergen, ...], tuple[Allergen, ...]]:
    """What a batch of these contains, and what it may contain besides, in the order of the law."""
    held = list(parts)
    certain = frozenset[str]().union(*(part.contains for part in held))
    possible = frozenset[str]().union(*(part.may_contain for part in held)) - certain
    known = allergens().values()
    return (
        tuple(group for group in known if group.id in certain),
        tuple(group for group in known if group.id in possible),
    )


def gross_energy(part: Ingredient | EggForm) -> float:
    """Heat of burning all of it, from its composition; within about 3 % of feed tables.

    Returns
    -------
    The gross energy [J/kg].

    Notes
    -----
    23.6 MJ/kg protein, 39.5 fat, 17.2 carbohydrate and fibre (recalled).
    """
    return 23.6e6 * part.protein + 39.5e6 * part.fat + 17.2e6 * (part.carbohydrate + part.fibre)
