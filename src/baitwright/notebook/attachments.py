"""Photos and files that records mention: looked for where they lie, known by their checksum."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from hashlib import file_digest
from pathlib import Path

from sqlalchemy import Connection

from baitwright.notebook.halves import let_go
from baitwright.notebook.rows import rows_of
from baitwright.notebook.tables import people, revisions
from baitwright.notebook.where import Where, folder_of, name_of

KEY = "files"
"""The entry of a record's body that lists them, each with its path and its SHA-256."""
PATH, CHECKSUM = "path", "sha256"


@dataclass(frozen=True, slots=True, order=True)
class Attached:
    """A file as a record mentions it; a path that is not absolute begins at the notebook."""

    path: str
    sha256: str


@dataclass(frozen=True, slots=True)
class Shelf:
    """Where attachments lie: by their paths from a folder, or in a folder by their checksums."""

    folder: Path
    brought: Path

    def find(self, one: Attached) -> Path | None:
        """Where a file is that still is what it was; none where it is missing or changed."""
        for path in (self.folder / one.path, self.brought / one.sha256):
            try:
                if path.is_file() and checksum(path) == one.sha256:
                    return path
            except (OSError, ValueError):  # not to be read, or no path at all
                continue
        return None

    def bring(self, sha256: str, pieces: Iterable[bytes]) -> Path:
        """Put a file among those that are known by their checksums."""
        self.brought.mkdir(exist_ok=True, mode=0o700)
        made, part = self.brought / sha256, self.brought / f".{sha256}.part"
        try:
            with part.open("wb") as file:
                file.writelines(pieces)
                file.flush()
                os.fsync(file.fileno())
            part.replace(made)
        finally:
            let_go(part)
        return made


def shelf_beside(place: Where) -> Shelf:
    """The attachments of a notebook; those that an import brought lie in a folder beside it."""
    folder = folder_of(place)
    return Shelf(folder, folder / f"{name_of(place)}-files")


def attached(connection: Connection) -> Iterator[Attached]:
    """Every file that records and people mention, as often as they do."""
    for table in (revisions, people):
        for row in rows_of(connection, table, table.c.body.contains(f'"{KEY}"')):
            listed = json.loads(row["body"]).get(KEY)
            for one in listed if isinstance(listed, list) else ():
                of = one if isinstance(one, dict) else {}
                path, told = of.get(PATH), of.get(CHECKSUM)
                if isinstance(path, str) and isinstance(told, str) and path and told:
                    yield Attached(path, told)


def forget_brought(connection: Connection, shelf: Shelf) -> int:
    """Delete files that an import brought and that nothing mentions any more; how many.

    For after a purge: what a maker keeps elsewhere is never touched.
    """
    if not shelf.brought.is_dir():
        return 0
    mentioned = {one.sha256 for one in attached(connection)}
    gone = [path for path in shelf.brought.iterdir() if path.name not in mentioned]
    let_go(*gone)
    return sum(not path.exists() for path in gone)


def checksum(path: Path) -> str:
    """The SHA-256 of a file."""
    with path.open("rb") as file:
        return file_digest(file, "sha256").hexdigest()
