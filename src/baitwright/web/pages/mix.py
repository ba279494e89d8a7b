"""The mix bench: a mix taken apart, the why of each number, and what goes with a recipe."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import TYPE_CHECKING, Any
from urllib.parse import parse_qsl, urlencode

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from baitwright.web.asking import NUMBER, START, status_of
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.questions import Question, add_all
from baitwright.web.render import page

if TYPE_CHECKING:
    from baitwright.workshop.mixes import mix_questions as tables

pages = APIRouter(include_in_schema=False)


@pages.get("/mix")
def mix(request: Request, house: InHouse) -> HTMLResponse:
    """The form, and the mix taken apart."""
    from baitwright.workshop.mixes.asked_mix import names

    answer, recipes = _answered(request.query_params.multi_items(), house)
    return page(
        request,
        "mix.html",
        status=status_of(request, answer.error),
        answer=answer,
        error=answer.error,
        shown=answer.shown,
        query=urlencode(answer.query),
        recipes=recipes,
        names=names(),
    )


@pages.get("/mix/why")
def why(request: Request, house: InHouse, *, query: str = "") -> HTMLResponse:
    """One number of the mix opened; the mix is told by its fields, or by its query."""
    from baitwright.workshop.plans.why import why as opened

    pairs = parse_qsl(query) if query else request.query_params.multi_items()
    answer, _ = _answered(pairs, house)
    if answer.found is None:
        return mix(request, house)
    found = opened(answer.found, request.query_params.get(NUMBER, ""))
    return page(request, "mix_why.html", why=found, back=f"/mix?{urlencode(answer.query)}")


def _answered(pairs: list[tuple[str, str]], house: House) -> tuple[Any, tuple[str, ...]]:
    from baitwright.workshop.mixes.asked_mix import answer_of, recipe_names

    start = dict(pairs).get(START, "")
    fields = [pair for pair in pairs if pair[0] not in (START, NUMBER)]
    if not house.notebook.is_there:
        return answer_of(fields, start), ()
    with house.notebook.looking() as book:
        return answer_of(fields, start, book), recipe_names(book)


def _kept(house: House) -> Mapping[str, Any]:
    from baitwright.workshop.mixes.asked_mix import recipe_names

    if not house.notebook.is_there:
        return {"choose": (), "field": "recipe"}
    with house.notebook.looking() as book:
        return {"choose": [(name, "") for name in recipe_names(book)], "field": "recipe"}


def _match(house: House, told: tables.MatchQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.baits.match_shown import match_shown

    with house.notebook.looking() as book:
        return {"parts": match_shown(book, told, now=house.now)}


def _winter(house: House, told: tables.WinterQuestion) -> Mapping[str, Any]:
    from baitwright.workshop.baits.winter_shown import winter_shown

    with house.notebook.looking() as book:
        parts, text = winter_shown(book, told, now=house.now)
    return {"parts": parts, "file": text}


@cache
def questions() -> dict[str, Question]:
    """What can be asked of a recipe's mix, by its path."""
    from baitwright.workshop.mixes import mix_questions as tables

    return {
        "/mix/match": Question(
            "The matching free bait",
            tables.MatchQuestion,
            _match,
            about="The same base unsieved at its own level: what to make, and both side by side.",
            shown=_kept,
            template="mix_question.html",
            place="kilos",
        ),
        "/mix/winter": Question(
            "A recipe for cold water",
            tables.WinterQuestion,
            _winter,
            about="Less oil, more that dissolves, smaller: what changes and what the lake gets.",
            shown=_kept,
            template="mix_question.html",
            place="recipe",
        ),
    }


add_all(pages, ("/mix/match", "/mix/winter"), questions=questions)
