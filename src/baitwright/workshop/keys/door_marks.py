"""Marks of forms that did their deed, kept beside the notebook: a restart forgets none of the last.

A line holds the hash of a mark and the page its deed led to. What was told there is not kept: it
may name whom a purge is to make forgotten. Several workshops of one account go by the same file,
and take turns where they are sent the same form.
"""

from __future__ import annotations

import os
import re
from contextlib import AbstractContextManager, suppress
from hashlib import sha256

from baitwright.notebook.turns import alone
from baitwright.notebook.where import Where, folder_of, name_of
from baitwright.workshop.told.own_file import write_own

MOST = 2_000
"""Marks that are kept (judgement): weeks of a busy shop; the file grows to twice that."""
_LINE = re.compile(r"([0-9a-f]{64}) (/\S*)")


class DoorMarks:
    """The marks of one notebook's forms.

    Parameters
    ----------
    place: of the notebook.
    """

    def __init__(self, place: Where) -> None:
        self._path = folder_of(place) / f"door.once-{name_of(place)}"
        self._file = self._read = self._lines = 0
        self._found: dict[str, str] = {}
        self._is_torn = False

    def led_to(self, mark: str) -> str | None:
        """Where the deed of a mark led to, whichever workshop of this account did it."""
        self._look()
        return self._found.get(hash_of(mark))

    def keep(self, mark: str, to: str) -> None:
        """Keep one more; where that fails, its deed is done all the same."""
        with suppress(OSError), alone(self._path.with_name(f".{self._path.name}-pen")):
            self._look()
            if self._is_torn or self._lines > 2 * MOST:
                told = "".join(f"{one} {led}\n" for one, led in self._found.items())
                write_own(self._path, told.encode())
            self._path.touch(mode=0o600)
            with self._path.open("a", encoding="utf-8") as file:
                file.write(f"{hash_of(mark)} {to}\n")

    def turn(self, mark: str) -> AbstractContextManager[None]:
        """Let no other workshop of this account do the deed of a mark meanwhile."""
        return alone(self._path.with_name(f".{self._path.name}-{hash_of(mark)[:16]}"))

    def _look(self) -> None:
        """Read what is new in the file; half a line counts for none."""
        try:
            with self._path.open("rb") as file:
                stands = os.fstat(file.fileno())
                which = stands.st_ino
                if which != self._file or stands.st_size < self._read:
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


def hash_of(mark: str) -> str:
    """What a mark is kept as."""
    return sha256(mark.encode("utf-8", "surrogatepass")).hexdigest()
