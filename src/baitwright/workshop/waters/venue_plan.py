"""What a plan takes to a water, as the water's rules look at it, and as its record keeps it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import asdict, replace
from datetime import date
from typing import Any

from baitwright.advice.venue_rules import Session
from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.counterweight import holds_lead
from baitwright.materials.care import triggers_of_powder
from baitwright.materials.powders import Ingredient, ingredient
from baitwright.recipe.model import BaitKind, Recipe
from baitwright.uncertainty.bands import band_of

SESSION = "session"
"""Under which key a plan's record keeps what is taken to its water."""
_NUTS = frozenset(("nuts", "peanuts"))
_FLOATS = (BaitKind.POP_UP,)


def session_of_plan(made: BatchPlan) -> Session:
    """What a plan is to be taken there with: its bait, its free bait, its box of shot, its day."""
    recipe, bench = made.request.recipe, made.request.bench
    session = of_recipes((recipe,), recipe.name)
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


def session_as_json(session: Session) -> dict[str, Any]:
    """What a plan is to be taken there with, as its record keeps it."""
    day = None if session.day is None else session.day.isoformat()
    return {**asdict(session), "day": day}


def session_from_json(told: Mapping[str, Any]) -> Session:
    """The same out of its record."""
    made: dict[str, Any] = {
        key: tuple(one) if isinstance(one, list) else one for key, one in told.items()
    }
    made["day"] = date.fromisoformat(made["day"]) if made["day"] else None
    return Session(**made)


def of_recipes(recipes: tuple[Recipe, ...], what: str) -> Session:
    """What recipes tell of what is in their baits."""
    powders = [row for one in recipes for row in _powders(one)]
    return Session(
        what=what,
        nuts=named(powders, "contains"),
        perhaps_nuts=named(powders, "may_contain"),
        particles=particles_in(powders),
        holds=joined(tuple(_words(one)) for one in recipes),
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


def named(powders: Iterable[Ingredient], groups: str) -> tuple[str, ...]:
    """Those of some powders that hold nuts or peanuts, by `contains` or `may_contain`."""
    return tuple(dict.fromkeys(row.name for row in powders if _NUTS & getattr(row, groups)))


def particles_in(powders: Iterable[Ingredient]) -> tuple[str, ...]:
    """Those of some powders that are seeds, pulses or nuts in pieces."""
    found = (row.name for row in powders if "particles" in triggers_of_powder(row))
    return tuple(dict.fromkeys(found))


def joined(parts: Iterable[tuple[str, ...]]) -> tuple[str, ...]:
    """Names of several lists, each once."""
    return tuple(dict.fromkeys(one for part in parts for one in part))
