"""Recipes: version after version, what differs between any two, and the text of each."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import TYPE_CHECKING

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from baitwright.web.deeds import Deed, Doing, Stands, add_all, here
from baitwright.web.files import PLAIN, download
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.once import Done
from baitwright.web.render import page

if TYPE_CHECKING:
    from baitwright.workshop.forms.changes import Change

pages = APIRouter(include_in_schema=False)


@pages.get("/recipes")
def recipes(request: Request, house: InHouse) -> HTMLResponse:
    """Every recipe with its newest version."""
    from baitwright.workshop.recipes.recipe_shelf import recipes

    with house.notebook.looking() as book:
        found = recipes(book)
    return page(request, "recipes.html", recipes=found)


@pages.get("/recipes/one")
def recipe(request: Request, house: InHouse, name: str) -> HTMLResponse:
    """Every version of a recipe and what each changed."""
    from baitwright.workshop.recipes.recipe_history import history

    with house.notebook.looking() as book:
        found = history(book, name)
    return page(request, "recipe.html", name=name, found=found)


@pages.get("/recipes/version")
def version(request: Request, house: InHouse, *, name: str, number: int) -> HTMLResponse:
    """The file of one version."""
    from baitwright.workshop.recipes.recipe_shelf import version_of

    with house.notebook.looking() as book:
        text = version_of(book, name, number)
    return page(request, "recipe_file.html", name=name, number=number, text=text)


@pages.get("/recipes/version.toml")
def as_file(house: InHouse, name: str, number: int) -> Response:
    """The file of one version, to keep."""
    from baitwright.workshop.recipes.recipe_shelf import version_of

    with house.notebook.looking() as book:
        text = version_of(book, name, number)
    return download(text.encode(), f"{name} {number}.toml", PLAIN)


@pages.get("/recipes/compare")
def compare(request: Request, house: InHouse, *, name: str, was: int, now: int) -> HTMLResponse:
    """What differs between two versions, entry by entry."""
    from baitwright.workshop.recipes.recipe_changes import changes_between
    from baitwright.workshop.recipes.recipe_shelf import version_of

    with house.notebook.looking() as book:
        found = changes_between(version_of(book, name, was), version_of(book, name, now))
    return page(request, "recipe_compare.html", name=name, was=was, now=now, found=found)


def _newest(house: House, of: Mapping[str, str]) -> Stands:
    """The version that is looked at, and its text where there is a field for it."""
    from baitwright.workshop.recipes.recipe_changes import text_of
    from baitwright.workshop.recipes.recipe_shelf import versions

    if not of.get("name"):
        return Stands({"recipe": of["recipe"]} if of.get("recipe") else {})
    with house.notebook.looking() as book:
        last = versions(book, of["name"])[-1]
    return Stands({"recipe": text_of(last)}, str(last.version))


def _before(house: House, of: Mapping[str, str], seen: int) -> Mapping[str, str]:
    from baitwright.workshop.recipes.recipe_shelf import version_of

    with house.notebook.looking() as book:
        return {"recipe": version_of(book, of["name"], seen)}


def _apart(theirs: Mapping[str, str], yours: Mapping[str, str]) -> tuple[Change, ...]:
    """What two texts of a recipe differ in, entry by entry."""
    from baitwright.workshop.recipes.recipe_changes import changes_between

    return changes_between(theirs.get("recipe", ""), yours.get("recipe", ""))


def _keep(doing: Doing) -> Done:
    from baitwright.workshop.recipes.recipe_shelf import keep_recipe
    from baitwright.workshop.records.shelf_words import kept_text

    told, now = doing.told, doing.house.now
    with doing.house.notebook.writing() as book:
        text, seen = f"{told.recipe}\n", doing.version
        kept = keep_recipe(book, text, now=now, reason=told.reason, seen=seen)
    return Done(here("/recipes/one", name=kept.revision.name), kept_text(kept))


def _back(doing: Doing) -> Done:
    from baitwright.workshop.recipes.recipe_taken import take_back
    from baitwright.workshop.records.shelf_words import kept_text

    name = doing.of["name"]
    with doing.house.notebook.writing() as book:
        kept = take_back(book, name, now=doing.house.now, seen=doing.version)
    return Done(here("/recipes/one", name=name), kept_text(kept))


def _away(doing: Doing) -> Done:
    from baitwright.workshop.recipes.recipe_taken import take_away
    from baitwright.workshop.records.shelf_words import kept_text

    name = doing.of["name"]
    with doing.house.notebook.writing() as book:
        kept = take_away(book, name, now=doing.house.now, reason=doing.told.reason)
    return Done(here("/recipes/one", name=name), kept_text(kept))


@cache
def deeds() -> dict[str, Deed]:
    """What can be done here, by the end of its path."""
    from baitwright.workshop.shelf import deed_tables as tables

    return {
        "keep": Deed(
            "Keep a recipe",
            "Keep it",
            tables.RecipeTextTable,
            _keep,
            stands=_newest,
            before=_before,
            apart=_apart,
            about="Paste a recipe file. One of a name that is there becomes its next version.",
            back="/recipes",
        ),
        "back": Deed(
            "Take the last version back",
            "Take it back",
            tables.Nothing,
            _back,
            stands=_newest,
            about="The version before is written once more, as the newest.",
            back="/recipes",
        ),
        "away": Deed(
            "Take the recipe away",
            "Take it away",
            tables.ReasonTable,
            _away,
            about="Its versions stay in the notebook.",
            back="/recipes",
        ),
    }


_NAMES = ("keep", "back", "away")
add_all(pages, "/recipes", _NAMES, deeds=deeds)
