"""The notebook for a door that stays open: opened once, looked into and written in by many.

What keeps a notebook is loaded when it is asked for first, so that a door stands open before that.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from threading import Event, Lock
from typing import TYPE_CHECKING, Any, TypeVar

from baitwright.notebook.where import Server, Where

if TYPE_CHECKING:
    from baitwright.notebook.backup import Restored
    from baitwright.notebook.store import Notebook
    from baitwright.workshop.opening.notebook_care import Clock, Use

T = TypeVar("T")


class Standing:
    """One notebook, kept open from its first use until `close`.

    Parameters
    ----------
    place: where it is.
    clock: tells the local time with its zone; this machine's unless told.
    """

    def __init__(self, place: Where, *, clock: Clock | None = None) -> None:
        self.place, self.clock = place, clock or _with_zone
        self._book: Notebook | None = None
        self._opening, self._copying = Lock(), Lock()
        self._behind = Event()
        self._follower = ThreadPoolExecutor(max_workers=1, thread_name_prefix="plain-pages")

    @property
    def is_there(self) -> bool:
        """Whether there is a notebook yet."""
        if self._book is not None:
            return True
        if not isinstance(self.place, Server) and not self.place.exists():
            return False
        from baitwright.workshop.opening.notebook_care import is_there

        return is_there(self.place)

    @contextmanager
    def looking(self) -> Iterator[Notebook]:
        """The notebook to look into.

        Raises
        ------
        InputError: there is none, or it cannot be opened.
        """
        from baitwright.workshop.opening.notebook_care import Use

        yield self._opened(Use.LOOK)

    @contextmanager
    def writing(self) -> Iterator[Notebook]:
        """The notebook to write in, begun where there is none.

        It is copied before the first writing of a day. The plain pages follow on their own: who
        writes does not wait for them, and what several wrote meanwhile is followed at once.

        Raises
        ------
        InputError: it cannot be opened or copied.
        """
        from baitwright.workshop.opening.notebook_care import Use, copy_if_due

        if self.is_there:
            with self._copying:  # of several who are the first of a day one copies
                copy_if_due(self.place, clock=self.clock)
        book = self._opened(Use.BEGIN)
        yield book
        if not self._behind.is_set():
            self._behind.set()
            self._follower.submit(self._follow, book)

    def settle(self) -> None:
        """Wait until the plain pages are up to what was written."""
        self._follower.submit(lambda: None).result()

    def put_back(self, backup: Path) -> Restored:
        """Put a copy back; what stands there is copied first. It is opened anew when asked for.

        Raises
        ------
        InputError: the copy is not sound, or the notebook cannot be written to.
        """
        from baitwright.workshop.opening.notebook_care import put_back

        return self.replaced(lambda place: put_back(place, backup, clock=self.clock))

    def replaced(self, replace: Callable[[Any], T]) -> T:
        """Let go of the notebook while something puts another in its place."""
        self.settle()
        with self._opening:
            if self._book is not None:
                self._book.close()
                self._book = None
            return replace(self.place)

    def close(self) -> None:
        """Let the plain pages catch up, then let go."""
        self._follower.shutdown()
        if self._book is not None:
            self._book.close()

    def _follow(self, book: Notebook) -> None:
        from baitwright.workshop.opening.notebook_care import follow_pages

        self._behind.clear()  # before it looks: what is written from now on is for the next
        follow_pages(book, self.clock())

    def _opened(self, use: Use) -> Notebook:
        from baitwright.notebook.store import open_notebook
        from baitwright.workshop.opening.notebook_care import refuse_none

        with self._opening:
            if self._book is None:
                refuse_none(self.place, use)
                self._book = open_notebook(self.place, now=self.clock())
            return self._book


def _with_zone() -> datetime:
    from baitwright.workshop.opening.notebook_care import clock_with_zone

    return clock_with_zone()
