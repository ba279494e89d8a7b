"""Questions and their answers: asked, found, read as they were given, computed again."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query
from fastapi.responses import Response
from pydantic import BaseModel, Field

from baitwright.terms.errors import InputError
from baitwright.web.api.answers import HOLDS, LOOKS, WRITES, said
from baitwright.web.api.notebook import Name, Raw, Words
from baitwright.web.in_house import InHouse
from baitwright.workshop.forms.form import FILES
from baitwright.workshop.forms.form_questions import QuestionTable
from baitwright.workshop.typed.reading import Table

asks = APIRouter()


class QuestionsListed(BaseModel):
    """The last questions, each with the version of its answer, 0 where it has none."""

    questions: list[dict[str, Any]]


class AnswerGiven(BaseModel):
    """An answer as it was given, and what it says otherwise than the version before."""

    name: str
    version: int
    day: str
    question: str
    question_version: int
    label: str
    told: list[list[str]]
    opening: str
    words: str
    closing: str
    program: str
    found: dict[str, Any]
    changed: list[dict[str, Any]]


class QuestionAsked(Table):
    """A question to be written down and answered, or its next version."""

    name: Annotated[str, Field(max_length=80)] = ""
    record: QuestionTable


_GIVEN: dict[int | str, dict[str, Any]] = {200: {"model": AnswerGiven}}


@asks.get("/answers", responses={**LOOKS, 200: {"model": QuestionsListed}})
def listed(house: InHouse, words: Words = "") -> Response:
    """The last questions, or those that hold some words in what was asked or answered."""
    from baitwright.workshop.questions.answer_words import found_json
    from baitwright.workshop.questions.answers_found import find

    with house.notebook.looking() as book:
        return said(found_json(find(book, words)))


@asks.get("/answers/{name:path}", responses={**LOOKS, **_GIVEN})
def told(
    house: InHouse, name: Name, version: Annotated[int | None, Query(ge=1, le=10**9)] = None
) -> Response:
    """An answer as it was given: the newest version unless another is told."""
    from baitwright.workshop.questions.answer_words import advice_json
    from baitwright.workshop.questions.answers_found import advice_of, given

    with house.notebook.looking() as book:
        advice, every = advice_of(book, name, version), given(book, name)
    (changes,) = (one.changes for one in every if one.advice.version == advice.version)
    return said(advice_json(advice, changes))


@asks.post(
    "/answers",
    status_code=201,
    dependencies=HOLDS,
    responses={**WRITES, 201: {"model": AnswerGiven}},
)
def put(asked: QuestionAsked, raw: Raw, house: InHouse) -> Response:
    """Write a question down and answer it; nothing is written of one that is asked back."""
    from pathlib import Path

    from baitwright.notebook.where import folder_of
    from baitwright.workshop.forms.attached import Beside
    from baitwright.workshop.questions.answer_book import put as put_down
    from baitwright.workshop.questions.answer_words import advice_json
    from baitwright.workshop.records.record_forms import Told

    entries = raw["record"]
    if entries.get(FILES):
        raise InputError(FILES, "paths", "none here: attach them on the record's page")
    told = Told(lambda standing: entries, Beside(folder_of(house.place), Path()), asked.name)
    with house.notebook.writing() as book:
        made = put_down(book, told, now=house.notebook.clock())
    return said(advice_json(made.advice, made.changes), 201)


@asks.post("/answers/{name:path}", dependencies=HOLDS, responses={**WRITES, **_GIVEN})
def again(house: InHouse, name: Name) -> Response:
    """Compute an answer again, by today's program, tables and factors."""
    from baitwright.workshop.questions.answer_book import answer
    from baitwright.workshop.questions.answer_words import advice_json

    with house.notebook.writing() as book:
        made = answer(book, name, now=house.notebook.clock())
    return said(advice_json(made.advice, made.changes))
