"""The recipe file: what the maker decides about a bait, read from TOML."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from baitwright.materials.powders import ingredient
from baitwright.materials.sieves import retained_share
from baitwright.quantities import show
from baitwright.recipe.model import (
    Analysis,
    BaseMix,
    Hardener,
    Part,
    Recipe,
)
from baitwright.terms.errors import InputError
from baitwright.workshop.recipe_files.bait_tables import as_bait, as_free_bait
from baitwright.workshop.recipe_files.finish_tables import as_coat, as_glug
from baitwright.workshop.recipe_files.liquid_table import as_liquid
from baitwright.workshop.recipe_files.recipe_tables import AnalysisTable, BaseTable, RecipeFile
from baitwright.workshop.typed.reading import load, parse

_MOST_WET = 0.3
"""Oils and liquids make up no more than this share of what still is a powder (judgement)."""
_CLOSURE = 0.005
"""Shares sum to 100 % within half a point of rounding."""


def read_recipe(path: Path) -> Recipe:
    """The recipe in a TOML file.

    Raises
    ------
    InputError: the file cannot be read, or anything in it cannot be used; the message names file,
        field, value and what would be accepted.
    """
    return recipe_from(load(path, what="recipe"), where=str(path))


def recipe_from(data: Mapping[str, Any], *, where: str) -> Recipe:
    """The recipe in a file's raw contents, with every name on it resolved to its row.

    Raises
    ------
    InputError: as `read_recipe`.
    """
    try:
        return recipe_as(parse(data, RecipeFile, where=where))
    except InputError as error:
        raise error.located(where) from None


def recipe_as(file: RecipeFile) -> Recipe:
    """The recipe of a file's fields.

    Raises
    ------
    InputError: what they say together cannot be.
    """
    return Recipe(
        name=file.name,
        bait=as_bait(file.bait),
        base=_base(file.base),
        hardener=Hardener(**dict(file.hardener)) if file.hardener else None,
        sieve=file.base.sieve,
        liquids=tuple(
            as_liquid(line, f"liquid[{at}]") for at, line in enumerate(file.liquid, start=1)
        ),
        free_bait=as_free_bait(file.free_bait) if file.free_bait else None,
        invented=file.invented,
        coat=as_coat(file.coat, file.bait.diameter),
        glug=as_glug(file.glug),
    )


def base_as(
    base: BaseTable,
    known: Callable[[str, str], str] = lambda name, place: ingredient(name, place).id,
    *,
    where: str = "base.",
) -> BaseMix:
    """The base of a file's fields.

    Parameters
    ----------
    base: the fields.
    known: the id of a part by its name, and the field it stands in.
    where: the heading its keys stand under.

    Raises
    ------
    InputError: what they say together cannot be, or a name that is on no shelf.
    """
    if base.parts and base.analysis:
        accepted = f"either [{where}parts] or [{where}analysis]"
        raise InputError(where.rstrip(".") or "mix", "parts and an analysis", accepted)
    analysis = _analysis(base.analysis, where) if base.analysis else None
    return BaseMix(base.name, _parts(base.parts, known, where), analysis, base.milk_protein)


def _base(base: BaseTable) -> BaseMix:
    made = base_as(base)
    rows = [(part.share, ingredient(part.ingredient)) for part in made.parts]
    wet = math.fsum(share for share, row in rows if row.role in ("oil", "liquid"))
    if wet > _MOST_WET:
        accepted = f"powders, with {show(_MOST_WET, '%')} of oils and liquids at most"
        raise InputError("base.parts", f"{show(wet, '%')} of them", accepted)
    if rows and all(retained_share(row, base.sieve) == 1.0 for _, row in rows):
        raise InputError("base.sieve", base.sieve, "a sieve that something of the base passes")
    return made


def _analysis(declared: AnalysisTable, where: str) -> Analysis:
    shares = dict(declared)
    total = math.fsum(share for share in shares.values() if share is not None)
    if total > 1.0 + _CLOSURE:
        raise InputError(f"{where}analysis", show(total, "%"), "shares that sum to 100 % at most")
    return Analysis(**shares)


def _parts(
    shares: Mapping[str, float], known: Callable[[str, str], str], where: str
) -> tuple[Part, ...]:
    parts: dict[str, Part] = {}
    for name, share in shares.items():
        place = f"{where}parts.{name}"
        found = known(name, place)
        if found in parts:
            accepted = f"each ingredient once; {found} is there already"
            raise InputError(place, show(share, "%"), accepted)
        parts[found] = Part(found, share)
    total = math.fsum(shares.values())
    if shares and abs(total - 1.0) > _CLOSURE:
        raise InputError(f"{where}parts", show(total, "%"), "shares that sum to 100 %")
    return tuple(parts.values())
