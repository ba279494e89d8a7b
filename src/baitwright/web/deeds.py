"""Deeds: a form that asks for something to be done, and the page it leads to.

A deed is a table of fields and a function. Its page is asked with GET, filled from what the link
says; what it was told comes back with POST, is done once, and leads on.
"""

from __future__ import annotations

from collections.abc import AsyncIterator, Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import partial
from typing import TYPE_CHECKING, Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Depends, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from starlette.datastructures import FormData, UploadFile

from baitwright.terms.errors import InputError
from baitwright.web.guard import TOKEN, holds_token
from baitwright.web.house import House, house_of
from baitwright.web.once import FIELD, Done
from baitwright.web.render import DONE, page

if TYPE_CHECKING:
    from baitwright.notebook.page import ChangedMeanwhileError
    from baitwright.workshop.forms.asked_fields import Asked, Group
    from baitwright.workshop.forms.asked_places import Wrong
    from baitwright.workshop.forms.changes import Change
    from baitwright.workshop.typed.reading import Table

SEEN = "seen"
"""The hidden field that says which version a form was filled from."""
MORE = "more"
"""The button that asks for one more row, and does nothing else."""
_OURS = (TOKEN, FIELD, SEEN, MORE)
Of = Mapping[str, str]
"""What a link says, such as the name of a batch."""


@dataclass(frozen=True, slots=True)
class Doing:
    """A deed under way: where, of what, and what it was told.

    Parameters
    ----------
    house: the workshop.
    of: what the link said.
    told: the table that was filled in.
    raw: the same as a file would have it.
    beside: what was told besides.
    seen: the version it was filled from; none where that was not told.
    files: what was uploaded, by field.
    """

    house: House
    of: Of
    told: Any = None
    raw: Mapping[str, Any] = field(default_factory=dict)
    beside: Mapping[str, str] = field(default_factory=dict)
    seen: str = ""
    files: Mapping[str, UploadFile] = field(default_factory=dict)

    @property
    def version(self) -> int | None:
        """The version it was filled from, where that is a number."""
        return int(self.seen) if self.seen.isdecimal() else None


@dataclass(frozen=True, slots=True)
class Stands:
    """What a form is filled with, the version of it, and what is to be told above it."""

    told: Mapping[str, Any] = field(default_factory=dict)
    seen: str = ""
    shown: Mapping[str, Any] = field(default_factory=dict)


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
    apart: what two tellings differ in, where entries do not say it well.
    without: fields of the table that are not asked here.
    beside: fields that are asked besides the table's.
    file: asks for a file of such content types, too.
    template: another than the usual page.
    kind: of the record it is a deed of; told before the title, with the record's name.
    """

    title: str
    word: str
    table: type[Table]
    do: Callable[[Doing], Done]
    stands: Callable[[House, Of], Stands] | None = None
    about: str = ""
    caution: str = ""
    back: str = "/"
    before: Callable[[House, Of, int], Mapping[str, Any]] | None = None
    apart: Callable[[Mapping[str, Any], Mapping[str, Any]], tuple[Change, ...]] | None = None
    without: tuple[str, ...] = ()
    beside: tuple[Asked, ...] = ()
    file: str = ""
    template: str = "deed.html"
    kind: str = ""

    def group(self, told: Mapping[str, Any]) -> Group:
        """Its fields, filled."""
        from baitwright.workshop.forms.asked_fields import asked

        every = asked(self.table, told)
        fields = (one for one in every.fields if one.name not in self.without)
        return replace(every, fields=(*self.beside, *fields))


async def _form(request: Request) -> AsyncIterator[FormData]:
    async with request.form() as form:
        yield form


Told = Annotated[FormData, Depends(_form)]
"""An argument of a page that is handed what a form sent."""


def add_all(
    pages: APIRouter, at: str, names: Iterable[str], *, deeds: Callable[[], Mapping[str, Deed]]
) -> None:
    """Open the doors of several deeds below a path; their tables are loaded when one is asked."""
    for name in names:
        add_made(pages, f"{at}/{name}", partial(_named, deeds, name))


def _named(deeds: Callable[[], Mapping[str, Deed]], name: str, of: Of) -> Deed:
    return deeds()[name]


def add_made(pages: APIRouter, path: str, deed_of: Callable[[Of], Deed]) -> None:
    """Open the doors of deeds that are made from what the path says."""

    def look(request: Request) -> HTMLResponse:
        deed = deed_of(of_request(request))
        stands = _stands(deed, request)
        return _shown(request, deed, deed.group(stands.told), stands=stands)

    def do(request: Request, form: Told) -> Response:
        return done(request, form, deed_of(of_request(request)))

    guard = [Depends(holds_token)]
    pages.add_api_route(path, look, methods=["GET"], response_class=HTMLResponse)
    pages.add_api_route(path, do, methods=["POST"], dependencies=guard, response_class=HTMLResponse)


def done(request: Request, form: FormData, deed: Deed) -> Response:
    """Do what a form says, once; or tell what is wrong with it and keep what was typed."""
    from baitwright.notebook.page import ChangedMeanwhileError
    from baitwright.workshop.forms.asked_places import Wrong
    from baitwright.workshop.forms.told_fields import told_by
    from baitwright.workshop.forms.web_words import place_in, said_here
    from baitwright.workshop.typed.reading import parse

    house, pairs, seen = house_of(request), typed(form), str(form.get(SEEN, ""))
    own = {one.name for one in deed.beside}
    beside = {name: said.strip() for name, said in pairs if name in own}
    files = {name: one for name, one in form.multi_items() if isinstance(one, UploadFile)}
    raw: dict[str, Any] = {}
    try:
        raw = told_by(deed.table, [pair for pair in pairs if pair[0] not in own])
        _refuse_without(deed, raw)
        if form.get(MORE):
            stands = replace(_stands(deed, request), seen=seen)
            return _shown(request, deed, refilled(deed.group(raw), pairs), stands=stands)
        told = parse(raw, deed.table, where="")
        doing = Doing(house, of_request(request), told, raw, beside, seen, files)
        mark, led = house.once.do(str(form.get(FIELD, "")), lambda: deed.do(doing))
    except ChangedMeanwhileError as error:
        return _changed(request, deed, error, raw=raw)
    except InputError as error:
        stands = replace(_stands(deed, request), seen=seen)
        group = refilled(deed.group(raw or stands.told), pairs)
        wrong = Wrong(said_here(error), place_in(group, error.field))
        return _shown(request, deed, group, stands=stands, error=wrong)
    return leads_to(led.to, mark)


def leads_to(path: str, mark: str = "") -> RedirectResponse:
    """On to another page, which tells what the deed of a mark did."""
    sign = "&" if "?" in path else "?"
    return RedirectResponse(f"{path}{sign}{DONE}={mark}" if mark else path, 303)


def here(path: str, **query: str) -> str:
    """A path of ours with what it is of."""
    return f"{path}?{urlencode(query, safe='/')}"


def of_request(request: Request) -> dict[str, str]:
    """What a link says: the names in its path, and what stands behind them."""
    return {**request.query_params, **request.path_params}


def typed(form: FormData) -> list[tuple[str, str]]:
    """What fields were told, without what our own pages add."""
    every = form.multi_items()
    return [(name, one) for name, one in every if isinstance(one, str) and name not in _OURS]


def refilled(group: Group, pairs: Sequence[tuple[str, str]]) -> Group:
    """Fields with what was typed in them, to the letter, where there is one of each name."""
    said = {name: one for name, one in pairs if "[" not in name}
    fields = tuple(replace(one, value=said.get(one.name, one.value)) for one in group.fields)
    return replace(group, fields=fields, groups=tuple(refilled(one, pairs) for one in group.groups))


def _changed(
    request: Request, deed: Deed, error: ChangedMeanwhileError, *, raw: Mapping[str, Any]
) -> HTMLResponse:
    """Somebody wrote meanwhile: the form with both put together, and what differs told."""
    from baitwright.workshop.forms.asked_places import Wrong
    from baitwright.workshop.forms.both_told import merged
    from baitwright.workshop.forms.web_words import said_here

    stands = _stands(deed, request)
    theirs = {key: one for key, one in stands.told.items() if key in deed.table.model_fields}
    base = theirs
    if deed.before is not None:
        base = dict(deed.before(house_of(request), of_request(request), error.seen))
    both = merged(base, theirs, raw)
    if deed.apart is not None and both.differs:
        both = replace(both, differs=deed.apart(theirs, raw))
    stands = replace(stands, shown={**stands.shown, "meanwhile": both})
    wrong = Wrong(said_here(error), "")
    return _shown(request, deed, deed.group(both.told), stands=stands, error=wrong)


def _refuse_without(deed: Deed, raw: Mapping[str, Any]) -> None:
    for name in deed.without:
        if name in raw:
            raise InputError(name, raw[name], "nothing on this page")


def _stands(deed: Deed, request: Request) -> Stands:
    of = of_request(request)
    if deed.stands is not None:
        return deed.stands(house_of(request), of)
    return Stands({key: one for key, one in of.items() if key in deed.table.model_fields})


def _shown(
    request: Request, deed: Deed, group: Group, *, stands: Stands, error: Wrong | None = None
) -> HTMLResponse:
    told = {"deed": deed, "group": group, "error": error, "once": house_of(request).once.mark()}
    shown = {"seen": stands.seen, "of": of_request(request), "meanwhile": None, **stands.shown}
    return page(request, deed.template, status=200 if error is None else 422, **told, **shown)
