"""The shelf: what stands there, what comes and goes, what a count found, and quarantine."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from baitwright.web.deeds import Deed, Doing, Stands, add_all, here
from baitwright.web.files import paper_of, pdf_download, table_download
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.once import Done
from baitwright.web.render import page

pages = APIRouter(include_in_schema=False)


@pages.get("/shelf")
def shelf(request: Request, house: InHouse, words: str = "") -> HTMLResponse:
    """Every item with what it holds and is worth, and what to use first."""
    from baitwright.workshop.shelf.shelf_view import whole_shelf

    today = house.now.date()
    with house.notebook.looking() as book:
        found = whole_shelf(book, today=today, words=words)
    return page(request, "shelf.html", found=found, words=words)


@pages.get("/shelf/item")
def item(request: Request, house: InHouse, name: str) -> HTMLResponse:
    """One item with its lots and what moved it."""
    from baitwright.workshop.shelf.shelf_view import item_view

    with house.notebook.looking() as book:
        found = item_view(book, name, today=house.now.date())
    return page(request, "item.html", found=found)


@pages.get("/shelf/shelf.csv")
def as_table(house: InHouse) -> Response:
    """Every lot with its value as a table."""
    from baitwright.workshop.shelf.shelf_table import shelf_table
    from baitwright.workshop.shelf.stock import shelves

    with house.notebook.looking() as book:
        found = shelves(book)
    return table_download("shelf.csv", lambda path: shelf_table(path, found))


@pages.get("/shelf/shelf.pdf")
def as_pages(house: InHouse, paper: str = "a4") -> Response:
    """The shelf on paper, with room for what a count finds."""
    from baitwright.workshop.shelf.stock import shelves
    from baitwright.workshop.shelf.stock_sheet import write_stock

    with house.notebook.looking() as book:
        found = shelves(book)
    return pdf_download(
        "shelf.pdf", lambda path: write_stock(path, found, paper=paper_of(paper), now=house.now)
    )


def _come(doing: Doing) -> Done:
    from baitwright.workshop.shelf.deliveries import Delivery, bring_in
    from baitwright.workshop.shelf.stock_words import came_text
    from baitwright.workshop.typed.typed_days import read_past_day

    told, now = doing.told, doing.house.now
    on = "" if told.came is None else told.came.isoformat()
    came = Delivery(
        told.item,
        told.amount,
        told.price,
        told.best_before,
        told.supplier,
        told.supplier_lot,
        read_past_day(on, now.date(), field="came"),
    )
    with doing.house.notebook.writing() as book:
        lot = bring_in(book, came, now=now, again=told.again, why=told.why)
    return Done(here("/shelf/item", name=told.item), came_text(lot, came, today=now.date()))


def _go(doing: Doing) -> Done:
    from baitwright.ledger.movements import Reason
    from baitwright.workshop.entries.stock_moves import Taking, take_out
    from baitwright.workshop.shelf.stock_words import moved_in

    told = doing.told
    wanted = Taking(told.item, told.amount, Reason(told.reason), told.lot, told.why)
    with doing.house.notebook.writing() as book:
        lines = take_out(book, wanted, now=doing.house.now)
        return Done(here("/shelf/item", name=told.item), moved_in(book, lines))


def _count(doing: Doing) -> Done:
    from baitwright.workshop.entries.stock_moves import count_lot
    from baitwright.workshop.shelf.stock_words import counted_text

    lot, found = doing.told.lot, doing.told.amount
    with doing.house.notebook.writing() as book:
        wrong = count_lot(book, lot, found, now=doing.house.now)
    return Done("/shelf", counted_text(lot, wrong, found.counted))


def _aside(doing: Doing) -> Done:
    from baitwright.workshop.traces.quarantine import quarantine
    from baitwright.workshop.traces.trace_words import recall_text

    with doing.house.notebook.writing() as book:
        found = quarantine(book, doing.told.lot, doing.told.why, now=doing.house.now)
    lots = {"lots": ", ".join(found.lots)}
    to = here("/trace", name=doing.told.lot)
    return Done(to, "In quarantine: %(lots)s", lots, recall_text(found))


def _release(doing: Doing) -> Done:
    from baitwright.workshop.traces.quarantine import release
    from baitwright.workshop.traces.trace_words import released_text

    told, now = doing.told, doing.house.now
    with doing.house.notebook.writing() as book:
        out = release(book, told.lot, told.why, now=now, with_all=told.all_made_of_it)
    return Done(here("/trace", name=told.lot), released_text(out))


def _aside_back(doing: Doing) -> Done:
    from baitwright.workshop.traces.quarantine import take_back
    from baitwright.workshop.traces.trace_words import released_text

    with doing.house.notebook.writing() as book:
        out = take_back(book, doing.told.lot, now=doing.house.now)
    return Done(here("/trace", name=doing.told.lot), released_text(out))


def _last(house: House, of: Mapping[str, str]) -> Stands:
    from baitwright.workshop.entries.stock_moves import mark_of
    from baitwright.workshop.shelf.shelf_view import last_entry

    with house.notebook.looking() as book:
        moved = last_entry(book)
    return Stands({}, mark_of(tuple(one.line for one in moved)), {"moved": moved})


def _undo(doing: Doing) -> Done:
    from baitwright.workshop.entries.stock_moves import undo_last
    from baitwright.workshop.shelf.stock_words import moved_in

    with doing.house.notebook.writing() as book:
        back = undo_last(book, now=doing.house.now, seen=doing.seen)
        return Done("/shelf", moved_in(book, back))


@cache
def deeds() -> dict[str, Deed]:
    """What can be done here, by the end of its path."""
    from baitwright.workshop.shelf import deed_tables as tables

    return {
        "in": Deed(
            "Put on the shelf",
            "Put it there",
            tables.DeliveryTable,
            _come,
            about="Each delivery is a lot of its own. Its name goes on the bag.",
            back="/shelf",
        ),
        "out": Deed(
            "Take off the shelf",
            "Take it",
            tables.TakingTable,
            _go,
            about="The first to expire goes first, unless a lot is named.",
            back="/shelf",
        ),
        "count": Deed(
            "A count",
            "Set it to that",
            tables.CountTable,
            _count,
            about="The book is set to what you found.",
            back="/shelf",
        ),
        **_aside_deeds(),
        "undo": Deed(
            "Take the last entry back",
            "Take it back",
            tables.Nothing,
            _undo,
            stands=_last,
            about="The book keeps both: the entry, and that it was taken back.",
            back="/shelf",
            template="undo.html",
        ),
    }


def _aside_deeds() -> dict[str, Deed]:
    from baitwright.workshop.shelf import deed_tables as tables

    return {
        "quarantine": Deed(
            "Into quarantine",
            "Set it aside",
            tables.AsideTable,
            _aside,
            about="The lot and all that was made of it is set aside; nothing picks it.",
            back="/shelf",
        ),
        "release": Deed(
            "Out of quarantine",
            "Let it out",
            tables.ReleaseTable,
            _release,
            about="What was made of it stays aside, unless all of it is to come out too.",
            back="/shelf",
        ),
        "quarantine/undo": Deed(
            "Take a quarantine back",
            "Take it back",
            tables.LotTable,
            _aside_back,
            about="As if it had not been; what is aside for another reason stays there.",
            back="/shelf",
        ),
    }


_NAMES = ("in", "out", "count", "quarantine", "release", "quarantine/undo", "undo")
add_all(pages, "/shelf", _NAMES, deeds=deeds)
