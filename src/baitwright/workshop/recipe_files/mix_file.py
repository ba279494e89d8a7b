"""A mix told by a mix file or by a recipe file, with the maker's own ingredients."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from typing import Any

from baitwright.blending.candidate import Candidate
from baitwright.blending.components import MixTold
from baitwright.materials.tables import slug
from baitwright.quantities import show
from baitwright.recipe.model import Hardener, Recipe
from baitwright.terms.errors import InputError
from baitwright.workshop.recipe_files.ingredient_tables import part_id, shelf_of
from baitwright.workshop.recipe_files.mix_tables import MixFile, ShelfFile
from baitwright.workshop.recipe_files.recipe_file import base_as, recipe_from
from baitwright.workshop.typed.reading import load, parse

_OF_RECIPE = "bait"


@dataclass(frozen=True, slots=True)
class MixAsked:
    """A mix, and what else is told with it.

    ``dry_mix_per_egg`` [kg] is predicted where None; ``water`` of the finished bait is that after a
    usual loss where None; ``secret`` has the ids of parts no customer is to read.
    """

    told: MixTold
    dry_mix_per_egg: float | None = None
    water: float | None = None
    secret: frozenset[str] = field(default_factory=frozenset)


def read_mix(path: Path, shelf: Path | None = None) -> MixAsked:
    """The mix in a file, be it a recipe or a mix alone; ``shelf`` is one of ingredients besides.

    Raises
    ------
    InputError: a file cannot be read, or anything in it cannot be used.
    """
    own = {} if shelf is None else read_shelf(shelf)
    return mix_from(load(path, what="mix or recipe"), where=str(path), shelf=own)


def read_shelf(path: Path) -> dict[str, Candidate]:
    """The maker's own ingredients in a file.

    Raises
    ------
    InputError: as `read_mix`.
    """
    where = str(path)
    try:
        return shelf_of(parse(load(path, what="ingredients"), ShelfFile, where=where).ingredients)
    except InputError as error:
        raise error.located(where) from None


def mix_from(
    data: Mapping[str, Any], *, where: str, shelf: Mapping[str, Candidate] | None = None
) -> MixAsked:
    """The mix in a file's raw contents.

    Raises
    ------
    InputError: as `read_mix`.
    """
    if _OF_RECIPE in data:
        return of_recipe(recipe_from(data, where=where), shelf)
    try:
        return mix_as(parse(data, MixFile, where=where), shelf)
    except InputError as error:
        raise error.located(where) from None


def of_recipe(recipe: Recipe, shelf: Mapping[str, Candidate] | None = None) -> MixAsked:
    """The mix of a recipe, with the maker's own ingredients."""
    return MixAsked(MixTold(recipe.base, recipe.hardener, recipe.sieve, dict(shelf or {})))


def mix_as(file: MixFile, shelf: Mapping[str, Candidate] | None = None) -> MixAsked:
    """The mix of a file's fields; what its own ingredients tell goes before ``shelf``.

    Raises
    ------
    InputError: what they say together cannot be.
    """
    own = {**(shelf or {}), **shelf_of(file.ingredients)}
    base = base_as(file, lambda name, place: part_id(name, own, place), where="")
    if base.parts and file.price is not None:
        accepted = "the price of each part under [ingredients], as the base is no bought one"
        raise InputError("price", file.price, accepted)
    told = MixTold(
        base=base,
        hardener=Hardener(**dict(file.hardener)) if file.hardener else None,
        sieve=file.sieve,
        shelf=own,
        price=file.price,
    )
    secret = frozenset(map(slug, file.secret))
    unknown = secret - {slug(base.name), *(one.ingredient for one in base.parts)}
    if unknown:
        raise InputError("secret", ", ".join(sorted(unknown)), "parts of this mix")
    return MixAsked(told, file.dry_mix_per_egg, file.water, secret)


def changed(asked: MixAsked, *, dry_mix: float | None, water: float | None) -> MixAsked:
    """The same with what was told besides.

    Raises
    ------
    InputError: a weight or a share that cannot be.
    """
    if dry_mix is not None and not 0.010 <= dry_mix <= 0.300:
        raise InputError("dry_mix", show(dry_mix, "g"), "what one egg takes up, 10 g to 300 g")
    if water is not None and not 0.01 <= water <= 0.60:
        raise InputError("water", show(water, "%"), "a share of the finished bait, 1 % to 60 %")
    return replace(
        asked,
        dry_mix_per_egg=asked.dry_mix_per_egg if dry_mix is None else dry_mix,
        water=asked.water if water is None else water,
    )
