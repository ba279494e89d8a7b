"""What a label must say of a lot, followed back: allergens, cautions, which bait, made when."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from baitwright.ledger.trace import Stop
from baitwright.materials.cautions import ANYWHERE, raised
from baitwright.materials.hazard_phrases import triggers_of_sheet
from baitwright.materials.powders import allergens
from baitwright.notebook.page import Page
from baitwright.quantities import show
from baitwright.workshop.batches.recipes_behind import Behind, behind
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.labels.lot_allergens import (
    Allergens,
    allergens_of,
    made_of,
    shelf_ingredient,
)
from baitwright.workshop.shelf.lots import Lot

_NUTS = ("nuts", "peanuts")
_LIQUID = ("liquid", "blend")


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
    found, (on_way, _) = allergens_of(page, name), made_of(page, name)
    recipes = behind(page, on_way)
    baits = {_bait(one["bait"]) for one in recipes.recipes}
    triggers = set(_triggers(on_way[name], found, recipes))
    powders = (*map(shelf_ingredient, (one.item for one in on_way.values())), *recipes.powders())
    triggers |= {"pets"} if any(one and one.pet_hazard for one in powders) else set()
    if on_way[name].stop == Stop.INGREDIENT:  # a bottle that was blended
        triggers |= triggers_of_sheet(*_sheets(page, on_way))
    return Care(
        found,
        tuple(one.id for one in raised(triggers, ANYWHERE)),
        baits.pop() if len(baits) == 1 else "",
        on_way[recipes.batches[0]].came if len(recipes.batches) == 1 else None,
        any(one["invented"] for one in recipes.recipes),
    )


def _triggers(lot: Lot, found: Allergens, recipes: Behind) -> Iterator[str]:
    if lot.stop == Stop.MIX:
        yield "dust"
    if {allergens()[one].name for one in _NUTS}.intersection((*found.holds, *found.may_hold)):
        yield "nuts"
    is_blend = lot.stop == Stop.INGREDIENT  # no other lot that was not bought is one
    if is_blend or any(one["glug"] is not None for one in recipes.recipes):
        yield "glug"


def sheets_of(page: Page, name: str) -> str:
    """What the records of a blend, of its liquids and of their lots have of safety data sheets."""
    on_way, _ = made_of(page, name)
    codes, _ = _sheets(page, on_way)
    told = ", ".join(sorted(codes))
    return f"On the sheets of its liquids: {told}." if told else "No hazard phrases written down."


def _sheets(page: Page, on_way: Mapping[str, Lot]) -> tuple[set[str], float | None]:
    """Codes of all the sheets on the way, and the lowest flash point [K] that one of them has."""
    items = {one.item for one in on_way.values()}
    records = [page.latest(kind, as_kept(page, kind, one)) for kind in _LIQUID for one in items]
    bodies = [one.body for one in records if one and one.body]
    codes = {code.strip() for one in on_way.values() for code in one.hazards.split(";")}
    codes |= {code for body in bodies for code in body.get("hazards", ())}
    flash = [body["flash_point"] for body in bodies if body.get("flash_point") is not None]
    return codes - {""}, min(flash, default=None)


def _bait(told: Mapping[str, Any]) -> str:
    return f"{show(told['diameter'], 'mm')} {told['kind']}s"
