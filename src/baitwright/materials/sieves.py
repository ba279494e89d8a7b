"""Sieves, and what they hold back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.powders import Ingredient
from baitwright.materials.tables import Row, find, load, one_of


@dataclass(frozen=True, slots=True, kw_only=True)
class Sieve(Row):
    """A sieve by its openings [m]; a kitchen sieve has no standard wire or tolerance."""

    name: str
    opening: float
    wire: float | None
    mean_tolerance: float | None
    largest_excess: float | None
    low: float
    high: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Retention(Row):
    """Share by mass that a sieve of about 1 mm holds back, with its band."""

    applies_to: str = one_of("role", "ingredient")
    fraction: float
    low: float
    high: float


def sieves() -> Mapping[str, Sieve]:
    """Every sieve by id."""
    return load("sieves", Sieve)


def sieve(name: str, field: str = "bench.sieve") -> Sieve:
    """A sieve by id, name or opening such as ``"1.12 mm"``.

    Raises
    ------
    InputError: there is none; the message offers the nearest names.
    """
    size = name.strip().lower().removesuffix("mm").strip()
    for each in sieves().values():
        if each.id != "kitchen" and size == f"{each.opening * 1e3:g}":
            return each
    return find(sieves(), name, field)


def retention(part: Ingredient | None) -> Retention:
    """What a sieve of about 1 mm holds of an ingredient, or of a base nobody has analysed."""
    table = load("sieve_retention", Retention)
    if part is None:
        return table["unknown"]
    return table.get(part.id) or table[part.role]
