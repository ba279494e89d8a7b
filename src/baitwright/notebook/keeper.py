"""What keeps a notebook: everything in which a file and a server differ."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from sqlalchemy import Connection, Engine

from baitwright.notebook.on_file import Done, OnFile
from baitwright.notebook.on_server import OnServer
from baitwright.notebook.where import Server, Where
from baitwright.terms.errors import InputError


class Keeper(Protocol):
    """One that keeps a notebook; a copy of one is always a file."""

    def stands(self) -> bool:
        """Whether there is anything in the notebook's place."""

    def is_blank(self) -> bool:
        """Whether what is there holds nothing yet, so that a notebook may be begun in it."""

    def problem(self) -> str:
        """Why what is there is no sound notebook, in a sentence; nothing when it is one."""

    def engine(self) -> Engine:
        """Connections on which a reader sees one moment, and one with ``writes`` has the pen.

        Raises
        ------
        InputError: what is there is no sound notebook, or cannot be reached.
        """

    def settle(self, connection: Connection) -> None:
        """Make a notebook, and marked as one, of what has taken its steps in this transaction."""

    def copy_to(self, path: Path) -> None:
        """Write all that it holds at one moment into a file that is not there yet."""

    def take_over(self, copy: Path, *, first: Callable[[], Done]) -> Done:
        """Hold what a sound copy holds and nothing else, from one moment to the next.

        Parameters
        ----------
        copy: a notebook's file.
        first: what is to be done before, and may make the copy; on a server nobody writes after it.

        Returns
        -------
        What ``first`` did.
        """

    def wipe(self) -> None:
        """Write the notebook anew without what it no longer holds.

        Raises
        ------
        InputError: another window is open in it, or there is no room; it stays as it was.
        """

    def set_aside(self, aside: Path) -> None:
        """Move what is damaged out of the way, so that nothing of it is lost."""

    def refused(self, error: Exception) -> InputError:
        """A failure of file, server or database in the maker's words."""


def keeper_of(place: Where) -> Keeper:
    """Who keeps the notebook of a place."""
    return OnServer(place) if isinstance(place, Server) else OnFile(place)
