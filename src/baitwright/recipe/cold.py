"""The liquids and the size of a recipe made over for cold water: what is turned, and what stays."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from baitwright.materials.defaults import default
from baitwright.materials.liquids import carrier
from baitwright.quantities import show
from baitwright.recipe.dosing import Judged, per_egg, usual_range
from baitwright.recipe.levels import Bridge, Level, Measure, times
from baitwright.recipe.liquid import Liquid, Purpose
from baitwright.recipe.model import Recipe

OIL, SOLUBLE, CARRIER, LEVEL, SIZE = "oil", "soluble", "carrier", "level", "size"
TURNED = (OIL, SOLUBLE, CARRIER, LEVEL, SIZE)
"""What a winter version may change, each of which may be left as it is."""
WATERY = "propylene-glycol"
_IN_OIL, _NEAT = "vegetable-oil", "essential-oil"
MOST_OIL = 10e-6
"""Oil poured in, m3 per kg of dry mix in cold water: 0 to 10 ml (common practice)."""
_OIL_DENSITY = 920.0
_LEAST_RISE = 0.05
"""A level that would rise by less is left alone (judgement)."""
_UNBOUNDED = 1.5
"""As far as a level rises that nothing bounds (judgement)."""
_SMALLEST = 10e-3
"""A bait is not made smaller than this for the cold [m] (judgement)."""


@dataclass(frozen=True, slots=True)
class Turn:
    """One thing that a winter version changes: what it was, what it is, why, and on whose word."""

    about: str
    before: str
    after: str
    why: str
    source: str


@dataclass(frozen=True, slots=True)
class Turned:
    """A recipe made over in some things: what was turned, and what was looked at and left."""

    recipe: Recipe
    turns: tuple[Turn, ...] = ()
    left: tuple[str, ...] = ()


def cold_size(recipe: Recipe) -> Turned:
    """A smaller bait, in whole millimetres; one on a core keeps its size, which its lift hangs on.

    The free bait of the recipe is made smaller with it.
    """
    bait, row = recipe.bait, default("winter_size")
    if bait.core is not None:
        text = f"The size: on its core {show(bait.diameter, 'mm')} is what gives the lift."
        return Turned(recipe, left=(text,))
    smaller = _smaller(bait.diameter, row.value)
    if smaller >= bait.diameter:
        return Turned(recipe, left=(f"The size: {show(bait.diameter, 'mm')} is small already.",))
    why = "a cold carp takes little at a time; makers fish smaller baits (the share is our own)"
    sizes = (show(bait.diameter, "mm"), show(smaller, "mm"))
    turns = [Turn("diameter", *sizes, why, row.source)]
    free = recipe.free_bait
    if free is not None:
        small = min(free.diameter, _smaller(free.diameter, row.value))
        if small < free.diameter:
            sizes = (show(free.diameter, "mm"), show(small, "mm"))
            turns.append(Turn("diameter of its free bait", *sizes, why, row.source))
        free = replace(free, diameter=small)
    made = replace(recipe, bait=replace(bait, diameter=smaller), free_bait=free)
    return Turned(made, tuple(turns))


def _smaller(diameter: float, share: float) -> float:
    return max(_SMALLEST, round(1e3 * share * diameter) * 1e-3)


def cold_carriers(recipe: Recipe) -> Turned:
    """Flavours in oil or in a solvent that hardly mixes with water taken in glycol instead."""
    made, turns, left = [], [], []
    for one in recipe.liquids:
        row = carrier(one.carrier)
        stays = _keeps_carrier(one)
        if row.mixes_with_water or one.powder:
            made.append(one)
        elif stays is not None:
            made.append(one)
            left.append(f"The carrier of {one.name}: {stays}")
        else:
            after = carrier(WATERY)
            why = f"{row.name}: {row.in_lake[0].lower()}{row.in_lake[1:].rstrip('.')}"
            names = (row.name, after.name)
            why += f". Ask for the same flavour in {after.name}; its level may differ"
            turns.append(Turn(f"carrier of {one.name}", *names, why, row.source))
            made.append(replace(one, carrier=WATERY, density=None, drops_per_volume=None))
    return Turned(replace(recipe, liquids=tuple(made)), tuple(turns), tuple(left))


def _keeps_carrier(one: Liquid) -> str | None:
    """Why a liquid keeps its carrier; None where there is no reason."""
    if one.carrier == _NEAT:
        return "it has none; a neat oil leaves slowly in any water."
    if is_oil(one):
        return "it is an oil itself, and is poured by the kilogram of mix."
    if one.level.measure is Measure.DROPS:
        return "its level goes by the drops of this bottle."
    return None


def is_oil(one: Liquid) -> bool:
    """Whether a liquid is an oil itself, and not a flavour that is dissolved in one."""
    return one.carrier == _IN_OIL and "oil" in one.name.lower().split()


def less_oil(recipe: Recipe, bridge: Bridge) -> Turned:
    """Oils that are poured in brought down to what makers pour in the cold."""
    made, turns = [], []
    for one in recipe.liquids:
        poured = _poured(one.level, bridge) if is_oil(one) else 0.0
        if poured > MOST_OIL * (1.0 + 1e-6):
            level = times(one.level, MOST_OIL / poured)
            why = "in cold water makers pour 0 to 10 ml per kg of dry mix: oil thickens there"
            texts = (one.level.text, level.text)
            turns.append(Turn(f"level of {one.name}", *texts, why, "common-practice"))
            made.append(replace(one, level=level))
        else:
            made.append(one)
    return Turned(replace(recipe, liquids=tuple(made)), tuple(turns))


def _poured(level: Level, bridge: Bridge) -> float:
    amount = per_egg(level, bridge) / bridge.dry_mix
    return amount / _OIL_DENSITY if level.measure is Measure.MASS else amount


def cold_levels(
    recipe: Recipe, rises: Mapping[str, float], bridge: Bridge, *, lakes: tuple[str, str]
) -> Turned:
    """Levels of flavours raised for what cold water does not carry off.

    Parameters
    ----------
    recipe: with carriers and base as they are to be.
    rises: by liquid, by how much it would have to be more for the lake to have as much of it.
    bridge: what one egg brings.
    lakes: cold and warm water in words.
    """
    made, turns, left = [], [], []
    for one in recipe.liquids:
        rise = rises.get(one.name, 1.0)
        stays = _keeps_level(one, rise)
        most = min(rise, _head_room(one, bridge)) if stays is None else 1.0
        if stays is None and most < 1.0 + _LEAST_RISE:
            stays = "it is at the end of what is usual, or of what its own maker gives."
        if stays is not None:
            left.append(f"The level of {one.name}: {stays}")
            made.append(one)
            continue
        level = times(one.level, most)
        much = f"{show(rise, '%', 2)} of it would give a lake of {lakes[0]} as much"
        why = f"{much} as it gave one of {lakes[1]}"
        why += "; held to what is usual" if most < rise else ""
        texts = (one.level.text, level.text)
        turns.append(Turn(f"level of {one.name}", *texts, f"{why} (judgement)", "crank-1975"))
        made.append(replace(one, level=level))
    return Turned(replace(recipe, liquids=tuple(made)), tuple(turns), tuple(left))


def _keeps_level(one: Liquid, rise: float) -> str | None:
    if one.purpose is not Purpose.FLAVOUR:
        return f"a {one.purpose} goes by its label."
    if is_oil(one):
        return "no more of an oil in the cold."
    if rise < 1.0 + _LEAST_RISE:
        return "the lake has enough of it as it is."
    return None


def _head_room(one: Liquid, bridge: Bridge) -> float:
    """How often its level goes into the most that is usual, or that its own maker gives."""
    now = per_egg(one.level, bridge)
    rooms = []
    if one.limit is not None and one.limit.measure is one.level.measure:
        rooms.append(per_egg(one.limit, bridge) / now)
    told = Judged(one.name, one.level, one.strength, one.drops_per_volume)
    _, most = usual_range(told, "hookbait", bridge)
    if one.level.measure is Measure.VOLUME:
        rooms.append(most / now)
    elif one.level.measure is Measure.DROPS and one.drops_per_volume:
        rooms.append(most * one.drops_per_volume / now)
    return min(rooms, default=_UNBOUNDED)
