"""Deeds: a form that asks for something to be done, and the page it leads to.

A deed is a table of fields and a function. Its page is asked with GET, filled from what the link
says; what it was told comes back with POST, is done once, and leads on.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import FormData, UploadFile

from baitwright.notebook.page import ChangedMeanwhileError
from baitwright.terms.errors import InputError
from baitwright.web.guard import TOKEN, holds_token
from baitwright.web.house import House, house_of
from baitwright.web.once import FIELD, Done
from baitwright.web.render import DONE, page
from baitwright.workshop.asked_fields import Group, asked
from baitwright.workshop.asked_places import Wrong
from baitwright.workshop.both_told import merged
from baitwright.workshop.reading import Table, parse
from baitwright.workshop.told_fields import told_by
from baitwright.workshop.web_words import place_in, said_here

SEEN = "seen"
"""The hidden field that says which version a form was filled from."""
_OURS = (TOKEN, FIELD, SEEN)


class Nothing(Table):
    """A deed that only has to be said yes to."""


@dataclass(frozen=True, slots=True)
class Doing:
    """A deed under way: where, of what, and what it was told.

    Parameters
    ----------
    house: the workshop.
    of: what the link said, such as the name of a batch.
    told: the table that was filled in.
    seen: the version it was filled from, as the page sent it back.
    files: what was uploaded, by field.
    """

    house: House
    of: Mapping[str, str]
    told: Any = None
    seen: str = ""
    files: Mapping[str, UploadFile] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Stands:
    """What a form is filled with, the version of it, and what is to be told above it."""

    told: Mapping[str, Any] = field(default_factory=dict)
    seen: str = ""
    shown: Mapping[str, Any] = field(default_factory=dict)


Before = Callable[[House, Mapping[str, str], int], Mapping[str, Any]]
Stood = Callable[[House, Mapping[str, str]], Stands]


@dataclass(frozen=True, slots=True)
class Deed:
    """One thing a maker does.

    Parameters
    ----------
    title: of its page.
    word: on its button.
    table: what it asks.
    do: does it; the page to go to next.
    stands: fills the form; what the link says, unless told.
    about, caution: told above the form.
    back: where to turn round.
    before: what stood in a version, for putting together what two wrote.
    file: asks for a file of such content types, too.
    template: another than the usual page.
    """

    title: str
    word: str
    table: type[Table]
    do: Callable[[Doing], Done]
    stands: Stood | None = None
    about: str = ""
    caution: str = ""
    back: str = "/"
    before: Before | None = None
    file: str = ""
    template: str = "deed.html"


async def _form(request: Request) -> FormData:
    return await request.form()


Told = Annotated[FormData, Depends(_form)]


def add(pages: APIRouter, path: str, deed: Deed) -> None:
    """Open a deed's door under a path."""

    def look(request: Request) -> HTMLResponse:
        house, of = house_of(request), of_request(request)
        stands = _stands(deed, house, of)
        group = asked(deed.table, stands.told)
        return _shown(request, deed, group=group, stands=stands, mark=house.once.mark())

    def do(request: Request, form: Told) -> Response:
        return done(request, form, deed)

    pages.add_api_route(path, look, methods=["GET"], response_class=HTMLResponse)
    guard = [Depends(holds_token)]
    pages.add_api_route(path, do, methods=["POST"], dependencies=guard, response_class=HTMLResponse)


def done(request: Request, form: FormData, deed: Deed) -> Response:
    """Do what a form says, once; or tell what is wrong with it and keep what was typed."""
    house, of = house_of(request), of_request(request)
    pairs = typed(form)
    files = {name: one for name, one in form.multi_items() if isinstance(one, UploadFile)}
    raw: dict[str, Any] = {}
    try:
        raw = told_by(deed.table, pairs)
        told = parse(raw, deed.table, where="")
        doing = Doing(house, of, told, str(form.get(SEEN, "")), files)
        mark, led = house.once.do(str(form.get(FIELD, "")), lambda: deed.do(doing))
    except ChangedMeanwhileError as error:
        return _changed(request, deed, error, raw=raw)
    except InputError as error:
        stands = _stands(deed, house, of)
        group = refilled(asked(deed.table, raw or stands.told), pairs)
        wrong = Wrong(said_here(error), place_in(group, error.field))
        stands = replace(stands, seen=str(form.get(SEEN, "")))
        mark = house.once.mark()
        return _shown(request, deed, group=group, stands=stands, mark=mark, error=wrong)
    return leads_to(led.to, mark)


def _changed(
    request: Request, deed: Deed, error: ChangedMeanwhileError, *, raw: Mapping[str, Any]
) -> HTMLResponse:
    """Somebody wrote meanwhile: the form with both put together, and what differs told."""
    house, of = house_of(request), of_request(request)
    stands = _stands(deed, house, of)
    base = deed.before(house, of, error.seen) if deed.before is not None else {}
    both = merged(base, stands.told, raw)
    stands = replace(stands, shown={**stands.shown, "meanwhile": both})
    group = asked(deed.table, both.told)
    mark, wrong = house.once.mark(), Wrong(said_here(error), "")
    return _shown(request, deed, group=group, stands=stands, mark=mark, error=wrong)


def of_request(request: Request) -> dict[str, str]:
    """What a link says: the names in its path, and what stands behind them."""
    return {**request.query_params, **request.path_params}


def leads_to(path: str, mark: str = "") -> RedirectResponse:
    """On to another page, which tells what the deed of a mark did."""
    sign = "&" if "?" in path else "?"
    return RedirectResponse(f"{path}{sign}{DONE}={mark}" if mark else path, 303)


def here(path: str, **query: str) -> str:
    """A path of ours with what it is of."""
    return f"{path}?{urlencode(query, safe='/')}"


def typed(form: FormData) -> list[tuple[str, str]]:
    """What fields were told, without what our own pages add."""
    every = form.multi_items()
    return [(name, one) for name, one in every if isinstance(one, str) and name not in _OURS]


def refilled(group: Group, pairs: Sequence[tuple[str, str]]) -> Group:
    """Fields with what was typed in them, to the letter, where there is one of each name."""
    said = {name: one for name, one in pairs if "[" not in name}
    fields = tuple(replace(one, value=said.get(one.name, one.value)) for one in group.fields)
    return replace(group, fields=fields, groups=tuple(refilled(one, pairs) for one in group.groups))


def _stands(deed: Deed, house: House, of: Mapping[str, str]) -> Stands:
    if deed.stands is not None:
        return deed.stands(house, of)
    return Stands({key: one for key, one in of.items() if key in deed.table.model_fields})


def _shown(
    request: Request,
    deed: Deed,
    *,
    group: Group,
    stands: Stands,
    mark: str,
    error: Wrong | None = None,
) -> HTMLResponse:
    told: dict[str, Any] = {"deed": deed, "group": group, "error": error, "once": mark}
    status = 200 if error is None else 422
    shown = {"seen": stands.seen, "of": of_request(request), "meanwhile": None, **stands.shown}
    return page(request, deed.template, status=status, **told, **shown)
