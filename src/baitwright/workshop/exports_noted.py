"""Where exports went: kept, so that a purge can reach them or name them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from glob import escape
from pathlib import Path

from baitwright.notebook.archive_reading import is_export
from baitwright.notebook.attachments import CHECKSUM, PATH, Shelf
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.attached import checksum
from baitwright.workshop.export_all import Exported, export_all

EXPORT = "export"
NOT_THERE = "not there now: where it went, such as to a stick, delete it yourself"


@dataclass(frozen=True, slots=True)
class Noted:
    """A file that exports were written into: their records' names, and what became of it.

    It still is an export only if it is one: a record that an import brought may tell the path and
    checksum of any file.
    """

    path: Path
    names: tuple[str, ...]
    is_there: bool
    is_same: bool


def export_noted(book: Notebook, into: Path, *, files: Shelf, now: datetime) -> Exported:
    """Export everything as `export_all`, and write down where it went before it is there.

    Raises
    ------
    InputError: as `export_all`, or the notebook cannot be written to.
    """

    def note(part: Path) -> None:
        with book.writing() as page:
            note_export(page, into, sha256=checksum(part), now=now)

    return export_all(book, into, files=files, now=now, first=note)


def note_export(page: Page, path: Path, *, sha256: str, now: datetime) -> str:
    """Write down that everything is exported into a file of a checksum; the record's name."""
    day = now.date().isoformat()
    name = f"{day}/{page.count(EXPORT, name=f'{day}/') + 1}"
    body = {"day": day, PATH: str(path.resolve()), CHECKSUM: sha256}
    page.write(EXPORT, name, body, seen=0, time=now)
    return name


def exports(page: Page) -> Iterator[Noted]:
    """Files that exports were written into, and what became of each."""
    noted: dict[Path, dict[str, str]] = {}
    for one in page.all(EXPORT):
        if one.body is not None:
            noted.setdefault(Path(one.body[PATH]), {})[one.name] = one.body[CHECKSUM]
    for path, told in noted.items():
        yield Noted(path, tuple(told), path.exists(), _is_one(path, told.values()))


def purge_exports(book: Notebook, noted: Iterable[Noted], *, now: datetime) -> dict[Path, str]:
    """Delete exports that still are what was exported; why not, for every other."""
    left = {}
    for one in noted:
        try:
            for half in one.path.parent.glob(f".{escape(one.path.name)}.*.part"):
                half.unlink()
            if not one.is_same:
                why = "no longer what was exported: look into it yourself"
                left[one.path] = f"It is {why if one.is_there else NOT_THERE}."
                continue
            one.path.unlink()
        except OSError as error:
            left[one.path] = f"{error.strerror}."
            continue
        with book.writing() as page:
            _forget(page, one, now=now)
    return left


def _forget(page: Page, noted: Noted, *, now: datetime) -> None:
    """Write down that exports' file is no more."""
    for name in noted.names:
        last = page.latest(EXPORT, name)
        if last is not None and last.body is not None:
            page.write(EXPORT, name, None, seen=last.version, time=now, reason="purged")


def _is_one(path: Path, told: Iterable[str]) -> bool:
    """Whether a file is one of the exports whose checksums were noted."""
    try:
        return checksum(path) in told and is_export(path)
    except InputError:
        return False
