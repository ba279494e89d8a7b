"""What the recipes of the batches that a lot came of know of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from baitwright.batch.cautions import BINDER
from baitwright.ledger.trace import Stop
from baitwright.materials.powders import Ingredient, ingredient
from baitwright.notebook.page import Page
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH, PLAN
from baitwright.workshop.batches.batch_needs import Part, Wish
from baitwright.workshop.shelf.lots import Lot
from baitwright.workshop.typed.nearest import alike


@dataclass(frozen=True, slots=True)
class Behind:
    """Batches with the recipes they were planned by, and names of items that these account for.

    An item is accounted for where it is a base mix whose parts a recipe tells, or a core, in which
    there is none of the allergens.
    """

    batches: tuple[str, ...]
    recipes: tuple[Mapping[str, Any], ...]
    accounted: frozenset[str]

    def powders(self) -> Iterator[Ingredient]:
        """What the recipes name that the ingredient table has, and what binds every bait."""
        for one in self.recipes:
            told = [part["ingredient"] for part in one["base"]["parts"]]
            told += [one[key]["ingredient"] for key in ("hardener", "coat") if one.get(key)]
            yield from filter(None, map(known_as, (*told, BINDER)))

    def accounts_for(self, item: str) -> bool:
        """Whether an item of the shelf is told of by a recipe."""
        return alike(item) in self.accounted


def behind(page: Page, lots: Mapping[str, Lot]) -> Behind:
    """The batches among lots, and their recipes as the plans keep them; none that was purged."""
    batches = tuple(name for name, lot in lots.items() if lot.stop == Stop.BATCH)
    plans = [one.body for one in page.named(PLAN, batches) if one.body is not None]
    made = [one.body for one in page.named(BATCH, batches) if one.body is not None]
    recipes = tuple(one["request"]["recipe"] for one in plans)
    bases = {one["base"]["name"] for one in recipes if one["base"]["parts"]}
    cores = _cores(wish for one in made for wish in one["wishes"])
    return Behind(batches, recipes, frozenset(map(alike, {*bases, *cores})))


def known_as(name: str) -> Ingredient | None:
    """The row of the ingredient table of a name; none where it has none."""
    try:
        return ingredient(name)
    except InputError:
        return None


def _cores(wishes: Iterable[Mapping[str, Any]]) -> Iterator[str]:
    yield from (one.name for one in map(Wish.of, wishes) if one.part is Part.CORE)
