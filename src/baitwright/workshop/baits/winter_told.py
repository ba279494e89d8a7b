"""`mix winter` from what was typed to the winter version, and that as the text of a recipe file."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import Any

from baitwright.materials.liquids import carrier
from baitwright.materials.powders import ingredient
from baitwright.quantities import show
from baitwright.recipe.liquid import Liquid
from baitwright.recipe.model import BaseMix, Recipe
from baitwright.terms.errors import InputError
from baitwright.workshop.baits.bait_side import request_of
from baitwright.workshop.baits.winter_bait import LAKES, WinterAsked, Wintered, wintered
from baitwright.workshop.plans.plan_batch import told_where
from baitwright.workshop.recipe_files.mix_file import read_shelf
from baitwright.workshop.recipe_files.recipe_file import recipe_from
from baitwright.workshop.stages.soak import lakes_in, time_in
from baitwright.workshop.told.files import write_together
from baitwright.workshop.typed.eggs_text import parse_eggs
from baitwright.workshop.typed.reading import load
from baitwright.workshop.typed.toml_text import toml_text

_OF_ITS_BOTTLE = ("density", "drops_per_ml")
"""What was weighed or counted of a bottle, and holds of no other."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WinterTyped:
    """What goes with a recipe, as it was typed; nothing is as usual."""

    bench: Path | None = None
    eggs: str = ""
    keep: Sequence[str] = ()
    soluble: str = ""
    hours: str = "14"
    at: str = ""
    ingredients: Path | None = None
    factors: Path | None = None


def winter_told(
    path: Path, typed: WinterTyped, *, clock: Callable[[], datetime]
) -> tuple[Wintered, str]:
    """The winter version of a recipe file, and the text of its own file.

    Raises
    ------
    InputError: a file or anything typed cannot be used.
    """
    data = load(path, what="recipe")
    try:
        return winter_of(data, typed, where=str(path), clock=clock)
    except InputError as error:
        raise told_where(error, path, typed.bench) from None


def winter_of(
    data: Mapping[str, Any], typed: WinterTyped, *, where: str, clock: Callable[[], datetime]
) -> tuple[Wintered, str]:
    """The winter version of a recipe's raw contents, and the text of its own file.

    Raises
    ------
    InputError: as `winter_told`.
    """
    recipe = recipe_from(data, where=where)
    asked = WinterAsked(
        keep=frozenset(_words(typed.keep)),
        soluble=ingredient(typed.soluble, "soluble").id if typed.soluble else None,
        lakes=lakes_in(typed.at) or LAKES,
        time=time_in(typed.hours),
        shelf={} if typed.ingredients is None else read_shelf(typed.ingredients),
    )
    eggs = parse_eggs(typed.eggs, "eggs") if typed.eggs else ()
    request = request_of(recipe, typed.bench, eggs=eggs, factors=typed.factors, clock=clock)
    made = wintered(request, asked)
    return made, winter_text(data, made)


def _words(typed: Sequence[str]) -> Iterator[str]:
    """Words that were typed one by one, or several with commas between."""
    for one in ",".join(typed).split(","):
        if one.strip():
            yield one.strip().lower()


def winter_text(data: Mapping[str, Any], made: Wintered) -> str:
    """The text of a recipe file of a winter version, every change told at its head."""
    notes = [f'# The winter version of "{made.before.name}". What differs:']
    notes += [f"# - {one.about}: {one.before} -> {one.after}" for one in made.turns]
    return "\n".join((*notes, "", toml_text(winter_data(data, made.recipe))))


def winter_data(data: Mapping[str, Any], recipe: Recipe) -> dict[str, Any]:
    """A recipe's raw contents with what its winter version changes; the rest as it was told."""
    told = {
        **data,
        "name": recipe.name,
        "bait": {**data["bait"], "diameter": show(recipe.bait.diameter, "mm")},
        "base": _base(data["base"], recipe.base),
    }
    if "liquid" in data:
        lines = zip(data["liquid"], recipe.liquids, strict=True)
        told["liquid"] = [_liquid(line, one) for line, one in lines]
    if "free_bait" in data and recipe.free_bait is not None:
        diameter = show(recipe.free_bait.diameter, "mm")
        told["free_bait"] = {**data["free_bait"], "diameter": diameter}
    return told


def _base(told: Mapping[str, Any], base: BaseMix) -> dict[str, Any]:
    made = {**told, "name": base.name}
    if base.name != told["name"]:
        written = {ingredient(name).id: name for name in told["parts"]}
        made["parts"] = {
            written.get(one.ingredient, one.ingredient): f"{100.0 * one.share:.10g} %"
            for one in base.parts
        }
    return made


def _liquid(line: Mapping[str, Any], liquid: Liquid) -> dict[str, Any]:
    made = {**line, "level": liquid.level.text}
    if "carrier" in line and liquid.carrier != carrier(line["carrier"]).id:
        made["carrier"] = liquid.carrier
        made = {key: value for key, value in made.items() if key not in _OF_ITS_BOTTLE}
    return made


def write_winter(text: str, path: Path, field: str = "out") -> Path:
    """Write a winter version as a new file.

    Raises
    ------
    InputError: another ending than ``.toml``, or a file that is there already.
    """
    if path.suffix.lower() != ".toml":
        raise InputError(field, str(path), "a file's name that ends in .toml")
    if path.exists():
        raise InputError(field, str(path), "a new file; that one is there already")
    return write_together(path.parent, {path.name: text.encode()}, field=field)[0]
