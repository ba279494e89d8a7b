"""Batches: planned beside actual, made, bagged, called off, and every step back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cache

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse
from starlette.convertors import StringConvertor, register_url_convertor

from baitwright.web.deeds import Deed, Doing, Stands, add_all
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.once import Done
from baitwright.web.render import page
from baitwright.web.turns import IN_TURN

pages = APIRouter(include_in_schema=False)


class _BatchName(StringConvertor):
    """The name of a batch in a path: its day, a slash and its number."""

    regex = "[^/]+/B[0-9]+"


register_url_convertor("batch", _BatchName())


@pages.get("/batches")
def batches(request: Request, house: InHouse, words: str = "") -> HTMLResponse:
    """The last batches, or those with some words in them."""
    from baitwright.workshop.batches.batch_list import last_batches

    with house.notebook.looking() as book:
        found = last_batches(book, words=words)
    return page(request, "batches.html", batches=found, words=words)


def path_of(name: str) -> str:
    """The page of a batch."""
    return f"/batches/{name}"


def _view(house: House, of: Mapping[str, str]) -> Stands:
    """A batch above a form, with the version that is looked at."""
    from baitwright.workshop.batches.batch_view import batch_view
    from baitwright.workshop.care.venue_asked import batch_held
    from baitwright.workshop.waters.venue_shown import held_shown

    with house.notebook.looking() as book:
        view = batch_view(book, of["name"])
        held = held_shown(batch_held(book, of["name"]))
    drawn = dict.fromkeys(view.liquids, "")
    return Stands({"drawn": drawn}, str(view.batch.version), {"view": view, "held": held})


def _to_bag(house: House, of: Mapping[str, str]) -> Stands:
    """The same, with so many bags of so many baits as the link says."""
    stands = _view(house, of)
    told = {field: int(of[field]) for field in ("baits", "bags") if of.get(field, "").isdecimal()}
    return replace(stands, told={**stands.told, **told})


def _made(doing: Doing) -> Done:
    from baitwright.workshop.batches.batch_made import Making, made
    from baitwright.workshop.bench.batch_words import made_text
    from baitwright.workshop.shelf.stock_words import moved_in
    from baitwright.workshop.typed.typed_days import read_day

    told, now, name = doing.told, doing.house.now, doing.of["name"]
    best = told.best_before and read_day(told.best_before.isoformat(), now.date())
    making = Making(told.of_batch(), best, told.why, seen=doing.version)
    with doing.house.notebook.writing() as book:
        found = made(book, name, making, now=now)
        said = made_text(found, moved_in(book, found.used))
    return Done(path_of(name), said)


def _measured(doing: Doing) -> Done:
    from baitwright.workshop.batches.batch_made import measured_later
    from baitwright.workshop.bench.batch_words import measured_text

    name = doing.of["name"]
    with doing.house.notebook.writing() as book:
        outside = measured_later(book, name, doing.told, now=doing.house.now, seen=doing.version)
    return Done(path_of(name), measured_text(name, outside))


def _off(doing: Doing) -> Done:
    from baitwright.workshop.batches.batches import cancel_batch

    name, now = doing.of["name"], doing.house.now
    with doing.house.notebook.writing() as book:
        cancel_batch(book, name, now=now, why=doing.told.reason, seen=doing.version)
    said = "Batch %(name)s: cancelled. Take the step back to plan it again."
    return Done(path_of(name), said, {"name": name})


def _undo(doing: Doing) -> Done:
    from baitwright.workshop.bench.batch_words import short_lines
    from baitwright.workshop.entries.batch_unmade import step_back

    name = doing.of["name"]
    with doing.house.notebook.writing() as book:
        short = step_back(book, name, now=doing.house.now, seen=doing.version)
    more = "\n".join(short_lines(short))
    return Done(path_of(name), "Batch %(name)s: planned, as before", {"name": name}, more)


def _bag(doing: Doing) -> Done:
    from baitwright.workshop.batches.bags import Bagging, Kept, bag
    from baitwright.workshop.typed.typed_days import read_day

    told, now, name = doing.told, doing.house.now, doing.of["name"]
    best = told.best_before and read_day(told.best_before.isoformat(), now.date())
    bagging = Bagging(told.baits, told.bags, Kept(told.kept), best)
    with doing.house.notebook.writing() as book:
        filled = bag(book, name, bagging, now=now)
    return Done(path_of(name), "Write on the bags: %(names)s", {"names": ", ".join(filled)})


@cache
def deeds() -> dict[str, Deed]:
    """What can be done here, by the end of its path."""
    from baitwright.workshop.selling import making_tables as tables
    from baitwright.workshop.shelf.deed_tables import Nothing
    from baitwright.workshop.strip.batch_file import BatchTable

    return {
        "made": Deed(
            "Batch made",
            "Write it down",
            tables.MadeTable,
            _made,
            stands=_view,
            about="What you used and counted. What is left empty is taken as planned.",
            template="batch_deed.html",
        ),
        "measured": Deed(
            "Measured later",
            "Write it down",
            BatchTable,
            _measured,
            stands=_view,
            about="Weighings after the making. Stock stays as it is.",
            template="batch_deed.html",
        ),
        "cancel": Deed(
            "Cancel the batch",
            "Cancel it",
            tables.OffTable,
            _off,
            stands=_view,
            about="What waits for it on the shelf is free again.",
            template="batch_deed.html",
        ),
        "undo": Deed(
            "Take the last step back",
            "Take it back",
            Nothing,
            _undo,
            stands=_view,
            about="Its making, or its cancelling. What was used is on the shelf again.",
            template="batch_deed.html",
        ),
        "bag": Deed(
            "Bag it",
            "Fill the bags",
            tables.BagTable,
            _bag,
            stands=_to_bag,
            about="Each bag gets a name of its own, so that a trace finds it.",
            caution="Warm or moist baits sweat in a closed bag and mould: bag them cold and dried.",
            template="batch_deed.html",
        ),
    }


_NAMES = ("made", "measured", "cancel", "undo", "bag")
add_all(pages, "/batches/{name:batch}", _NAMES, deeds=deeds)


@pages.get("/batches/{name:batch}/same", dependencies=[IN_TURN])
def same(request: Request, house: InHouse, name: str) -> HTMLResponse:
    """A batch beside the good ones of its recipe, and what differs."""
    from baitwright.workshop.batches.same_asked import same_batch
    from baitwright.workshop.batches.same_words import plans_beside, read

    with house.notebook.looking() as book:
        found = same_batch(book, name)
        plans = plans_beside(book, found)
    return page(request, "same.html", same=found, plans=plans, read=read)


@pages.get("/batches/{name:batch}")
def batch(request: Request, house: InHouse, name: str) -> HTMLResponse:
    """One batch: planned beside actual, its bags, and where to go from it."""
    return page(request, "batch.html", **_view(house, {"name": name}).shown)
