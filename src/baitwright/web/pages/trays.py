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
    from baitwright.workshop.batches import last_batches

    with house.notebook.looking() as book:
        batches = last_batches(book)
    return page(request, "trays.html", batches=batches)
