"""Who is signed in: one small file for each, named by the hash of what the browser holds.

A file that is read at every request needs no memory of its own: a restart signs nobody out, and
what one process ends is ended for all.
"""

from __future__ import annotations

import re
import secrets
from collections.abc import Iterator
from datetime import datetime, timedelta
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from baitwright.notebook.where import Where, folder_of
from baitwright.workshop.keys.passphrase import passphrase_mark
from baitwright.workshop.told.own_file import cannot_be_written, write_own

if TYPE_CHECKING:
    from baitwright.workshop.opening.notebook_care import Clock

LASTS = timedelta(days=30)
_MOST = 100
"""Devices signed in at once (judgement); the one that signed in first is let go."""
_NAME = re.compile("[0-9a-f]{64}")


class Sessions:
    """The sessions of a workshop.

    Parameters
    ----------
    place: of the notebook.
    clock: tells the local time with its zone.
    """

    def __init__(self, place: Where, *, clock: Clock) -> None:
        self._place, self._clock = place, clock
        self._folder = folder_of(place) / "door.sessions"

    def begin(self) -> str:
        """A new session, bound to the passphrase as it is now; what its browser is to hold.

        Raises
        ------
        InputError: no passphrase, or the folder cannot be written to.
        """
        self._tidy()
        held, ends = secrets.token_urlsafe(32), self._clock() + LASTS
        path = self._path(held)
        try:
            write_own(path, f"{ends.isoformat()}\n{passphrase_mark(self._place)}\n".encode())
        except OSError as error:
            raise cannot_be_written("session", path, error) from None
        return held

    def is_on(self, held: str) -> bool:
        """Whether a session is running that nobody ended.

        Raises
        ------
        InputError: no passphrase.
        """
        return bool(held) and self._is_on(self._path(held))

    def end(self, held: str) -> None:
        """End a session, or do nothing where there is none."""
        self._path(held).unlink(missing_ok=True)

    def _path(self, held: str) -> Path:
        return self._folder / sha256(held.encode()).hexdigest()

    def _is_on(self, path: Path) -> bool:
        try:
            ends, mark = path.read_text(encoding="utf-8").split()
        except (FileNotFoundError, ValueError):
            return False
        is_known = secrets.compare_digest(mark, passphrase_mark(self._place))
        return is_known and self._clock() < datetime.fromisoformat(ends)

    def _tidy(self) -> None:
        """Let go of what ran out, and of the oldest where there are too many."""
        running = [(path.stat().st_mtime_ns, path) for path in self._every() if self._is_on(path)]
        kept = {path for _, path in sorted(running, reverse=True)[: _MOST - 1]}
        for path in self._every():
            if path not in kept:
                path.unlink(missing_ok=True)

    def _every(self) -> Iterator[Path]:
        if self._folder.is_dir():
            yield from (path for path in self._folder.iterdir() if _NAME.fullmatch(path.name))
