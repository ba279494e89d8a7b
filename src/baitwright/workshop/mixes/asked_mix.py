"""A mix as a page asks for it: begun with a recipe or typed in, and what comes of it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from baitwright.materials.powders import ingredients
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.asked_fields import Group, asked
from baitwright.workshop.forms.asked_places import Wrong
from baitwright.workshop.forms.told_fields import told_by
from baitwright.workshop.mixes.mix_analysis import Besides, analysed
from baitwright.workshop.mixes.mix_limits import read_limit
from baitwright.workshop.mixes.mix_page import MixAnswer
from baitwright.workshop.mixes.mix_prices import priced_by_shelf
from baitwright.workshop.plans.plan_words import wrong_at
from baitwright.workshop.recipe_files.demo import demo_recipe
from baitwright.workshop.recipe_files.mix_file import mix_from
from baitwright.workshop.recipe_files.mix_tables import MixForm
from baitwright.workshop.recipes.recipe_changes import text_of
from baitwright.workshop.recipes.recipe_shelf import recipes
from baitwright.workshop.typed.toml_reading import in_toml

DEMO, EMPTY, RECIPE = "demo", "empty", "recipe:"
HOLD, CARP = "hold", "carp"
_UNNAMED = "This mix"


def names() -> tuple[str, ...]:
    """Every ingredient that a part may be."""
    return tuple(sorted(ingredients()))


def recipe_names(book: Notebook | None) -> tuple[str, ...]:
    """Recipes that a mix can be taken from."""
    return () if book is None else tuple(one.name for one in recipes(book))


def begun(start: str, book: Notebook | None) -> Mapping[str, Any]:
    """The mix that a page begins with: of a recipe, of the demonstration, or none.

    Raises
    ------
    InputError: no such recipe.
    """
    if start == EMPTY:
        return {}
    if start.startswith(RECIPE):
        wanted = start.removeprefix(RECIPE)
        kept = {one.name: one for one in (() if book is None else recipes(book))}
        if wanted not in kept:
            accepted = f"one of the notebook: {', '.join(kept) or 'none yet'}"
            raise InputError("start", wanted, accepted)
        return _of_recipe(in_toml(text_of(kept[wanted]), where=""))
    return _of_recipe(demo_recipe())


def _of_recipe(data: Mapping[str, Any]) -> Mapping[str, Any]:
    base = {key: data["base"][key] for key in MixForm.model_fields if key in data["base"]}
    return base | ({"hardener": data["hardener"]} if "hardener" in data else {})


def answer_of(
    pairs: Iterable[tuple[str, str]], start: str = "", book: Notebook | None = None
) -> MixAnswer:
    """A page of a mix, by what its fields tell, or by what it is to begin with.

    Prices are those that the shelf paid, where there is a notebook.
    """
    typed = [(name, told) for name, told in pairs if told.strip()]
    hold = next((told for name, told in typed if name == HOLD), "")
    carp = any(name == CARP for name, _ in typed)
    rest = [pair for pair in typed if pair[0] not in (HOLD, CARP)]
    data: Mapping[str, Any] = {}
    try:
        data = told_by(MixForm, rest) if rest else begun(start, book)
        form = asked(MixForm, data)
        query = _query(form, hold, carp=carp)
        if not data:
            return MixAnswer(form, hold, carp, query)
        told = mix_from({"name": _UNNAMED, **data}, where="")
        told = told if book is None else priced_by_shelf(book, told)
        limits = tuple(read_limit(one, HOLD) for one in hold.split(";") if one.strip())
        found = analysed(told, Besides(limits=limits, carp=carp))
    except InputError as error:
        form = asked(MixForm, data)
        query = _query(form, hold, carp=carp)
        wrong = Wrong(str(error), HOLD) if error.field == HOLD else wrong_at(form, error)
        return MixAnswer(form, hold, carp, query, error=wrong)
    return MixAnswer(form, hold, carp, query, found)


def _query(form: Group, hold: str, *, carp: bool) -> tuple[tuple[str, str], ...]:
    told = [(one.name, one.value) for one in form.walk() if one.value]
    told += [(HOLD, hold)] if hold else []
    return (*told, *([(CARP, "yes")] if carp else []))
