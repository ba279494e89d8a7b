"""Where exports went: kept, so that a purge can reach them or name them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from glob import escape
from pathlib import Path

from baitwright.notebook.archive_reading import is_export
from baitwright.notebook.attachments import CHECKSUM, PATH, Shelf
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.copies.export_all import Exported, export_all
from baitwright.workshop.forms.attached import checksum

EXPORT = "export"
NOT_THERE = "not there now: where it went, such as to a stick, delete it yourself"


@dataclass(frozen=True, slots=True)
class Noted:
    """A file that exports were written into: their records' names, and what became of it.

    It still is an export only if it is one: a record that an import brought may tell the path and
    checksum of any file. One that was never finished left a half beside the path at most.
    """

    path: Path
    names: tuple[str, ...]
    is_there: bool
    is_same: bool
    is_begun_only: bool = False


def export_noted(book: Notebook, into: Path, *, files: Shelf, now: datetime) -> Exported:
    """Export everything as `export_all`, and write down where it goes before its first byte.

    Raises
    ------
    InputError: as `export_all`, or the notebook cannot be written to.
    """
    with book.writing() as page:
        name = note_export(page, into, now=now)

    def note(part: Path) -> None:
        with book.writing() as page:
            last = page.latest(EXPORT, name)
            if last is None or last.body is None:  # purged while it was written
                raise InputError("export", str(into), "a notebook that is not purged meanwhile")
            body = {**last.body, CHECKSUM: checksum(part)}
            page.write(EXPORT, name, body, seen=last.version, time=now)

    try:
        return export_all(book, into, files=files, now=now, first=note)
    except InputError:
        with suppress(InputError), book.writing() as page:  # a full disk keeps the note
            _forget(page, [name], now=now, reason="nothing was exported")
        raise


def export_to_hand(book: Notebook, *, files: Shelf, now: datetime) -> Path:
    """Export everything to hand it over, beside the notebook; whoever takes it deletes it here.

    It is written down as any export is, so that a purge tells of it.

    Raises
    ------
    InputError: as `export_noted`.
    """
    folder = files.folder / "exports"
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    path = folder / f"baitwright-{now:%Y-%m-%dT%H%M%S%f}.zip"
    return export_noted(book, path, files=files, now=now).path


def note_export(page: Page, path: Path, *, now: datetime, sha256: str = "") -> str:
    """Write down that everything is exported into a file; the record's name.

    Parameters
    ----------
    page: to write on.
    path: the file.
    now: when.
    sha256: its checksum; nothing where it is only begun.
    """
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
        is_begun_only = not any(told.values())
        yield Noted(path, tuple(told), path.exists(), _is_one(path, told.values()), is_begun_only)


def purge_exports(book: Notebook, noted: Iterable[Noted], *, now: datetime) -> dict[Path, str]:
    """Delete exports that still are what was exported; why not, for every other."""
    left = {}
    for one in noted:
        try:
            for half in one.path.parent.glob(f".{escape(one.path.name)}.*.part"):
                half.unlink()
            if one.is_same:
                one.path.unlink()
            elif not (one.is_begun_only and one.path.parent.is_dir()):
                why = "no longer what was exported: look into it yourself"
                left[one.path] = f"It is {why if one.is_there else NOT_THERE}."
                continue
        except OSError as error:
            left[one.path] = f"{error.strerror}."
            continue
        with book.writing() as page:
            _forget(page, one.names, now=now, reason="purged")
    return left


def _forget(page: Page, names: Iterable[str], *, now: datetime, reason: str) -> None:
    """Write down that what exports were written into is no more."""
    for name in names:
        last = page.latest(EXPORT, name)
        if last is not None and last.body is not None:
            page.write(EXPORT, name, None, seen=last.version, time=now, reason=reason)


def _is_one(path: Path, told: Iterable[str]) -> bool:
    """Whether a file is one of the exports whose checksums were noted."""
    try:
        return checksum(path) in told and is_export(path)
    except InputError:
        return False
