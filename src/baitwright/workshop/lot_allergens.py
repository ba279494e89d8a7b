"""Which allergens a lot holds: those of all that went into it, as far as the tables know it."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.ledger.trace import Place, Stop
from baitwright.materials.powders import Ingredient, allergens_in, ingredient
from baitwright.notebook.page import Page
from baitwright.terms.errors import InputError
from baitwright.workshop.costs import PACKING
from baitwright.workshop.lots import lot_of, place_of
from baitwright.workshop.nearest import plain_name

_EGGS = {"eggs": "whole-egg", "liquid egg": "whole-egg"}
"""What batches call eggs on the shelf, by the ingredient that they are."""


@dataclass(frozen=True, slots=True)
class Allergens:
    """Groups that something holds and may hold, and items of which nothing is known."""

    holds: tuple[str, ...]
    may_hold: tuple[str, ...]
    unknown: tuple[str, ...]


def allergens_of(page: Page, lot: str) -> Allergens:
    """What a lot holds, followed back to all that went into it.

    An item is known where the ingredient table has one of its name. Bags and labels of a packing
    run do not count.
    """
    found = {item: _known(item) for item in _items(page, lot)}
    certain, possible = allergens_in(one for one in found.values() if one is not None)
    return Allergens(
        tuple(one.name for one in certain),
        tuple(one.name for one in possible),
        tuple(item for item, one in found.items() if one is None),
    )


def _known(item: str) -> Ingredient | None:
    try:
        return ingredient(_EGGS.get(plain_name(item), item))
    except InputError:
        return None


def _items(page: Page, lot: str) -> list[str]:
    """The items with which all that is in a lot began; its own if nothing came before."""
    start, into = place_of(lot, lot_of(page, lot)), dict[Place, list[Place]]()
    for link in page.links_back(start):
        if link.source.stop is not Stop.SUPPLIED:
            into.setdefault(link.into, []).append(link.source)
    waiting, seen, items = [start], {start}, set()
    while waiting:
        here = waiting.pop()
        before = _without_bags(page, here, into.get(here, []))
        if not before:
            items.add(lot_of(page, here.name).item)
        waiting += [one for one in before if one not in seen]
        seen.update(before)
    return sorted(items)


def _without_bags(page: Page, here: Place, before: list[Place]) -> list[Place]:
    """What came before a place; of a packing run the baits alone."""
    run = page.latest(PACKING, here.name) if here.stop is Stop.BAG else None
    if run is None or run.body is None:
        return before
    return [one for one in before if one.name == run.body["from"]]
