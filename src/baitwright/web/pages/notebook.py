"""The notebook: every kind of record through one list, one page and one form."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache, partial
from typing import TYPE_CHECKING, Any

from fastapi import APIRouter, HTTPException, Request
from fastapi.responses import FileResponse, HTMLResponse, Response

from baitwright.web.deeds import Deed, Doing, Of, Stands, add_made, here
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.once import Done
from baitwright.web.render import page

if TYPE_CHECKING:
    from baitwright.workshop.forms.form import Form

pages = APIRouter(include_in_schema=False)
PERSON = "person"
WHY = "why_changed"
_CALLED = {
    "ingredient": "semolina",
    "core": "cork-ball 9 mm",
    "hook": "size 6",
    "tub": "Copper",
    "blend": "Winter mix",
    "water": "Long Reedpool",
    "template": "usual",
}
"""What records of a kind may be called; others are called as a liquid is."""


@pages.get("/notebook")
def cover(request: Request, house: InHouse, words: str = "") -> HTMLResponse:
    """Every kind of record, or what a search found in all of them."""
    from baitwright.workshop.factors.learning_cover import cover as learned
    from baitwright.workshop.forms.read_records import search
    from baitwright.workshop.records.record_view import kinds, listed

    with house.notebook.looking() as book:
        told, found = kinds(book), listed(search(book, words)) if words.strip() else []
        taught = learned(book)
    return page(request, "notebook.html", kinds=told, found=found, words=words, taught=taught)


@pages.get("/notebook/{kind}")
def records(request: Request, house: InHouse, *, kind: str, words: str = "") -> HTMLResponse:
    """The last records of a kind."""
    from baitwright.workshop.forms.form_lists import is_blank
    from baitwright.workshop.forms.read_records import records
    from baitwright.workshop.records.people_book import people
    from baitwright.workshop.records.record_view import listed, listed_people

    form, blank = form_of(kind), None
    with house.notebook.looking() as book:
        if kind == PERSON:
            found = listed_people(people(book))
        else:
            rows = records(book, form, words=words)
            found = listed(rows)
            blank = sum(map(is_blank, rows)) if kind == "night" and rows else None
    return page(request, "records.html", kind=kind, found=found, words=words, blank=blank)


@pages.get("/notebook/{kind}/one")
def record(request: Request, house: InHouse, *, kind: str, name: str) -> HTMLResponse:
    """One record with its versions and its files."""
    from baitwright.notebook.attachments import shelf_beside
    from baitwright.workshop.records.record_view import record_view

    with house.notebook.looking() as book:
        found = record_view(book, form_of(kind), name, files=shelf_beside(house.place))
    return page(request, "record.html", found=found, once=house.once.mark())


@pages.get("/notebook/{kind}/file")
def file(house: InHouse, kind: str, *, name: str, sha256: str) -> Response:
    """A photo or paper that a record mentions, handed out as what its content is."""
    from baitwright.notebook.attachments import shelf_beside
    from baitwright.workshop.forms.read_records import history
    from baitwright.workshop.records.attaching import content_of, find

    with house.notebook.looking() as book:
        versions = history(book, form_of(kind), name)
    path = find(versions, sha256, shelf_beside(house.place))
    if path is None:
        raise HTTPException(404, "That file is gone from where it lay, or no longer what it was.")
    content = content_of(path)
    name = f"{kind}-{sha256[:8]}.{content.ending}"
    return FileResponse(path, media_type=content.type, filename=name)


def form_of(kind: str) -> Form:
    """The form of a kind of record.

    Raises
    ------
    InputError: there is none.
    """
    from baitwright.workshop.forms.forms import form_of

    return form_of(kind)


def _path(kind: str, name: str) -> str:
    return here(f"/notebook/{kind}/one", name=name)


def _deed(title: str, word: str, do: Callable[[Doing], Done], **more: Any) -> Callable[[Of], Deed]:
    """A deed of a record's kind, turned back to that record or to its list."""

    def made(of: Of) -> Deed:
        kind = of["kind"]
        form_of(kind)
        back = _path(kind, of["name"]) if of.get("name") else f"/notebook/{kind}"
        return Deed(title, word, do=do, back=back, kind=kind, **more)

    return made


def _form(of: Of, *, is_new: bool) -> Deed:
    from baitwright.workshop.forms.asked_fields import Asked
    from baitwright.workshop.forms.form import FILES
    from baitwright.workshop.forms.web_words import CALLED

    form = form_of(of["kind"])
    why = Asked(WHY, "Why it changed", "For later.", example="weighed again")
    named = Asked(CALLED, "Name", "Its day and a number unless told.")
    if form.is_named:
        named = Asked(CALLED, "Name", "As you call it.", example=_CALLED.get(form.kind, "Malt"))
        named = replace(named, is_required=True)
    beside = (named,) if is_new else (why,)
    return _deed(
        "a new one" if is_new else "change it",
        "Write it down",
        _write,
        table=form.table,
        stands=_stands,
        before=_before,
        without=(FILES,) if FILES in form.table.model_fields else (),
        beside=() if form.kind == PERSON else beside,
        template="record_form.html",
    )(of)


def _stands(house: House, of: Of) -> Stands:
    """What a record says, or what the link tells of a new one."""
    from baitwright.workshop.forms.read_records import standing_of
    from baitwright.workshop.records.people_book import mark_of

    form, name = form_of(of["kind"]), of.get("name", "")
    if not name:
        told = {key: one for key, one in of.items() if key in form.table.model_fields}
        return Stands(told, "0")
    with house.notebook.looking() as book:
        version, told = standing_of(book, form, name)
    kept = {key: one for key, one in told.items() if key not in form.passing}
    return Stands(kept, mark_of(told) if form.kind == PERSON else str(version))


def _before(house: House, of: Of, seen: int) -> Mapping[str, Any]:
    from baitwright.workshop.forms.read_records import written_at

    with house.notebook.looking() as book:
        return written_at(book, form_of(of["kind"]), of["name"], version=seen)


def _write(doing: Doing) -> Done:
    from baitwright.notebook.where import folder_of
    from baitwright.workshop.entries.made_words import moved_text
    from baitwright.workshop.forms.attached import Beside
    from baitwright.workshop.forms.web_words import CALLED
    from baitwright.workshop.nights.night_doubts import doubts_text
    from baitwright.workshop.records.form_text import written_text
    from baitwright.workshop.records.people_book import record_person, unless_marked
    from baitwright.workshop.records.record_forms import Told, record

    form, name = form_of(doing.of["kind"]), doing.of.get("name", "")
    folder = folder_of(doing.house.place)
    told = Told(
        lambda standing: doing.raw,
        Beside(folder, folder),
        name or doing.beside.get(CALLED, ""),
        seen=doing.version if name or doing.beside.get(CALLED) else None,
        reason=doing.beside.get(WHY, ""),
    )
    with doing.house.notebook.writing() as book:
        if form.kind == PERSON:
            fill = unless_marked(name, doing.seen, doing.raw)
            code = record_person(book, Told(fill, told.beside, name), now=doing.house.now)
            return Done(_path(PERSON, code), "%(name)s: written down", {"name": code})
        made = record(book, form, told, now=doing.house.now)
        said = (written_text(made), moved_text(book, made), doubts_text(book, made))
    return Done(_path(form.kind, made.name), "\n".join(filter(None, said)))


def _undo(doing: Doing) -> Done:
    from baitwright.workshop.records.form_text import written_text
    from baitwright.workshop.records.record_forms import undo

    form, name = form_of(doing.of["kind"]), doing.of["name"]
    with doing.house.notebook.writing() as book:
        made = undo(book, form, name, now=doing.house.now, seen=doing.version)
    return Done(_path(form.kind, name), written_text(made))


def _away(doing: Doing) -> Done:
    from baitwright.workshop.records.form_text import written_text
    from baitwright.workshop.records.record_forms import take_away

    form, name, why = form_of(doing.of["kind"]), doing.of["name"], doing.told.reason
    with doing.house.notebook.writing() as book:
        made = take_away(book, form, name, now=doing.house.now, reason=why, seen=doing.version)
    return Done(_path(form.kind, name), written_text(made))


def _attach(doing: Doing) -> Done:
    from baitwright.notebook.attachments import shelf_beside
    from baitwright.web.files import kept_upload
    from baitwright.workshop.records.attaching import Waiting, attach

    form, name, house = form_of(doing.of["kind"]), doing.of["name"], doing.house
    upload = kept_upload(doing)
    try:
        waiting = Waiting(upload.path, shelf_beside(house.place), doing.version)
        with house.notebook.writing() as book:
            attach(book, form, name, waiting=waiting, now=house.now)
    finally:
        house.uploads.drop(upload.mark)
    return Done(_path(form.kind, name), "The file lies beside the notebook now.")


def _detach(doing: Doing) -> Done:
    from baitwright.workshop.records.attaching import Off, detach

    form, of, now = form_of(doing.of["kind"]), doing.of, doing.house.now
    with doing.house.notebook.writing() as book:
        off = Off(of.get("sha256", ""), doing.version)
        detach(book, form, of["name"], off=off, now=now)
    return Done(_path(form.kind, of["name"]), "It is mentioned no more; earlier versions still do.")


def _seen(house: House, of: Of) -> Stands:
    """The version that is looked at, for deeds that ask nothing of the record."""
    return Stands({}, _stands(house, of).seen)


@cache
def deeds() -> dict[str, Callable[[Of], Deed]]:
    """What can be done with a record, by the end of its path."""
    from baitwright.workshop.shelf.deed_tables import Nothing, ReasonTable

    return {
        "new": lambda of: _form(of, is_new=True),
        "change": lambda of: _form(of, is_new=False),
        "undo": _deed(
            "take the last version back",
            "Take it back",
            _undo,
            table=Nothing,
            stands=_seen,
            about="The version before is written once more, as the newest.",
        ),
        "away": _deed(
            "take it away",
            "Take it away",
            _away,
            table=ReasonTable,
            stands=_seen,
            about="Its versions stay in the notebook.",
        ),
        "attach": _deed(
            "add a photo or a paper",
            "Keep it",
            _attach,
            table=Nothing,
            stands=_seen,
            about="A photo (JPEG, PNG, WebP, GIF, HEIC) or a PDF, of 20 MB at most.",
            file="image/*,application/pdf",
        ),
        "detach": _deed(
            "take the file off",
            "Take it off",
            _detach,
            table=Nothing,
            stands=_seen,
            about="The record mentions it no more. The file stays where it lies.",
        ),
    }


def _named(name: str, of: Of) -> Deed:
    return deeds()[name](of)


for _name in ("new", "change", "undo", "away", "attach", "detach"):
    add_made(pages, f"/notebook/{{kind}}/{_name}", partial(_named, _name))
