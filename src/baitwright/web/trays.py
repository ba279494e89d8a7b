"""On the trays: the page that opens, with what is drying, what is ready and what is planned."""

from __future__ import annotations

from starlette.background import BackgroundTask
from starlette.requests import Request
from starlette.responses import Response

from baitwright.web.house import house_of
from baitwright.web.render import page


def trays(request: Request) -> Response:
    """What stands about in the workshop, or how to begin; then the other pages are made ready."""
    house = house_of(request)
    if house.notebook.is_there:
        from baitwright.workshop.batches.same_batch import last_same
        from baitwright.workshop.bench.trays import trays
        from baitwright.workshop.faults.complaints import complaints

        now = house.now
        with house.notebook.looking() as book:
            found, same = trays(book, now=now), last_same(book)
            open_ones = complaints(book)
        here = now.replace(tzinfo=None)
        answer = page(request, "trays.html", found=found, same=same, now=here, open_ones=open_ones)
    else:
        answer = page(request, "begin.html")
    answer.background = BackgroundTask(request.app.state.behind.ready)
    return answer
