"""What a plan, a bag or a night takes to a water, as its rules look at it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from baitwright.advice.venue_rules import Session
from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.counterweight import holds_lead
from baitwright.ledger.trace import Stop
from baitwright.materials.care import triggers_of_powder
from baitwright.materials.powders import Ingredient, ingredient
from baitwright.notebook.page import Page
from baitwright.recipe.model import BaitKind, Recipe
from baitwright.uncertainty.bands import band_of
from baitwright.workshop.lot_allergens import allergens_of, made_of, shelf_ingredient
from baitwright.workshop.plan_json import recipe_from_json
from baitwright.workshop.recipes_behind import behind

_NUTS = frozenset(("nuts", "peanuts"))
_FLOATS = (BaitKind.POP_UP,)


def session_of_plan(made: BatchPlan) -> Session:
    """What a plan is to be taken there with: its bait, its free bait, its box of shot, its day."""
    recipe, bench = made.request.recipe, made.request.bench
    session = _of_recipes((recipe,), recipe.name)
    free = None
    if made.free_bait is not None:
        band = band_of(made.free_bait.paste)
        free = (band.low80, band.median, band.high80)
    untold = () if made.mix.base.ingredients else (recipe.base.name,)
    leaving = bench.leaving
    return replace(
        session,
        untold=untold,
        free_bait=free,
        lead=None if bench.rig is None else holds_lead(bench.rig.stock),
        day=None if leaving is None else leaving.date(),
    )


def session_of_bags(page: Page, names: Iterable[str]) -> Session:
    """What bags or batches hold, followed back to all that went into them.

    Raises
    ------
    InputError: no such lot.
    """
    names = tuple(dict.fromkeys(names))
    parts = [_of_lot(page, name) for name in names]
    held = [one.holds for one in parts if one.holds is not None]
    return Session(
        what=", ".join(names),
        nuts=_joined(one.nuts or () for one in parts),
        perhaps_nuts=_joined(one.perhaps_nuts for one in parts),
        particles=_joined(one.particles or () for one in parts),
        holds=_joined(held),
        untold=_joined(one.untold for one in parts),
        floats=any(one.floats for one in parts) if parts else None,
    )


def session_of_night(page: Page, body: Mapping[str, Any]) -> Session:
    """What a night's record tells: its bags, its rods, and its day."""
    rods = body.get("rod") or ()
    bags = [str(one["bag"]) for one in rods if one.get("bag")]
    session = session_of_bags(page, bags) if bags else Session(what="")
    day = date.fromisoformat(body["day"]) if body.get("day") else None
    return replace(session, what="this night", rods=len(rods) or None, night=True, day=day)


def _of_lot(page: Page, name: str) -> Session:
    found, (on_way, _) = allergens_of(page, name), made_of(page, name)
    told = behind(page, on_way)
    recipes = tuple(recipe_from_json(one) for one in told.recipes)
    session = _of_recipes(recipes, name)
    here = tuple(one.item for one in on_way.values() if one.stop != Stop.BATCH)
    powders = [row for row in map(shelf_ingredient, here) if row is not None]
    nuts = _named(powders, "contains")
    labels = tuple(one for one in found.holds if one in _NUTS and not nuts)
    return replace(
        session,
        nuts=_joined((session.nuts or (), nuts, labels)),
        perhaps_nuts=_joined((session.perhaps_nuts, _named(powders, "may_contain"))),
        particles=_joined((session.particles or (), _particles(powders))),
        holds=_joined((session.holds or (), here)),
        untold=found.unknown,
    )


def _of_recipes(recipes: tuple[Recipe, ...], what: str) -> Session:
    powders = [row for one in recipes for row in _powders(one)]
    return Session(
        what=what,
        nuts=_named(powders, "contains"),
        perhaps_nuts=_named(powders, "may_contain"),
        particles=_particles(powders),
        holds=_joined(tuple(_words(one)) for one in recipes),
        floats=any(one.bait.kind in _FLOATS for one in recipes) if recipes else None,
    )


def _powders(recipe: Recipe) -> Iterator[Ingredient]:
    names = [part.ingredient for part in recipe.base.parts]
    names += [] if recipe.hardener is None else [recipe.hardener.ingredient]
    names += [] if recipe.coat is None else [recipe.coat.ingredient]
    yield from map(ingredient, names)


def _words(recipe: Recipe) -> Iterator[str]:
    """Everything by which a rule may name the bait or what is in it."""
    yield f"{recipe.bait.kind.value} hookbait"
    for row in _powders(recipe):
        yield f"{row.name} ({row.group})"
    for liquid in recipe.liquids:
        yield f"{liquid.name} ({liquid.purpose.value})"
    if recipe.glug is not None:
        yield f"{recipe.glug.name} (glug)"
    if recipe.coat is not None:
        yield f"{recipe.coat.ingredient} (powder coat)"


def _named(powders: Iterable[Ingredient], groups: str) -> tuple[str, ...]:
    return tuple(dict.fromkeys(row.name for row in powders if _NUTS & getattr(row, groups)))


def _particles(powders: Iterable[Ingredient]) -> tuple[str, ...]:
    found = (row.name for row in powders if "particles" in triggers_of_powder(row))
    return tuple(dict.fromkeys(found))


def _joined(parts: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one for part in parts for one in part))
