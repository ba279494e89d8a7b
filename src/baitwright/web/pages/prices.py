"""Prices: what is asked for an item, what it costs, and what is left."""

from __future__ import annotations

from functools import cache

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from baitwright.web.deeds import Deed, Doing, Of, Stands, add_all
from baitwright.web.files import table_download
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.web.once import Done
from baitwright.web.render import page

pages = APIRouter(include_in_schema=False)


@pages.get("/prices")
def prices(request: Request, house: InHouse) -> HTMLResponse:
    """The price list with what each leaves."""
    from baitwright.workshop.costs.price_words import PER
    from baitwright.workshop.costs.prices import price_lines

    with house.notebook.looking() as book:
        found = price_lines(book)
    return page(request, "prices.html", lines=found, per=PER)


@pages.get("/prices/prices.csv")
def as_table(house: InHouse) -> Response:
    """The price list as a table."""
    from baitwright.workshop.costs.price_words import price_table
    from baitwright.workshop.costs.prices import price_lines

    with house.notebook.looking() as book:
        found = price_lines(book)
    return table_download("prices.csv", lambda path: price_table(path, found))


def _stands(house: House, of: Of) -> Stands:
    """An item's price above the form, where an item is named."""
    from baitwright.workshop.costs.price_words import price_text
    from baitwright.workshop.costs.prices import price_lines

    item = of.get("item", "")
    if not item:
        return Stands(shown={"now": ""})
    with house.notebook.looking() as book:
        return Stands({"item": item}, shown={"now": price_text(price_lines(book, item))})


def _ask(doing: Doing) -> Done:
    from baitwright.workshop.costs.price_words import price_text
    from baitwright.workshop.costs.prices import Asking, ask

    told = doing.told
    asking = Asking(told.ask, told.vat, told.margin, told.step, told.no_vat)
    with doing.house.notebook.writing() as book:
        line = ask(book, told.item, asking, now=doing.house.now)
    return Done("/prices", price_text([line]))


def _before(doing: Doing) -> Done:
    from baitwright.workshop.selling.as_before import price_as_before

    item = doing.of.get("item", "")
    with doing.house.notebook.writing() as book:
        price_as_before(book, item, now=doing.house.now)
    return Done("/prices", "%(item)s: the price as it was before", {"item": item})


def _item(house: House, of: Of) -> Stands:
    """Nothing to fill in, with the price above it."""
    return Stands(shown=_stands(house, of).shown)


@cache
def deeds() -> dict[str, Deed]:
    """What can be done here, by the end of its path."""
    from baitwright.workshop.selling.sell_tables import PriceTable
    from baitwright.workshop.shelf.deed_tables import Nothing

    return {
        "before": Deed(
            "The price as it was before",
            "Take the change back",
            Nothing,
            _before,
            stands=_item,
            about="The last change of the price is taken back; the first one leaves none.",
            back="/prices",
            template="price.html",
        ),
        "one": Deed(
            "A price",
            "Ask it",
            PriceTable,
            _ask,
            stands=_stands,
            about="What is left empty stays as it is.",
            back="/prices",
            template="price.html",
        ),
    }


add_all(pages, "/prices", ("before", "one"), deeds=deeds)
