"""The workshop as a web application."""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from fastapi import FastAPI, HTTPException, Request
from fastapi.responses import PlainTextResponse, Response
from starlette.exceptions import HTTPException as Refusal
from starlette.staticfiles import StaticFiles

from baitwright import __version__
from baitwright.terms.errors import InputError
from baitwright.web import render
from baitwright.web.api.door import PATH, ApiLater
from baitwright.web.gate import Gate
from baitwright.web.guard import Guard
from baitwright.web.house import House, house_of
from baitwright.web.lan import is_signed_in
from baitwright.web.pages import (
    ask,
    batches,
    bench,
    care,
    demo,
    dose,
    labels,
    languages,
    mix,
    notebook,
    orders,
    plan,
    prices,
    recipes,
    shelf,
    sign_in,
    tables,
    trace,
    travel,
    trays,
)
from baitwright.web.trouble import Trouble

_HERE = Path(__file__).parent
_ROOMS = (
    *(trays, bench, travel, batches, plan, mix, dose, recipes, shelf, tables, prices),
    *(orders, ask, notebook, trace, care, demo, labels, sign_in, languages),
)
PAGES = tuple(room.pages for room in _ROOMS)


def make_app(house: House) -> FastAPI:
    """The whole workshop over one notebook.

    Parameters
    ----------
    house: what every page shares; its notebook is closed when the application ends.
    """

    @asynccontextmanager
    async def open_house(app: FastAPI) -> AsyncIterator[None]:
        yield
        house.close()
        if getattr(app.state, "beside", None) is not None:
            app.state.beside.close()

    app = FastAPI(
        title="Baitwright",
        version=__version__,
        docs_url=None,  # its pages would fetch scripts from elsewhere
        redoc_url=None,
        openapi_url=None,
        lifespan=open_house,
    )
    app.state.house = house
    app.add_middleware(Gate, house=house)  # the last one stands in front of all
    app.add_middleware(Trouble)
    app.add_middleware(Guard, house=house)
    app.mount(PATH, ApiLater(app.state))
    app.mount("/static", StaticFiles(directory=_HERE / "static"), name="static")
    for pages in PAGES:
        app.include_router(pages)
    app.add_exception_handler(InputError, _tell_input)
    app.add_exception_handler(Refusal, _tell_refusal)
    return app


def _tell_input(request: Request, error: Exception) -> Response:
    assert isinstance(error, InputError)
    if error.field == "notebook" and not house_of(request).notebook.is_there:
        return render.page(request, "begin.html")
    return render.refused(request, error)


def _tell_refusal(request: Request, error: Exception) -> Response:
    assert isinstance(error, HTTPException | Refusal)
    if request.app.state.house.lan is not None and not is_signed_in(request):
        return PlainTextResponse(str(error.detail), error.status_code)
    return render.page(
        request, "refusal.html", status=error.status_code, code=error.status_code, told=error.detail
    )
