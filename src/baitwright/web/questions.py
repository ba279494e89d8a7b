"""Questions: a form that only asks, with its answer below it; the link holds all of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from baitwright.terms.errors import InputError
from baitwright.web.deeds import refilled
from baitwright.web.house import House, house_of
from baitwright.web.render import DONE, page

if TYPE_CHECKING:
    from baitwright.workshop.typed.reading import Table


@dataclass(frozen=True, slots=True)
class Question:
    """One question.

    Parameters
    ----------
    title: of its page.
    table: what it asks.
    answer: what the template tells of it.
    about: told above the form.
    shown: what the template tells before anything is asked.
    template: another than the usual page.
    at_once: answered before anything is asked, where ``answer`` has one.
    place: where an error leads that is about none of the fields.
    """

    title: str
    table: type[Table]
    answer: Callable[[House, Any], Mapping[str, Any]]
    about: str = ""
    shown: Callable[[House], Mapping[str, Any]] = field(default=lambda house: {})
    template: str = "question.html"
    at_once: bool = False
    place: str = ""


def add_all(
    pages: APIRouter, paths: Iterable[str], *, questions: Callable[[], Mapping[str, Question]]
) -> None:
    """Open the doors of several questions; their tables are loaded when one is asked."""
    for path in paths:
        look = _look(questions, path)
        pages.add_api_route(path, look, methods=["GET"], response_class=HTMLResponse)


def _look(
    questions: Callable[[], Mapping[str, Question]], path: str
) -> Callable[[Request], HTMLResponse]:
    def look(request: Request) -> HTMLResponse:
        return _shown(request, questions()[path])

    return look


def _shown(request: Request, question: Question) -> HTMLResponse:
    from baitwright.workshop.forms.asked_fields import asked
    from baitwright.workshop.forms.asked_places import Wrong
    from baitwright.workshop.forms.told_fields import told_by
    from baitwright.workshop.forms.web_words import place_in, said_here
    from baitwright.workshop.typed.reading import parse

    house = house_of(request)
    pairs = [pair for pair in request.query_params.multi_items() if pair[0] != DONE]
    raw: dict[str, Any] = {}
    answer, error, group = None, None, asked(question.table, {})
    try:
        raw = told_by(question.table, pairs)
        group = refilled(asked(question.table, raw), pairs)
        if raw or question.at_once:
            answer = question.answer(house, parse(raw, question.table, where="")) or None
    except InputError as refused:
        group = refilled(asked(question.table, raw), pairs)
        place = place_in(group, refused.field) or question.place
        error = Wrong(said_here(refused), place)
    told = {"question": question, "group": group, "error": error, "answer": answer}
    told["query"] = urlencode(pairs)
    status = 200 if error is None else 422
    return page(request, question.template, status=status, **told, **question.shown(house))
