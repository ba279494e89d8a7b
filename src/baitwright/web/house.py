"""What every page of an open workshop shares."""

from __future__ import annotations

from asyncio import Semaphore
from dataclasses import dataclass, field, replace
from datetime import datetime
from functools import partial

from starlette.requests import Request

from baitwright.notebook.where import Where
from baitwright.web.lan import Lan
from baitwright.web.once import Once
from baitwright.web.uploads import Uploads
from baitwright.workshop.opening.standing import Standing

SHOWN = "baitwright-shows"
"""The cookie by which a browser looks round the demonstration instead of the maker's own."""
DEMONSTRATION = "demonstration"
PLANNERS = 2
"""Plans worked out at once."""


@dataclass(frozen=True, slots=True)
class House:
    """An open workshop.

    Parameters
    ----------
    notebook: the maker's own, or that of the demonstration.
    key: the secret that tokens are made with.
    hosts: the names by which browsers may call this machine, with the port where there is one.
    is_demo: whether the notebook is invented.
    lan: the door to other devices; none where only this machine may ask.
    planners: lets so many plan at once, and the others in the order in which they came.
    """

    notebook: Standing
    key: bytes = field(repr=False)
    hosts: tuple[str, ...]
    is_demo: bool = False
    lan: Lan | None = None
    once: Once = field(default_factory=Once)
    uploads: Uploads = field(default_factory=Uploads)
    planners: Semaphore = field(default_factory=partial(Semaphore, PLANNERS), repr=False)

    @property
    def place(self) -> Where:
        """Where the notebook is."""
        return self.notebook.place

    @property
    def now(self) -> datetime:
        """The time here, with its zone."""
        return self.notebook.clock()

    def close(self) -> None:
        """Let the notebook and the waiting files go."""
        self.notebook.close()
        self.uploads.close()


def house_of(request: Request) -> House:
    """The workshop that a browser asks for: the maker's own, or the demonstration beside it."""
    state = request.app.state
    own: House = state.house
    if own.is_demo or request.cookies.get(SHOWN) != DEMONSTRATION:
        return own
    if getattr(state, "beside", None) is None:
        from baitwright.workshop.season.demo_place import place_beside

        notebook = Standing(place_beside(own.place), clock=own.notebook.clock)
        state.beside = replace(own, notebook=notebook, is_demo=True, once=Once(), uploads=Uploads())
    beside: House = state.beside
    return beside
