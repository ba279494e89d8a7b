"""Complaints: the open ones, one followed to who else has it, its sample, the answer."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from baitwright.web.deeds import Deed, Doing, Stands, add_all, here
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.once import Done
from baitwright.web.render import page
from baitwright.web.turns import IN_TURN

pages = APIRouter(include_in_schema=False)


@pages.get("/complaints")
def complaints(request: Request, house: InHouse, *, closed: str = "") -> HTMLResponse:
    """The complaints that wait, or all of them."""
    from baitwright.workshop.faults.complaints import complaints

    if not house.notebook.is_there:
        return page(request, "complaints.html", rows=(), closed=closed)
    with house.notebook.looking() as book:
        rows = complaints(book, closed=bool(closed))
    return page(request, "complaints.html", rows=rows, closed=closed)


@pages.get("/complaints/one", dependencies=[IN_TURN])
def complaint(request: Request, house: InHouse, *, name: str) -> HTMLResponse:
    """One complaint, followed."""
    from baitwright.workshop.faults import complaint_words as words
    from baitwright.workshop.faults.complaint_asked import why_of
    from baitwright.workshop.faults.complaint_followed import followed

    with house.notebook.looking() as book:
        found = followed(book, name)
        fault = why_of(book, found)
    return page(request, "complaint.html", found=found, fault=fault, words=words)


def _path(name: str) -> str:
    return here("/complaints/one", name=name)


def _stands(house: House, of: Mapping[str, str]) -> Stands:
    """The complaint that a form is about, with the version that is looked at."""
    from baitwright.workshop.faults.complaint_followed import followed

    with house.notebook.looking() as book:
        found = followed(book, of["name"])
    row, shown = found.row, {"row": found.row, "care": found.care}
    return Stands({"sample": row.sample, "done": row.done}, str(row.version), shown)


def _drafted(house: House, of: Mapping[str, str]) -> Stands:
    """The same with an answer that could be sent, where none was."""
    from baitwright.workshop.faults.complaint_asked import draft

    stands = _stands(house, of)
    row = stands.shown["row"]
    if row.answer:
        return Stands({"answer": row.answer}, stands.seen, stands.shown)
    with house.notebook.looking() as book:
        return Stands({"answer": draft(book, of["name"])}, stands.seen, stands.shown)


def _answer(doing: Doing) -> Done:
    from baitwright.workshop.faults.complaint_deeds import answered

    name, now = doing.of["name"], doing.house.now
    with doing.house.notebook.writing() as book:
        answered(book, name, doing.told.answer, now=now, seen=doing.version)
    return Done(_path(name), "Answered: send it as it stands below.")


def _looked(doing: Doing) -> Done:
    from baitwright.workshop.faults.complaint_deeds import sample_looked_at

    name, now = doing.of["name"], doing.house.now
    with doing.house.notebook.writing() as book:
        sample_looked_at(book, name, doing.told.sample, now=now, seen=doing.version)
    return Done(_path(name), "What the sample showed is written down.")


def _close(doing: Doing) -> Done:
    from baitwright.workshop.faults.complaint_deeds import closed

    name, now = doing.of["name"], doing.house.now
    with doing.house.notebook.writing() as book:
        closed(book, name, doing.told.done, now=now, seen=doing.version)
    return Done(_path(name), "The complaint is closed.")


def _keep(doing: Doing) -> Done:
    from baitwright.workshop.batches.samples import keep_back

    with doing.house.notebook.writing() as book:
        made = keep_back(book, doing.told.bag, doing.told.where, now=doing.house.now)
    batch = made.bag.rpartition("/")[0]
    said = "Bag %(bag)s is kept back: write it on the bag."
    return Done(f"/batches/{batch}", said, {"bag": made.bag})


def _free(doing: Doing) -> Done:
    from baitwright.workshop.batches.samples import give_up

    with doing.house.notebook.writing() as book:
        name = give_up(book, doing.told.bag, now=doing.house.now)
    said = "Bag %(bag)s is free again."
    return Done(f"/batches/{name.rpartition('/')[0]}", said, {"bag": name})


@cache
def deeds() -> dict[str, Deed]:
    """What can be done here, by the end of its path."""
    from baitwright.workshop.faults import complaint_tables as tables

    back = "/complaints"
    return {
        "answer": Deed(
            "Answer it",
            "It is sent so",
            tables.AnswerTable,
            _answer,
            stands=_drafted,
            template="complaint_deed.html",
            about="By what the notebook knows of it, in your own words. No name need stand in it.",
            back=back,
        ),
        "looked": Deed(
            "The bag kept back",
            "Write it down",
            tables.LookedTable,
            _looked,
            stands=_stands,
            template="complaint_deed.html",
            about="Look at it, cut one open, smell it from a hand's breadth; never taste it.",
            back=back,
        ),
        "close": Deed(
            "Close the complaint",
            "Close it",
            tables.CloseTable,
            _close,
            stands=_stands,
            template="complaint_deed.html",
            about="With what was done. It stays in the notebook.",
            back=back,
        ),
        "keep": Deed(
            "Keep a bag back",
            "Keep it back",
            tables.SampleTable,
            _keep,
            about="A sample to look at, should somebody complain. Nothing picks it from then on.",
            back="/batches",
        ),
        "free": Deed(
            "Keep it back no longer",
            "Let go of it",
            tables.FreeTable,
            _free,
            about="Its baits are free again.",
            back="/batches",
        ),
    }


_NAMES = ("answer", "looked", "close", "keep", "free")
add_all(pages, "/complaints", _NAMES, deeds=deeds)
