"""The question desk: questions answered, found again, sent; copies to send, and what is held."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import cache
from typing import TYPE_CHECKING, Any

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from baitwright.terms.errors import InputError
from baitwright.web.deeds import Deed, Doing, Of, Stands, add_all, here
from baitwright.web.files import PLAIN, download, paper_of
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.once import Done
from baitwright.web.questions import Question
from baitwright.web.questions import add_all as add_questions
from baitwright.web.render import page
from baitwright.web.turns import IN_TURN

if TYPE_CHECKING:
    from baitwright.workshop.questions.answer_book import Answered
    from baitwright.workshop.questions.copy_tables import CopyQuestion
    from baitwright.workshop.questions.travelling_copy import Made

pages = APIRouter(include_in_schema=False)
_KINDS = {".pdf": "application/pdf", ".html": "text/html; charset=utf-8", ".txt": PLAIN}


@pages.get("/ask")
def asked(request: Request, house: InHouse, words: str = "") -> HTMLResponse:
    """The last questions, or those that hold some words."""
    from baitwright.workshop.questions.answers_found import find
    from baitwright.workshop.questions.question_begun import templates

    if not house.notebook.is_there:
        return page(request, "asked.html", found=(), words=words, templates=())
    with house.notebook.looking() as book:
        found, own = find(book, words), templates(book)
    return page(request, "asked.html", found=found, words=words, templates=own)


@pages.get("/ask/one")
def one(request: Request, house: InHouse, *, name: str, version: int | None = None) -> HTMLResponse:
    """An answer as it was given, with its versions; a question that has none yet is led to."""
    from baitwright.workshop.questions.answer_view import answer_view

    with house.notebook.looking() as book:
        found = answer_view(book, name, version)
    return page(request, "answered.html", found=found, once=house.once.mark())


@pages.get("/ask/sheet{ending}", dependencies=[IN_TURN])
def sheet(
    house: InHouse, ending: str, *, name: str, version: int | None = None, paper: str = "a4"
) -> Response:
    """An answer to print, to mail, or for a message."""
    from baitwright.workshop.questions.answer_sheets import sheet_of
    from baitwright.workshop.questions.answers_found import advice_of

    with house.notebook.looking() as book:
        made = sheet_of(advice_of(book, name, version), ending, paper_of(paper))
    return download(made.content, f"answer{ending}", _KINDS[ending])


@pages.get("/ask/held.json")
def held(house: InHouse, person: str) -> Response:
    """All that is held about somebody, to hand over."""
    from baitwright.workshop.copies.held_about import held_about

    with house.notebook.looking() as book:
        told = held_about(book, person)
    text = json.dumps(told, ensure_ascii=False, indent=2)
    return download(text.encode(), "held.json", "application/json")


@pages.get("/ask/copy.html")
def copy(request: Request, house: InHouse) -> Response:
    """Chosen recipes and answers as one file."""
    from baitwright.workshop.forms.told_fields import told_by
    from baitwright.workshop.questions.copy_tables import CopyQuestion
    from baitwright.workshop.typed.reading import parse

    raw = told_by(CopyQuestion, request.query_params.multi_items())
    made = _copied(house, parse(raw, CopyQuestion, where=""))
    return download(made.sheet.content, "copy.html", _KINDS[".html"])


def _copied(house: House, told: CopyQuestion) -> Made:
    from baitwright.workshop.questions.travelling_copy import Chosen, travelling_copy

    with house.notebook.looking() as book:
        chosen = Chosen(told.recipes, told.answers, hide=told.hide, title=told.title)
        return travelling_copy(book, chosen)


def _copy(house: House, told: CopyQuestion) -> Mapping[str, Any]:
    return {"made": _copied(house, told)}


def _known(house: House) -> Mapping[str, Any]:
    """What can be chosen."""
    from baitwright.workshop.questions.answers_found import find
    from baitwright.workshop.recipes.recipe_shelf import recipes

    if not house.notebook.is_there:
        return {"recipes": (), "answers": ()}
    with house.notebook.looking() as book:
        kept = tuple(one.name for one in recipes(book))
        return {"recipes": kept, "answers": tuple(one for one in find(book) if one.version)}


@cache
def questions() -> dict[str, Question]:
    """What can be asked, by its path."""
    from baitwright.workshop.questions.copy_tables import CopyQuestion

    return {
        "/ask/copy": Question(
            "A copy to send",
            CopyQuestion,
            _copy,
            about="Recipes and answers in one file that needs no network; hidden lines stay here.",
            template="copy.html",
            shown=_known,
        ),
    }


add_questions(pages, ("/ask/copy",), questions=questions)


def _begun(house: House, of: Of) -> Stands:
    """What a link or a template tells of a new question."""
    from baitwright.workshop.forms.form_questions import QuestionTable
    from baitwright.workshop.questions.question_begun import begun_with

    told = {key: one for key, one in of.items() if key in QuestionTable.model_fields}
    if of.get("template") and house.notebook.is_there:
        with house.notebook.looking() as book:
            told = {**begun_with(book, of["template"]), **told}
    return Stands(told)


def _put(doing: Doing) -> Done:
    from pathlib import Path

    from baitwright.notebook.where import folder_of
    from baitwright.workshop.forms.attached import Beside
    from baitwright.workshop.questions.answer_book import put
    from baitwright.workshop.records.record_forms import Told

    told = Told(lambda standing: doing.raw, Beside(folder_of(doing.house.place), Path()))
    with doing.house.notebook.writing() as book:
        return _done(put(book, told, now=doing.house.now))


def _again(doing: Doing) -> Done:
    from baitwright.workshop.questions.answer_book import answer

    with doing.house.notebook.writing() as book:
        return _done(answer(book, doing.of["name"], now=doing.house.now))


def _done(made: Answered) -> Done:
    version, name = made.advice.version, made.advice.name
    to = here("/ask/one", name=name)
    if not made.is_new:
        return Done(to, "Nothing changed: version %(version)s stands.", {"version": version})
    return Done(to, "Answered as version %(version)s.", {"version": version})


def _asked_of(house: House, of: Of) -> Stands:
    if not of.get("name"):
        raise InputError("name", None, "the name of a question")
    return Stands()


@cache
def deeds() -> dict[str, Deed]:
    """What can be done here, by the end of its path."""
    from baitwright.workshop.forms.form_questions import QuestionTable
    from baitwright.workshop.shelf.deed_tables import Nothing

    return {
        "new": Deed(
            "Answer a question",
            "Answer it",
            QuestionTable,
            _put,
            stands=_begun,
            about="What they have and what they want, in their words. What is missing is asked "
            "back in one line, and nothing is written until it can be answered.",
            back="/ask",
            without=("files",),
        ),
        "again": Deed(
            "Answer it again",
            "Compute it again",
            Nothing,
            _again,
            stands=_asked_of,
            about="By today's program, tables and factors; what changed is told, and the answer "
            "that was given stays.",
            back="/ask",
        ),
    }


_NAMES = ("new", "again")
add_all(pages, "/ask", _NAMES, deeds=deeds)
