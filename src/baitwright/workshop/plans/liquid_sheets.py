"""What the notebook's records say of the liquids of a recipe: phrases, and flash point."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import TypeVar

from baitwright.batch.batch_plan import PlanRequest
from baitwright.materials.care import Sheet
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.notebook.where import Where
from baitwright.recipe.finish import Glug
from baitwright.recipe.liquid import Liquid
from baitwright.recipe.model import Recipe
from baitwright.workshop.opening.notebook_care import Clock, Use, is_there, open_at
from baitwright.workshop.typed.nearest import plain_name

KINDS = ("liquid", "blend")
_Bottle = TypeVar("_Bottle", Liquid, Glug)
Sheets = Mapping[str, Sheet]


def sheets_on(page: Page) -> dict[str, Sheet]:
    """The sheets of every liquid and blend that is written down, by plain name."""
    found: dict[str, Sheet] = {}
    for kind in KINDS:
        for one in page.all(kind):
            body = one.body or {}
            found[plain_name(one.name)] = Sheet(
                tuple(body.get("hazards", ())), body.get("flash_point")
            )
    return found


def sheets_of(book: Notebook) -> dict[str, Sheet]:
    """The same of a notebook."""
    with book.reading() as page:
        return sheets_on(page)


def sheets_at(place: Where, *, clock: Clock) -> dict[str, Sheet]:
    """The same of a notebook that need not be there yet."""
    if not is_there(place):
        return {}
    with open_at(place, Use.LOOK, clock=clock) as book:
        return sheets_of(book)


def by_sheets(sheets: Sheets) -> Callable[[PlanRequest], PlanRequest]:
    """What adds to a request what its recipe does not say of its liquids."""
    return lambda request: replace(request, recipe=with_sheets(request.recipe, sheets))


def with_sheets(recipe: Recipe, sheets: Sheets) -> Recipe:
    """A recipe whose liquids have the sheets of their records; its own words win."""
    glug = recipe.glug
    return replace(
        recipe,
        liquids=tuple(_with(one, sheets) for one in recipe.liquids),
        glug=None if glug is None else _with(glug, sheets),
    )


def _with(bottle: _Bottle, sheets: Sheets) -> _Bottle:
    sheet = sheets.get(plain_name(bottle.name))
    if sheet is None:
        return bottle
    return replace(
        bottle,
        hazards=bottle.hazards or sheet.hazards,
        flash_point=sheet.flash_point if bottle.flash_point is None else bottle.flash_point,
    )
