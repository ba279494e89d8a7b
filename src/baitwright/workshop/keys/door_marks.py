"""Marks of forms that did their deed, kept beside the notebook: a restart forgets none of the last.

A line holds the hash of a mark and the page its deed led to. What was told there is not kept: it
may name whom a purge is to make forgotten.
"""

from __future__ import annotations

import re
from contextlib import suppress
from hashlib import sha256

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
        self._lines = 0

    def kept(self) -> dict[str, str]:
        """Where the last deeds led to, by the hash of their marks; half a line counts for none."""
        try:
            lines = self._path.read_text("utf-8", errors="replace").splitlines()
        except OSError:
            return {}
        found = {one[1]: one[2] for one in map(_LINE.fullmatch, lines[-MOST:]) if one}
        if len(lines) > len(found):
            self._write(found)
        self._lines = len(found)
        return found

    def keep(self, mark: str, to: str) -> None:
        """Keep one more; where that fails, its deed is done all the same."""
        with suppress(OSError):
            self._path.touch(mode=0o600)
            with self._path.open("a", encoding="utf-8") as file:
                file.write(f"{hash_of(mark)} {to}\n")
            self._lines += 1
        if self._lines > 2 * MOST:
            self.kept()

    def _write(self, found: dict[str, str]) -> None:
        told = "".join(f"{mark} {to}\n" for mark, to in found.items())
        with suppress(OSError):
            write_own(self._path, told.encode())


def hash_of(mark: str) -> str:
    """What a mark is kept as."""
    return sha256(mark.encode("utf-8", "surrogatepass")).hexdigest()
