"""What calls for care, and what a water allows: shelf, recipe, blend, pack, outing."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import TYPE_CHECKING, Any

from fastapi import APIRouter
from fastapi.responses import Response

from baitwright.web.files import paper_of, pdf_download
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.questions import Question, add_all

if TYPE_CHECKING:
    from baitwright.workshop.care import hazard_questions as tables

pages = APIRouter(include_in_schema=False)


@pages.get("/cautions/premises.pdf")
def premises_pdf(house: InHouse, paper: str = "a4", country: str = "") -> Response:
    """Bottles, allergens and cautions of all that stands here, to hang up."""
    from baitwright.workshop.batches.own_country import own_country
    from baitwright.workshop.care.premises import premises
    from baitwright.workshop.care.premises_sheet import write_premises

    size = paper_of(paper)
    with house.notebook.looking() as book:
        found = premises(book)
        country = country or own_country(book)
    return pdf_download(
        "premises.pdf",
        lambda path: write_premises(path, found, country=country, paper=size, now=house.now),
    )


def _cautions(house: House, told: tables.CautionsQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.care.hazards_asked import cautions_answered

    if not house.notebook.is_there:
        return {}
    with house.notebook.looking() as book:
        return {"parts": cautions_answered(book, told), "country": told.country or ""}


def _recipes(house: House) -> Mapping[str, Any]:
    from baitwright.workshop.recipes.recipe_shelf import recipes

    if not house.notebook.is_there:
        return {"choose": (), "field": "recipe"}
    with house.notebook.looking() as book:
        return {"choose": [(one.name, "") for one in recipes(book)], "field": "recipe"}


def _blend(house: House, told: tables.BlendQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.care.hazards_asked import blend_answered

    with house.notebook.looking() as book:
        return {"parts": blend_answered(book, told)}


def _blends(house: House) -> Mapping[str, Any]:
    from baitwright.workshop.care.hazards_asked import blends_told

    if not house.notebook.is_there:
        return {"choose": (), "field": ""}
    with house.notebook.looking() as book:
        return {"choose": blends_told(book), "field": "blend"}


def _pack(house: House, told: tables.PackQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.care.hazards_asked import pack_answered

    return {"parts": pack_answered(told)}


def _water(house: House, told: tables.WaterQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.care.hazards_asked import water_answered

    with house.notebook.looking() as book:
        return {"parts": water_answered(book, told, today=house.now.date())}


def _waters(house: House) -> Mapping[str, Any]:
    from baitwright.workshop.care.hazards_asked import waters_told

    if not house.notebook.is_there:
        return {"choose": (), "field": ""}
    with house.notebook.looking() as book:
        return {"choose": waters_told(book), "field": "water"}


@cache
def questions() -> dict[str, Question]:
    """What can be asked, by its path."""
    from baitwright.workshop.care import hazard_questions as tables

    return {
        "/cautions": Question(
            "What calls for care",
            tables.CautionsQuestion,
            _cautions,
            about="Bottles, allergens and cautions of all on the shelf, or of one recipe.",
            template="cautions.html",
            shown=_recipes,
            at_once=True,
        ),
        "/cautions/blend": Question(
            "A blend screened",
            tables.BlendQuestion,
            _blend,
            about="Acute toxicity by the mixture formula: a screening, not a classification.",
            template="cautions_blend.html",
            shown=_blends,
        ),
        "/cautions/pack": Question(
            "What a pack may lack",
            tables.PackQuestion,
            _pack,
            about="Limits for a stated weight, and packs as weighed against three rules.",
            template="cautions_blend.html",
            shown=lambda house: {"choose": (), "field": ""},
        ),
        "/water": Question(
            "What a water allows",
            tables.WaterQuestion,
            _water,
            about="Its rules, held against a bag, a batch or an outing before you go.",
            template="water.html",
            shown=_waters,
        ),
    }


_PATHS = ("/cautions", "/cautions/blend", "/cautions/pack", "/water")
add_all(pages, _PATHS, questions=questions)
