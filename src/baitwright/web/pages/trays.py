"""On the trays: the page that opens, with what is drying, what is ready and what is planned."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from baitwright.web.house import InHouse
from baitwright.web.render import page

pages = APIRouter(include_in_schema=False)


@pages.get("/")
def trays(request: Request, house: InHouse) -> HTMLResponse:
    """What stands about in the workshop, or how to begin."""
    if not house.notebook.is_there:
        return page(request, "begin.html")
    from baitwright.workshop.trays import trays

    now = house.now
    with house.notebook.looking() as book:
        found = trays(book, now=now)
    return page(request, "trays.html", found=found, now=now.replace(tzinfo=None))
