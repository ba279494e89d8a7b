"""Where something came from and where it went, what to fetch back, and what it cost."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from baitwright.web.in_house import InHouse
from baitwright.web.render import page

pages = APIRouter(include_in_schema=False)


@pages.get("/trace")
def trace(request: Request, house: InHouse, name: str = "") -> HTMLResponse:
    """A lot, a batch, a bag, a night, a sale or a supplier's lot, both ways."""
    from baitwright.terms.errors import InputError
    from baitwright.workshop.forms.web_words import said_here
    from baitwright.workshop.traces.trace_view import trace_view
    from baitwright.workshop.traces.traces import trace

    told, found, error = name.strip(), None, None
    if told:
        try:
            with house.notebook.looking() as book:
                found = trace_view(trace(book, told))
        except InputError as wrong:
            error = said_here(wrong)
    status = 200 if error is None else 404
    return page(request, "trace.html", status=status, name=told, found=found, error=error)


@pages.get("/cost")
def cost(request: Request, house: InHouse, *, batch: str = "", lot: str = "") -> HTMLResponse:
    """What a batch, or a lot that was bagged, packed or put together here, cost part by part."""
    from baitwright.terms.errors import InputError
    from baitwright.workshop.costs.cost_asked import bag_plan
    from baitwright.workshop.costs.cost_view import cost_view
    from baitwright.workshop.costs.costs import cost_of_batch, cost_of_lot
    from baitwright.workshop.forms.web_words import said_here

    found, error = None, None
    query = {key: one.strip() for key, one in request.query_params.items()}
    try:
        with house.notebook.looking() as book:
            if batch.strip():
                found = cost_view(cost_of_batch(book, batch.strip(), bag_plan(query)))
            elif lot.strip():
                found = cost_view(cost_of_lot(book, lot.strip()), each="piece")
    except InputError as wrong:
        error = wrong
    status, said = (200, "") if error is None else (422, said_here(error))
    told = {"field": error.field if error is not None else "", "error": said}
    return page(request, "cost.html", status=status, query=query, found=found, **told)
