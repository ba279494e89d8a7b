"""What bags or a night take to a water, as its rules look at it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date
from typing import Any

from baitwright.advice.venue_rules import Session
from baitwright.ledger.trace import Stop
from baitwright.notebook.page import Page
from baitwright.workshop.batches.recipes_behind import behind
from baitwright.workshop.labels.lot_allergens import allergens_of, made_of, shelf_ingredient
from baitwright.workshop.plans.plan_json import recipe_from_json
from baitwright.workshop.waters.venue_plan import joined, named, of_recipes, particles_in

_NUTS = frozenset(("nuts", "peanuts"))


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
        nuts=joined(one.nuts or () for one in parts),
        perhaps_nuts=joined(one.perhaps_nuts for one in parts),
        particles=joined(one.particles or () for one in parts),
        holds=joined(held),
        untold=joined(one.untold for one in parts),
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
    session = of_recipes(recipes, name)
    here = tuple(one.item for one in on_way.values() if one.stop != Stop.BATCH)
    powders = [row for row in map(shelf_ingredient, here) if row is not None]
    nuts = named(powders, "contains")
    labels = tuple(one for one in found.holds if one in _NUTS and not nuts)
    return replace(
        session,
        nuts=joined((session.nuts or (), nuts, labels)),
        perhaps_nuts=joined((session.perhaps_nuts, named(powders, "may_contain"))),
        particles=joined((session.particles or (), particles_in(powders))),
        holds=joined((session.holds or (), here)),
        untold=found.unknown,
    )
