"""The workshop as a web application: the page that opens, and behind it all the others.

The page that opens is there at once; the others are built while the maker looks at it, and the
door for programs when the first of them knocks.
"""

from __future__ import annotations

from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from pathlib import Path

from starlette.applications import Starlette
from starlette.middleware import Middleware
from starlette.routing import Mount, Route
from starlette.staticfiles import StaticFiles
from starlette.types import ASGIApp

from baitwright.web.gate import Gate
from baitwright.web.guard import Guard
from baitwright.web.house import House
from baitwright.web.later import Later
from baitwright.web.refusals import REFUSALS
from baitwright.web.trays import trays
from baitwright.web.trouble import Trouble

_HERE = Path(__file__).parent


def make_app(house: House) -> Starlette:
    """The whole workshop over one notebook.

    Parameters
    ----------
    house: what every page shares; its notebook is closed when the application ends.
    """

    @asynccontextmanager
    async def open_house(app: Starlette) -> AsyncIterator[None]:
        yield
        house.close()
        if getattr(app.state, "beside", None) is not None:
            app.state.beside.close()

    def rooms() -> ASGIApp:
        from baitwright.web.rooms import make_rooms

        return make_rooms(app.state)

    def programs() -> ASGIApp:
        from baitwright.web.api import door

        return door.make_api(app.state)

    behind = Later(rooms)
    app = Starlette(
        lifespan=open_house,
        routes=[
            Route("/", trays),
            Mount("/api", Later(programs)),
            Mount("/static", StaticFiles(directory=_HERE / "static"), name="static"),
            Mount("", behind),
        ],
        middleware=[  # the first one stands in front of all
            Middleware(Guard, house=house),
            Middleware(Trouble),
            Middleware(Gate, house=house),
        ],
        exception_handlers=dict(REFUSALS),
    )
    app.state.house, app.state.behind = house, behind
    return app
