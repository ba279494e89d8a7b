"""A recipe as a customer may read it: chosen fields, hidden lines left out, allergens whole."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace

from baitwright.batch.cautions import BINDER
from baitwright.materials.powders import Ingredient, allergens_in, ingredient, ingredients
from baitwright.materials.tables import slug
from baitwright.quantities import show
from baitwright.recipe.model import Recipe
from baitwright.sheets.travelling_copy import ToldMix, ToldRecipe
from baitwright.terms.errors import InputError
from baitwright.workshop.mixes.mix_analysis import analysed
from baitwright.workshop.mixes.mix_customer import HEADER, customer_json
from baitwright.workshop.recipe_files.mix_file import MixAsked

OWN = "a part of the maker's own"


@dataclass(frozen=True, slots=True)
class Hidden:
    """What nobody else is to read, by name or id."""

    names: tuple[str, ...] = ()

    def has(self, *names: str) -> bool:
        """Whether any of these is one of them."""
        return bool({slug(one) for one in self.names}.intersection(map(slug, names)))

    def spellings(self) -> frozenset[str]:
        """Every way in which the hidden ones may be written."""
        rows = ingredients()
        named = [rows[slug(one)] for one in self.names if slug(one) in rows]
        named += [row for row in rows.values() if self.has(row.name)]
        told = (*self.names, *map(slug, self.names))
        return frozenset((*told, *(row.name for row in named), *(row.id for row in named)))


def told_recipe(
    recipe: Recipe, hidden: Hidden, labels: Mapping[str, Collection[str]] | None = None
) -> ToldRecipe:
    """A recipe with its hidden lines left out; whoever brings an allergen, it is told.

    ``labels`` are the allergens that labels of liquids name, by the liquid's name.
    """
    powders = tuple(_powders(recipe))
    contains, may = allergens_in(powders)
    labelled = {group for name in _liquids(recipe) for group in (labels or {}).get(name, ())}
    unknown = [name for name in _liquids(recipe) if not (labels or {}).get(name)]
    doubts = ["others: not all of its parts are known"] if not recipe.base.parts else []
    doubts += ["what its liquids bring: read their labels"] if unknown else []
    names = [one.name for one in contains]
    return ToldRecipe(
        name=recipe.name,
        invented=recipe.invented,
        bait=_bait(recipe),
        base=recipe.base.name,
        parts=tuple(_parts(recipe, hidden)),
        liquids=tuple(_poured(recipe, hidden)),
        contains=(*names, *sorted(labelled - set(names))),
        may_contain=(*(one.name for one in may if one.name not in labelled), *doubts),
    )


def told_mix(asked: MixAsked, hidden: Hidden) -> ToldMix:
    """A mix of a file as its customers read it, with as much more hidden as is told."""
    secret = {one.ingredient for one in asked.told.base.parts if hidden.has(one.ingredient)}
    found = analysed(replace(asked, secret=asked.secret | secret))
    rows = customer_json(found)
    holds = tuple(tuple(str(one[head]) for head in HEADER) for one in rows["holds"])
    return ToldMix(rows["name"], HEADER, holds, tuple(rows["made_with"]), tuple(rows["allergens"]))


def refuse_unknown(recipes: Iterable[Recipe], hidden: Hidden, others: Iterable[str] = ()) -> None:
    """Refuse to hide what nothing here has: a slip there would show what was to be hidden.

    ``others`` are ids of parts of mixes.

    Raises
    ------
    InputError: the first such name.
    """
    known = {name for recipe in recipes for name in _names(recipe)} | set(others)
    slugs = {slug(name) for name in known}
    for one in hidden.names:
        if slug(one) not in slugs:
            raise InputError("hide", one, f"one of: {', '.join(sorted(known))}")


def _names(recipe: Recipe) -> Iterator[str]:
    for part in recipe.base.parts:
        yield from (part.ingredient, ingredient(part.ingredient).name)
    for one in (recipe.hardener, recipe.coat):
        if one is not None:
            yield from (one.ingredient, ingredient(one.ingredient).name)
    yield from _liquids(recipe)


def _liquids(recipe: Recipe) -> Iterator[str]:
    yield from (one.name for one in recipe.liquids)
    if recipe.glug is not None:
        yield recipe.glug.name


def _powders(recipe: Recipe) -> Iterator[Ingredient]:
    yield from (ingredient(part.ingredient) for part in recipe.base.parts)
    yield from (ingredient(one.ingredient) for one in (recipe.hardener, recipe.coat) if one)
    yield ingredient(BINDER)


def _bait(recipe: Recipe) -> str:
    bait = recipe.bait
    core = f" on a {show(bait.core.diameter, 'mm')} core" if bait.core else ""
    return f"{show(bait.diameter, 'mm')} {bait.kind.value}{core}, {bait.hardness.value}"


def _parts(recipe: Recipe, hidden: Hidden) -> Iterator[tuple[str, str]]:
    for part in recipe.base.parts:
        row = ingredient(part.ingredient)
        is_hidden = hidden.has(part.ingredient, row.name)
        yield (OWN, "") if is_hidden else (row.name, show(part.share, "%"))
    if recipe.hardener is not None:
        row, one = ingredient(recipe.hardener.ingredient), recipe.hardener
        is_hidden = hidden.has(row.id, row.name)
        yield (OWN, "") if is_hidden else (row.name, f"{show(one.share, '%')} {one.basis.value}")
    if recipe.coat is not None:
        row = ingredient(recipe.coat.ingredient)
        yield (OWN if hidden.has(row.id, row.name) else f"{row.name}, to roll in", "")


def _poured(recipe: Recipe, hidden: Hidden) -> Iterator[tuple[str, str]]:
    for one in recipe.liquids:
        yield (OWN, "") if hidden.has(one.name) else (one.name, one.level.text)
    if recipe.glug is not None:
        yield (OWN if hidden.has(recipe.glug.name) else f"{recipe.glug.name}, to soak in", "")
