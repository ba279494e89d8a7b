"""What a label must say of a lot, followed back: allergens, cautions, which bait, made when."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from baitwright.ledger.trace import Stop
from baitwright.materials.cautions import ANYWHERE, raised
from baitwright.materials.powders import allergens
from baitwright.notebook.page import Page
from baitwright.quantities import show
from baitwright.workshop.batches import PLAN
from baitwright.workshop.lot_allergens import Allergens, allergens_of, known_as, made_of
from baitwright.workshop.lots import Lot

_NUTS = ("nuts", "peanuts")


@dataclass(frozen=True, slots=True)
class Care:
    """Allergens and ids of cautions of a lot; of baits out of one batch, which bait and its day."""

    allergens: Allergens
    cautions: tuple[str, ...]
    bait: str
    made: str | None
    invented: bool


def care_of(page: Page, name: str) -> Care:
    """What went into a lot, as far as a label tells it.

    Raises
    ------
    InputError: there is no such lot.
    """
    found = allergens_of(page, name)
    on_way, _ = made_of(page, name)
    batches = [one for one, lot in on_way.items() if lot.stop == Stop.BATCH]
    recipes = list(_recipes(page, batches))
    triggers = set(_triggers(on_way.values(), found, recipes))
    triggers |= {"dust"} if on_way[name].stop == Stop.MIX else set()
    baits = {_bait(one["bait"]) for one in recipes}
    return Care(
        found,
        tuple(one.id for one in raised(triggers, ANYWHERE)),
        baits.pop() if len(baits) == 1 else "",
        on_way[batches[0]].came if len(batches) == 1 else None,
        any(one["invented"] for one in recipes),
    )


def _recipes(page: Page, batches: Iterable[str]) -> Iterator[Mapping[str, Any]]:
    """The recipes that batches were planned by, as their plans keep them."""
    for one in page.named(PLAN, batches):
        if one.body is not None:
            yield one.body["request"]["recipe"]


def _triggers(
    lots: Iterable[Lot], found: Allergens, recipes: Iterable[Mapping[str, Any]]
) -> Iterator[str]:
    if any(row is not None and row.pet_hazard for row in (known_as(one.item) for one in lots)):
        yield "pets"
    if {allergens()[one].name for one in _NUTS}.intersection(found.holds, found.may_hold):
        yield "nuts"
    if any(one["glug"] is not None for one in recipes):
        yield "glug"


def _bait(told: Mapping[str, Any]) -> str:
    return f"{show(told['diameter'], 'mm')} {told['kind']}s"
