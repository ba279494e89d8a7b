"""`mix match` from what was typed to the free bait matched."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from baitwright.materials.defaults import hardness
from baitwright.quantities import Kind, read
from baitwright.recipe.model import Hardness, Recipe
from baitwright.terms.errors import InputError
from baitwright.workshop.baits.bait_side import request_of
from baitwright.workshop.baits.match_baits import FreeAsked, Matched, matched
from baitwright.workshop.plans.plan_batch import told_where
from baitwright.workshop.recipe_files.mix_file import read_shelf
from baitwright.workshop.recipe_files.recipe_file import read_recipe
from baitwright.workshop.stages.soak import lakes_in, time_in
from baitwright.workshop.typed.eggs_text import parse_eggs

_LEAST, _MOST = 0.05, 500.0
"""Dry mix of a free bait, kg."""


@dataclass(frozen=True, slots=True, kw_only=True)
class MatchTyped:
    """What goes with a recipe, as it was typed; nothing is as in the recipe, or usual."""

    bench: Path | None = None
    eggs: str = ""
    kilos: str = ""
    level: str = ""
    diameter: str = ""
    boil: str = ""
    coarse: str = ""
    mixer: str = ""
    hours: str = "14"
    at: str = ""
    ingredients: Path | None = None
    factors: Path | None = None


def match_told(path: Path, typed: MatchTyped, *, clock: Callable[[], datetime]) -> Matched:
    """The free bait that goes with the hookbait of a recipe file.

    Raises
    ------
    InputError: a file or anything typed cannot be used.
    """
    recipe = read_recipe(path)
    try:
        return match_of(recipe, typed, clock=clock)
    except InputError as error:
        raise told_where(error, path, typed.bench) from None


def match_of(recipe: Recipe, typed: MatchTyped, *, clock: Callable[[], datetime]) -> Matched:
    """The free bait that goes with the hookbait of a recipe.

    Raises
    ------
    InputError: as `match_told`.
    """
    asked = asked_of(typed)
    eggs = parse_eggs(typed.eggs, "eggs") if typed.eggs else ()
    request = request_of(recipe, typed.bench, eggs=eggs, factors=typed.factors, clock=clock)
    return matched(request, asked)


def asked_of(typed: MatchTyped) -> FreeAsked:
    """What is asked of a free bait by what was typed.

    Raises
    ------
    InputError: something that cannot be read, or that no free bait is.
    """
    kilos = _kilos(typed.kilos, "kilos")
    if kilos is not None and not _LEAST <= kilos <= _MOST:
        raise InputError("kilos", typed.kilos, f"dry mix from {_LEAST:g} kg to {_MOST:g} kg")
    level = read(typed.level, Kind.SHARE, "level") if typed.level else None
    if level is not None and not 0.0 < level <= 2.0:
        raise InputError("level", typed.level, "a share of the hookbait's level up to 200 %")
    diameter = read(typed.diameter, Kind.LENGTH, "diameter") if typed.diameter else None
    if diameter is not None and not 6e-3 <= diameter <= 40e-3:
        raise InputError("diameter", typed.diameter, "a diameter from 6 mm to 40 mm")
    mixer = _kilos(typed.mixer, "mixer")
    if mixer is not None and mixer <= 0.0:
        raise InputError("mixer", typed.mixer, "the paste it kneads at once, such as 1.5 kg")
    coarse = read(typed.coarse, Kind.MASS, "coarse") if typed.coarse else None
    if coarse is not None and coarse < 0.0:
        raise InputError("coarse", typed.coarse, "what your sieve left, such as 150 g, or 0 g")
    return FreeAsked(
        dry_mix=kilos,
        diameter=diameter,
        level_share=level,
        hardness=Hardness(hardness(typed.boil, "boil").name) if typed.boil else Hardness.NORMAL,
        coarse=coarse,
        mixer=mixer,
        lakes=lakes_in(typed.at),
        time=time_in(typed.hours),
        shelf={} if typed.ingredients is None else read_shelf(typed.ingredients),
    )


def _kilos(text: str, field: str) -> float | None:
    """A weight, in kilograms where it has no unit."""
    if not text:
        return None
    bare = text.strip().replace(",", ".").replace(".", "", 1).isdigit()
    return read(f"{text.strip()} kg" if bare else text, Kind.MASS, field)
