"""The parts of a food by the names that tables of composition give them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, load, one_of

PARTS = ("water", "dry matter", "protein", "fat", "carbohydrate", "fibre", "ash", "alcohol")
METHODS = (
    *("measured", "as sugar", "sum with fibre", "sum without fibre"),
    *("difference with fibre", "difference without fibre"),
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Nutrient(Row):
    """A figure of a food: the part it tells of, and how.

    Of several figures for a part the one of lowest ``rank`` is taken (judgement). ``number`` is its
    number in the tables of the United States; ``spellings`` are its tag as others write it.
    """

    tag: str
    spellings: tuple[str, ...]
    name: str
    part: str = one_of(*PARTS)
    rank: int
    method: str = one_of(*METHODS)
    number: str = ""


def nutrients() -> Mapping[str, Nutrient]:
    """Every figure that is read of a food, by id."""
    return load("nutrients", Nutrient)


def by_tag(tag: str) -> Nutrient | None:
    """The figure of a tag as a table writes it; none where it is not read."""
    plain = tag.strip().upper()
    return next((one for one in nutrients().values() if plain in (one.tag, *one.spellings)), None)


def by_number(number: str) -> Nutrient | None:
    """The figure of a US nutrient number; none where it is not read."""
    known = {one.number: one for one in nutrients().values() if one.number}
    return known.get(number.strip())
