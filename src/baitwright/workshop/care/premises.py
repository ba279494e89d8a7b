"""All that stands here, as cautions and allergens look at it: the whole shelf, or a recipe."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from baitwright.advice.hazards import AtHand
from baitwright.batch.cautions import BINDER
from baitwright.ledger.movements import Counted
from baitwright.ledger.trace import Stop
from baitwright.materials.care import Sheet
from baitwright.materials.fillers import filler
from baitwright.materials.liquids import Carrier, carrier
from baitwright.materials.powders import allergens
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.recipe.liquid import Purpose
from baitwright.recipe.model import Recipe
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.recipes_behind import known_as
from baitwright.workshop.forms.label_fields import NONE
from baitwright.workshop.labels.lot_allergens import allergens_of, shelf_ingredient
from baitwright.workshop.shelf.lots import Lot, lots_named
from baitwright.workshop.shelf.stock import ITEM
from baitwright.workshop.typed.nearest import plain_name

_KINDS = ("ingredient", "liquid", "blend")
_BOUGHT = Stop.INGREDIENT.value
_UNKNOWN = "unknown"
_MADE_OF_EGG = frozenset(("eggs", "liquid egg"))


@dataclass(frozen=True, slots=True)
class Premises:
    """What stands here, and names of what is counted by pieces and holds nothing to look at."""

    at_hand: tuple[AtHand, ...]
    left_aside: tuple[str, ...]
    sheets: Mapping[str, str]


def premises(book: Notebook) -> Premises:
    """Every item of which something stands on the shelf."""
    with book.reading() as page:
        return _premises(page)


def of_recipe(recipe: Recipe) -> tuple[AtHand, ...]:
    """All that goes into a recipe, its binder among it."""
    names = [part.ingredient for part in recipe.base.parts]
    names += [] if recipe.hardener is None else [recipe.hardener.ingredient]
    found = [AtHand(name, known_as(name), is_known=known_as(name) is not None) for name in names]
    if not recipe.base.parts:
        found.append(AtHand(recipe.base.name, is_known=False))
    if recipe.coat is not None:
        row = known_as(recipe.coat.ingredient)
        found.append(AtHand(recipe.coat.ingredient, row, besides=frozenset(("coat",))))
    for one in recipe.bait.fillers:
        glass = ("glass-dust",) if filler(one.material).airborne_glass else ()
        found.append(AtHand(one.material, besides=frozenset(glass)))
    found.append(AtHand("eggs", known_as(BINDER), besides=frozenset(("raw-egg",))))
    return (*found, *_bottles(recipe))


def _bottles(recipe: Recipe) -> Iterator[AtHand]:
    for one in recipe.liquids:
        purpose = () if one.purpose is Purpose.FLAVOUR else (one.purpose.value,)
        yield AtHand(
            one.name,
            carrier=carrier(one.carrier),
            sheet=Sheet(one.hazards, one.flash_point),
            strength=one.strength,
            besides=frozenset(purpose),
        )
    if recipe.glug is not None:
        glug = recipe.glug
        yield AtHand(
            glug.name,
            carrier=carrier(glug.carrier),
            sheet=Sheet(glug.hazards, glug.flash_point),
            strength=glug.strength,
            besides=frozenset(("glug",)),
        )


def _premises(page: Page) -> Premises:
    lots: dict[str, list[tuple[str, Lot]]] = {}
    for name, lot in lots_named(page, {lot for _, lot, units in page.stock() if units > 0}):
        lots.setdefault(lot.item, []).append((name, lot))
    counted = {one.name: Counted((one.body or {})["counted"]) for one in page.all(ITEM)}
    records = {
        plain_name(one.name): one.body for kind in _KINDS for one in page.all(kind) if one.body
    }
    liquids = {plain_name(one.name) for kind in _KINDS[1:] for one in page.all(kind) if one.body}
    here, aside, sheets = [], [], {}
    for item in sorted(lots, key=str.casefold):
        record = records.get(plain_name(item), {})
        is_liquid = plain_name(item) in liquids or counted[item] is Counted.MICROLITRES
        one = _item(page, item, lots[item], record=record, is_liquid=is_liquid)
        made = any(lot.stop != _BOUGHT for _, lot in lots[item])
        pieces = counted[item] is Counted.PIECES
        if pieces and not made and one.powder is None and not one.named:
            aside.append(item)
            continue
        here.append(one)
        if is_liquid and record.get("data_sheet"):
            sheets[item] = str(record["data_sheet"])
    return Premises(tuple(here), tuple(aside), sheets)


def _item(
    page: Page,
    item: str,
    lots: list[tuple[str, Lot]],
    *,
    record: Mapping[str, Any],
    is_liquid: bool,
) -> AtHand:
    named = {*record.get("allergens", ())}
    for _, lot in lots:
        named |= {one.strip() for one in lot.allergens.split(";") if one.strip()}
    made = [allergens_of(page, name) for name, lot in lots if lot.stop != _BOUGHT]
    by_name = {one.name: one.id for one in allergens().values()}
    named |= {by_name[one] for found in made for one in found.holds if one in by_name}
    row = None if made else shelf_ingredient(item)
    dark = any(found.unknown for found in made)
    hazards = [*record.get("hazards", ())]
    hazards += [code.strip() for _, lot in lots for code in lot.hazards.split(";") if code.strip()]
    return AtHand(
        item,
        row,
        carrier=_carrier(record) if is_liquid else None,
        sheet=Sheet(tuple(dict.fromkeys(hazards)), record.get("flash_point")),
        has_sheet=bool(record.get("data_sheet")),
        named=tuple(sorted(named - {NONE})),
        is_known=(bool(made) and not dark) or row is not None or bool(named),
        besides=frozenset(("raw-egg",) if plain_name(item) in _MADE_OF_EGG else ()),
    )


def _carrier(record: Mapping[str, Any]) -> Carrier:
    """The carrier that a record names; an unknown one where it names none of the table."""
    try:
        return carrier(str(record.get("carrier") or _UNKNOWN))
    except InputError:
        return carrier(_UNKNOWN)
