"""Where exports went: kept, so that a purge can reach them or name them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from baitwright.notebook.archive_reading import is_export
from baitwright.notebook.page import Page
from baitwright.terms.errors import InputError
from baitwright.workshop.attached import CHECKSUM, PATH, checksum

EXPORT = "export"


@dataclass(frozen=True, slots=True)
class Noted:
    """An export that was written: its record's name, its file, and whether it still is that.

    Nothing else is: a record that an import brought may tell the path and checksum of any file.
    """

    name: str
    path: Path
    is_there: bool
    is_same: bool


def note_export(page: Page, path: Path, *, now: datetime) -> str:
    """Write down that everything was exported into a file; the record's name.

    Raises
    ------
    InputError: the file cannot be read.
    """
    day = now.date().isoformat()
    name = f"{day}/{page.count(EXPORT, name=f'{day}/') + 1}"
    body = {"day": day, PATH: str(path.resolve()), CHECKSUM: checksum(path)}
    page.write(EXPORT, name, body, seen=0, time=now)
    return name


def exports(page: Page) -> Iterator[Noted]:
    """Exports that stand in the notebook, and what became of their files."""
    for one in page.all(EXPORT):
        if one.body is not None:
            path = Path(one.body[PATH])
            yield Noted(one.name, path, path.exists(), _is(path, one.body[CHECKSUM]))


def forget_export(page: Page, noted: Noted, *, now: datetime) -> None:
    """Write down that an export's file is no more."""
    last = page.latest(EXPORT, noted.name)
    if last is not None and last.body is not None:
        page.write(EXPORT, noted.name, None, seen=last.version, time=now, reason="purged")


def _is(path: Path, told: str) -> bool:
    try:
        return checksum(path) == told and is_export(path)
    except InputError:
        return False
