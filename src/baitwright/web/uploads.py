"""Files that a page was sent: kept until the workshop closes, under names of our own."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass
from pathlib import Path
from secrets import token_hex
from shutil import copyfileobj
from tempfile import TemporaryDirectory
from threading import Lock
from typing import BinaryIO

from baitwright.terms.errors import InputError

_MOST = 8
"""Files that wait at once; an older one is let go."""
_LONGEST_NAME = 80


@dataclass(frozen=True, slots=True)
class Upload:
    """A file that waits: its mark, what its sender calls it, and where we keep it."""

    mark: str
    name: str
    path: Path


class Uploads:
    """Files between the page they were sent to and the page that is sure of them."""

    def __init__(self) -> None:
        self._folder: TemporaryDirectory[str] | None = None
        self._kept: OrderedDict[str, Upload] = OrderedDict()
        self._looking = Lock()

    def keep(self, file: BinaryIO, name: str, *, kept_as: str = "file") -> Upload:
        """Keep a file under a name of ours; its own is shown and never part of a path."""
        with self._looking:
            if self._folder is None:
                self._folder = TemporaryDirectory(prefix="baitwright-")
            mark = token_hex(12)
            path = Path(self._folder.name) / mark / kept_as
            path.parent.mkdir()
            with path.open("wb") as into:
                copyfileobj(file, into)
            shown = "".join(one for one in name if one.isprintable())[:_LONGEST_NAME]
            made = self._kept[mark] = Upload(mark, shown or "file", path)
            while len(self._kept) > _MOST:
                _, old = self._kept.popitem(last=False)
                old.path.unlink(missing_ok=True)
        return made

    def waiting(self, mark: str) -> Upload:
        """A file that waits.

        Raises
        ------
        InputError: it waits no longer.
        """
        with self._looking:
            found = self._kept.get(mark)
        if found is None:
            raise InputError("file", None, "the file once more: it waited too long")
        return found

    def drop(self, mark: str) -> None:
        """Let a file go."""
        with self._looking:
            found = self._kept.pop(mark, None)
        if found is not None:
            found.path.unlink(missing_ok=True)

    def close(self) -> None:
        """Let all of them go."""
        with self._looking:
            self._kept.clear()
            if self._folder is not None:
                self._folder.cleanup()
                self._folder = None
