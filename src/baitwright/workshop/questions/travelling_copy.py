"""Chosen recipes and answers as one file for somebody else; hidden lines stand nowhere in it."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import datetime
from html import escape
from pathlib import Path
from unicodedata import normalize

from baitwright.materials.powders import ingredient
from baitwright.notebook.store import Notebook
from baitwright.recipe.model import Recipe
from baitwright.sheets.travelling_copy import TravellingCopy, travelling_html
from baitwright.terms.errors import InputError
from baitwright.workshop.mixes.told_recipe import Hidden, refuse_unknown, told_mix, told_recipe
from baitwright.workshop.questions.answer_copies import Sheet, write_copy
from baitwright.workshop.questions.answers_found import advice_of
from baitwright.workshop.recipe_files.mix_file import read_mix
from baitwright.workshop.recipes.recipe_shelf import newest_of
from baitwright.workshop.recipes.recipe_texts import recipe_of

TITLE = "From the bait bench"


@dataclass(frozen=True, slots=True)
class Chosen:
    """What is to go along: recipes and answers by name, mixes by file, and what is hidden of them.

    What a mix's own file calls secret is hidden too.
    """

    recipes: tuple[str, ...] = ()
    answers: tuple[str, ...] = ()
    mixes: tuple[Path, ...] = ()
    hide: tuple[str, ...] = ()
    title: str = TITLE


@dataclass(frozen=True, slots=True)
class Made:
    """The file, and what its maker should know of it before it is sent."""

    sheet: Sheet
    mind: tuple[str, ...]


def travelling_copy(book: Notebook, chosen: Chosen) -> Made:
    """The file of what was chosen.

    Raises
    ------
    InputError: nothing chosen, no such recipe or answer, or a hidden name that would still be told.
    """
    if not (chosen.recipes or chosen.answers or chosen.mixes):
        raise InputError("recipe", None, "a recipe or an answer, or several")
    wanted = tuple(one for one in chosen.hide if one.strip())
    recipes = tuple(recipe_of(newest_of(book, name)) for name in chosen.recipes)
    mixes = tuple(map(read_mix, chosen.mixes))
    parts = [part.ingredient for one in mixes for part in one.told.base.parts]
    refuse_unknown(recipes, Hidden(wanted), parts)
    hidden = Hidden((*wanted, *(name for one in mixes for name in sorted(one.secret))))
    answers = tuple(advice_of(book, name) for name in chosen.answers)
    labels = _labels(book)
    told = tuple(told_recipe(one, hidden, labels) for one in recipes)
    shown = tuple(told_mix(one, hidden) for one in mixes)
    html = travelling_html(TravellingCopy(chosen.title or TITLE, told, shown, answers))
    _refuse_told(html, hidden)
    return Made(Sheet(html.encode(), answers), tuple(_mind(recipes, hidden)))


def write_travelling(book: Notebook, path: Path, made: Made, *, now: datetime) -> Path:
    """Write the file; where answers stand in it, it is noted for a purge.

    Raises
    ------
    InputError: the file or the notebook cannot be written to.
    """
    return write_copy(book, path, made.sheet, now=now)


def _labels(book: Notebook) -> Mapping[str, Collection[str]]:
    """Allergens that labels of liquids name."""
    with book.reading() as page:
        return {one.name: (one.body or {}).get("allergens", ()) for one in page.all("liquid")}


def _refuse_told(html: str, hidden: Hidden) -> None:
    text = _folded(html)
    for name in sorted(hidden.spellings()):
        if _folded(name) in text or _folded(escape(name)) in text:
            accepted = "a name that stands in no other line: title, recipe, answer or allergen"
            raise InputError("hide", name, accepted, hint="It would still be told there.")


def _folded(text: str) -> str:
    return normalize("NFKC", text).casefold()


def _mind(recipes: Collection[Recipe], hidden: Hidden) -> list[str]:
    """What can be worked out of what is shown."""
    found = []
    for recipe in recipes:
        parts = [
            one
            for one in recipe.base.parts
            if hidden.has(one.ingredient, ingredient(one.ingredient).name)
        ]
        if parts and len(recipe.base.parts) > len(parts):
            share = 100 * sum(one.share for one in parts)
            found.append(
                f"{recipe.name}: the shares shown leave {share:g} % for what is hidden; "
                "anyone can work that out"
            )
    return found
