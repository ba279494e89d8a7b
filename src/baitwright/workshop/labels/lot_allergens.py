"""Which allergens a lot holds: those of all that went into it, as labels and the tables know it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from baitwright.ledger.trace import Place, Stop
from baitwright.materials.powders import Ingredient, allergens, allergens_in
from baitwright.notebook.page import Page
from baitwright.workshop.batches.recipes_behind import behind, known_as
from baitwright.workshop.costs.costs import PACKING
from baitwright.workshop.forms.label_fields import NONE
from baitwright.workshop.shelf.lots import Lot, lot_of, place_of
from baitwright.workshop.typed.nearest import plain_name

_EGGS = {"eggs": "whole-egg", "liquid egg": "whole-egg"}
"""What batches call eggs on the shelf, by the ingredient that they are."""


@dataclass(frozen=True, slots=True)
class Allergens:
    """Groups that something holds and may hold, and items of which nothing is known."""

    holds: tuple[str, ...]
    may_hold: tuple[str, ...]
    unknown: tuple[str, ...]

    @property
    def is_free(self) -> bool:
        """Whether none of the groups is in it, as far as its labels and the tables tell."""
        return not (self.holds or self.may_hold or self.unknown)


def allergens_of(page: Page, lot: str) -> Allergens:
    """What a lot holds, followed back to all that went into it.

    An item is known where the ingredient table has one of its name, and a base mix where the recipe
    of its batch tells the parts. What labels name is held too: those of the lots on the way, and
    those in records of their items. Cores, hooks that have a record, and bags and labels of a
    packing run do not count.
    """
    on_way, first = made_of(page, lot)
    labels = _labels(page, {one.item for one in on_way.values()})
    told = {
        name: {*_words(one.allergens), *labels.get(plain_name(one.item), ())}  # none is told too
        for name, one in on_way.items()
    }
    found = {name: shelf_ingredient(on_way[name].item) for name in first}
    recipes = behind(page, on_way)
    known = (one for one in found.values() if one is not None)
    certain, possible = allergens_in((*known, *recipes.powders()))
    holds = {one.id for one in certain}.union(*told.values()) - {NONE}
    untold = (on_way[name].item for name, one in found.items() if one is None and not told[name])
    hooks = {plain_name(one.name) for one in page.all("hook")}
    unknown = {
        item for item in untold if not recipes.accounts_for(item) and plain_name(item) not in hooks
    }
    return Allergens(
        tuple(_named(holds)),
        tuple(_named({one.id for one in possible} - holds)),
        tuple(sorted(unknown)),
    )


def shelf_ingredient(item: str) -> Ingredient | None:
    """The row of the ingredient table that an item of the shelf is; none where it has none."""
    return known_as(_EGGS.get(plain_name(item), item))


def made_of(page: Page, lot: str) -> tuple[dict[str, Lot], set[str]]:
    """All lots that went into a lot and itself, and those of them into which nothing went."""
    start, into = place_of(lot, lot_of(page, lot)), dict[Place, list[Place]]()
    for link in page.links_back(start):
        if link.source.stop is not Stop.SUPPLIED:
            into.setdefault(link.into, []).append(link.source)
    waiting, seen, first = [start], {start}, set()
    while waiting:
        here = waiting.pop()
        before = _without_bags(page, here, into.get(here, []))
        if not before:
            first.add(here.name)
        waiting += [one for one in before if one not in seen]
        seen.update(before)
    return {one.name: lot_of(page, one.name) for one in seen}, first


def _labels(page: Page, items: Iterable[str]) -> dict[str, list[str]]:
    """The groups that records of some items name, by the plain name of each."""
    wanted, found = {plain_name(item) for item in items}, dict[str, list[str]]()
    for one in (*page.all("ingredient"), *page.all("liquid")):
        if one.body is not None and plain_name(one.name) in wanted:
            found.setdefault(plain_name(one.name), []).extend(one.body.get("allergens", ()))
    return found


def _words(told: str) -> list[str]:
    return [one.strip() for one in told.split(";") if one.strip()]


def _named(groups: set[str]) -> Iterator[str]:
    """Groups by name in the order of the law; a word from elsewhere that is none stays told."""
    yield from (one.name for one in allergens().values() if one.id in groups)
    yield from sorted(groups - set(allergens()))


def _without_bags(page: Page, here: Place, before: list[Place]) -> list[Place]:
    """What came before a place; of a packing run the baits alone."""
    run = page.latest(PACKING, here.name) if here.stop is Stop.BAG else None
    if run is None or run.body is None:
        return before
    return [one for one in before if one.name == run.body["from"]]
