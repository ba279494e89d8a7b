"""The notebook for a door that stays open: opened once, looked into and written in by many."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from threading import Lock

from baitwright.notebook.store import Notebook, open_notebook
from baitwright.notebook.where import Where
from baitwright.workshop.notebook_care import (
    Clock,
    Use,
    clock_with_zone,
    copy_if_due,
    follow_pages,
    is_there,
    refuse_none,
)


class Standing:
    """One notebook, kept open from its first use until `close`.

    Parameters
    ----------
    place: where it is.
    clock: tells the local time with its zone.
    """

    def __init__(self, place: Where, *, clock: Clock = clock_with_zone) -> None:
        self.place, self.clock = place, clock
        self._book: Notebook | None = None
        self._opening = Lock()
        self._follower = ThreadPoolExecutor(max_workers=1, thread_name_prefix="plain-pages")

    @property
    def is_there(self) -> bool:
        """Whether there is a notebook yet."""
        return self._book is not None or is_there(self.place)

    @contextmanager
    def looking(self) -> Iterator[Notebook]:
        """The notebook to look into.

        Raises
        ------
        InputError: there is none, or it cannot be opened.
        """
        yield self._opened(Use.LOOK)

    @contextmanager
    def writing(self) -> Iterator[Notebook]:
        """The notebook to write in, begun where there is none.

        It is copied before the first writing of a day. The plain pages follow on their own: who
        writes does not wait for them.

        Raises
        ------
        InputError: it cannot be opened or copied.
        """
        if self.is_there:
            copy_if_due(self.place, clock=self.clock)
        book = self._opened(Use.BEGIN)
        yield book
        self._follower.submit(follow_pages, book, self.clock())

    def close(self) -> None:
        """Let the plain pages catch up, then let go."""
        self._follower.shutdown()
        if self._book is not None:
            self._book.close()

    def _opened(self, use: Use) -> Notebook:
        with self._opening:
            if self._book is None:
                refuse_none(self.place, use)
                self._book = open_notebook(self.place, now=self.clock())
            return self._book
