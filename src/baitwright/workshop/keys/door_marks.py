"""Marks of forms that did their deed, kept beside the notebook: a restart forgets none of the last.

A line holds the hash of a mark and the page its deed led to. What was told there is not kept: it
may name whom a purge is to make forgotten. Several workshops of one account go by the same file,
and take turns where they are sent the same form.
"""

from __future__ import annotations

import os
import re
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from hashlib import sha256

from baitwright.notebook.where import Where, folder_of, name_of
from baitwright.workshop.told.own_file import write_own

MOST = 2_000
"""Marks that are kept (judgement): weeks of a busy shop; the file grows to twice that."""
_LINE = re.compile(r"([0-9a-f]{64}) (/\S*)")


_PLACES = 1 << 30
"""Places for turns; two marks that share one only wait for each other."""
_PEN = 0
"""The turn of whoever writes in the file of marks."""


class DoorMarks:
    """The marks of one notebook's forms.

    Parameters
    ----------
    place: of the notebook.
    """

    def __init__(self, place: Where) -> None:
        self._path = folder_of(place) / f"door.once-{name_of(place)}"
        self._turns: int | None = None
        self._file = self._read = self._lines = 0
        self._found: dict[str, str] = {}
        self._is_torn = False

    def led_to(self, mark: str) -> str | None:
        """Where the deed of a mark led to, whichever workshop of this account did it."""
        self._look()
        return self._found.get(hash_of(mark))

    def keep(self, mark: str, to: str) -> None:
        """Keep one more; where that fails, its deed is done all the same."""
        with suppress(OSError), self._turn(_PEN):
            self._look()
            if self._is_torn or self._lines > 2 * MOST:
                told = "".join(f"{one} {led}\n" for one, led in self._found.items())
                write_own(self._path, told.encode())
            self._path.touch(mode=0o600)
            with self._path.open("a", encoding="utf-8") as file:
                file.write(f"{hash_of(mark)} {to}\n")

    @contextmanager
    def turn(self, mark: str) -> Iterator[None]:
        """Let no other workshop of this account do the deed of a mark meanwhile."""
        with self._turn(1 + int(hash_of(mark), 16) % _PLACES):
            yield

    def _look(self) -> None:
        """Read what is new in the file; half a line counts for none."""
        try:
            with self._path.open("rb") as file:
                which = os.fstat(file.fileno()).st_ino
                if which != self._file:
                    self._file, self._read, self._lines, self._found = which, 0, 0, {}
                file.seek(self._read)
                new = file.read()
        except OSError:
            return
        whole = new[: new.rfind(b"\n") + 1]
        self._read += len(whole)
        self._is_torn = len(whole) < len(new)
        for line in whole.decode("utf-8", "replace").splitlines():
            self._lines += 1
            if (one := _LINE.fullmatch(line)) is not None:
                self._found[one[1]] = one[2]
        while len(self._found) > MOST:
            del self._found[next(iter(self._found))]

    @contextmanager
    def _turn(self, place: int) -> Iterator[None]:
        """Hold a place; the system lets go of it when the process ends, however it does.

        Where the system or its disk knows no such turns, workshops of one account do not wait.
        """
        if sys.platform == "win32":
            yield
            return
        import fcntl

        held = False
        with suppress(OSError):
            if self._turns is None:  # never closed: that would let go of every place
                path = self._path.with_name(f"{self._path.name}.turns")
                self._turns = os.open(path, os.O_RDWR | os.O_CREAT, 0o600)
            fcntl.lockf(self._turns, fcntl.LOCK_EX, 1, place)
            held = True
        try:
            yield
        finally:
            if held and self._turns is not None:
                fcntl.lockf(self._turns, fcntl.LOCK_UN, 1, place)


def hash_of(mark: str) -> str:
    """What a mark is kept as."""
    return sha256(mark.encode("utf-8", "surrogatepass")).hexdigest()
