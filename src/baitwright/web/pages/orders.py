"""Orders: packed, put together, ordered, sent, brought back, and what it left."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import cache
from typing import TYPE_CHECKING

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from baitwright.web.deeds import Deed, Doing, add_all, here
from baitwright.web.files import table_download
from baitwright.web.in_house import InHouse
from baitwright.web.once import Done
from baitwright.web.render import page

if TYPE_CHECKING:
    from baitwright.notebook.store import Notebook
    from baitwright.workshop.selling.packing import Made
    from baitwright.workshop.typed.reading import Table

pages = APIRouter(include_in_schema=False)


@pages.get("/orders")
def orders(request: Request, house: InHouse) -> HTMLResponse:
    """Every order and how far it is, the last first; the kits; what to mind before selling."""
    from baitwright.workshop.selling.kits import kits
    from baitwright.workshop.selling.order_words import minded
    from baitwright.workshop.traces.order_records import orders

    with house.notebook.looking() as book:
        found, known = orders(book), kits(book)
    last = tuple(reversed(found))
    return page(request, "orders.html", orders=last, kits=known, minded=minded())


@pages.get("/orders/one")
def order(request: Request, house: InHouse, name: str) -> HTMLResponse:
    """One order: its lines, what went of which lots, what came back."""
    from baitwright.workshop.selling.slips import slip
    from baitwright.workshop.traces.order_records import one_order

    with house.notebook.looking() as book:
        found = one_order(book, name)
        sent = slip(book, name) if found.entry is not None else None
    return page(request, "order.html", order=found, slip=sent)


@pages.get("/orders/slip")
def packing_slip(request: Request, house: InHouse, name: str) -> HTMLResponse:
    """The packing slip of an order that was sent: no price, and no name but a code."""
    from baitwright.workshop.selling.slips import slip

    with house.notebook.looking() as book:
        found = slip(book, name)
    return page(request, "slip.html", slip=found)


@pages.get("/orders/takings")
def takings(request: Request, house: InHouse) -> HTMLResponse:
    """What every order and month took, cost and left."""
    from baitwright.workshop.selling.takings import takings
    from baitwright.workshop.selling.takings_words import grouped

    with house.notebook.looking() as book:
        told = takings(book)
    return page(request, "takings.html", told=told, grouped=grouped(told))


@pages.get("/orders/takings.csv")
def takings_table(house: InHouse) -> Response:
    """The same as a table."""
    from baitwright.workshop.selling.takings import takings
    from baitwright.workshop.selling.takings_words import takings_table

    with house.notebook.looking() as book:
        told = takings(book)
    return table_download("takings.csv", lambda path: takings_table(path, told))


def _one(name: str) -> str:
    return here("/orders/one", name=name)


def _made(to: str, book: Notebook, made: Made) -> Done:
    from baitwright.workshop.shelf.stock_words import moved_in

    more = moved_in(book, made.lines)
    return Done(to, "Lot %(lot)s: write it on them.", {"lot": made.lot}, more)


def _pack(doing: Doing) -> Done:
    from baitwright.workshop.selling.packing import Packing, pack

    told = doing.told
    parts = tuple((one.item, one.amount) for one in told.material)
    counts = {"packs": told.packs, "each": told.each, "lost": told.lost}
    run = Packing(told.lot, told.into, materials=parts, override=told.why, **counts)
    with doing.house.notebook.writing() as book:
        made = pack(book, run, now=doing.house.now)
        return _made(here("/shelf/item", name=told.into), book, made)


def _kit(doing: Doing) -> Done:
    from baitwright.workshop.selling.kits import Kit, keep_kit

    parts = tuple((one.item, one.amount) for one in doing.told.part)
    with doing.house.notebook.writing() as book:
        keep_kit(book, Kit(doing.told.kit, parts), now=doing.house.now)
    return Done("/orders", "%(kit)s: %(many)s parts", {"kit": doing.told.kit, "many": len(parts)})


def _join(doing: Doing) -> Done:
    from baitwright.workshop.selling.kits import put_together

    with doing.house.notebook.writing() as book:
        made = put_together(book, doing.told.kit, doing.told.count, now=doing.house.now)
        return _made(here("/shelf/item", name=doing.told.kit), book, made)


def _apart(doing: Doing) -> Done:
    from baitwright.workshop.selling.kits import take_apart

    with doing.house.notebook.writing() as book:
        made = take_apart(book, doing.told.lot, doing.told.count, now=doing.house.now)
        return _made("/shelf", book, made)


def _order(doing: Doing) -> Done:
    from baitwright.workshop.selling.order_words import taken_text
    from baitwright.workshop.selling.ordering import Wanted, take_order

    told, now = doing.told, doing.house.now
    wanted = tuple(Wanted(one.item, one.amount, one.price) for one in told.line)
    with doing.house.notebook.writing() as book:
        taken = take_order(book, told.customer, wanted, now=now, day=_day(doing))
    return Done(_one(taken.order.name), taken_text(taken))


def _cancel(doing: Doing) -> Done:
    from baitwright.workshop.selling.order_words import order_text
    from baitwright.workshop.selling.ordering import cancel

    with doing.house.notebook.writing() as book:
        done = cancel(book, doing.of["name"], now=doing.house.now, why=doing.told.why)
    return Done(_one(doing.of["name"]), order_text(done))


def _open_again(doing: Doing) -> Done:
    from baitwright.workshop.selling.order_words import taken_text
    from baitwright.workshop.selling.ordering import open_again

    name = doing.of["name"]
    with doing.house.notebook.writing() as book:
        taken = open_again(book, name, now=doing.house.now, why=doing.told.why)
    return Done(_one(name), taken_text(taken))


def _kit_before(doing: Doing) -> Done:
    from baitwright.workshop.selling.as_before import kit_as_before
    from baitwright.workshop.selling.order_words import kit_text

    with doing.house.notebook.writing() as book:
        kit = kit_as_before(book, doing.of.get("name", ""), now=doing.house.now)
    return Done("/orders", kit_text(kit))


def _send(doing: Doing) -> Done:
    from baitwright.workshop.selling.sending import send

    name = doing.of["name"]
    with doing.house.notebook.writing() as book:
        send(book, name, now=doing.house.now, day=_day(doing))
    said = "Order %(name)s: sent. This goes into the parcel."
    return Done(here("/orders/slip", name=name), said, {"name": name})


def _back(doing: Doing) -> Done:
    from baitwright.workshop.selling.order_words import order_text
    from baitwright.workshop.selling.returning import CameBack, bring_back
    from baitwright.workshop.traces.orders import Where

    told, name = doing.told, doing.of["name"]
    came = CameBack(told.lot, told.amount, told.refund, Where(told.to), told.why)
    with doing.house.notebook.writing() as book:
        done = bring_back(book, name, came, now=doing.house.now, day=_day(doing))
    return Done(_one(name), order_text(done))


def _day(doing: Doing) -> date:
    from baitwright.workshop.typed.typed_days import read_past_day

    told = doing.told.day
    return read_past_day("" if told is None else told.isoformat(), doing.house.now.date())


def _deed(
    title: str, word: str, table: type[Table], *, do: Callable[[Doing], Done], about: str = ""
) -> Deed:
    return Deed(title, word, table, do, about=about, back="/orders")


@cache
def deeds() -> dict[str, Deed]:
    """What can be done here, by the end of its path."""
    from baitwright.workshop.selling import sell_tables as tables
    from baitwright.workshop.shelf.deed_tables import Nothing

    return {
        "pack": _deed(
            "Pack baits",
            "Pack them",
            tables.PackTable,
            do=_pack,
            about="The packs come on the shelf as a lot, at what went into them.",
        ),
        "kit": _deed("What is in a kit", "Write it down", tables.KitTable, do=_kit),
        "join": _deed("Put kits together", "Put them together", tables.JoinTable, do=_join),
        "part": _deed(
            "Take kits apart",
            "Take them apart",
            tables.ApartTable,
            do=_apart,
            about="The parts go back into their lots.",
        ),
        "new": _deed(
            "An order",
            "Write it down",
            tables.OrderTable,
            do=_order,
            about="What is free is set aside for it, the first to expire first.",
        ),
        "cancel": _deed("Cancel the order", "Cancel it", tables.CancelTable, do=_cancel),
        "again": _deed(
            "Open the order again",
            "Open it",
            tables.CancelTable,
            do=_open_again,
            about="Its cancelling is taken back; what is free is set aside for it again.",
        ),
        "kit-before": _deed(
            "The kit as it was before",
            "Take the change back",
            Nothing,
            do=_kit_before,
            about="Kits on the shelf stay what they were put together of.",
        ),
        "send": _deed(
            "Send the order",
            "It is sent",
            tables.SendTable,
            do=_send,
            about="What it wants goes off the shelf, never out of quarantine.",
        ),
        "back": _deed("Something came back", "Take it back", tables.BackTable, do=_back),
    }


_NAMES = ("pack", "kit", "join", "part", "new", "cancel", "again", "kit-before", "send", "back")
add_all(pages, "/orders", _NAMES, deeds=deeds)
