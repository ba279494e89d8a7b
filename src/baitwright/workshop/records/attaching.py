"""Photos and papers put beside the notebook: taken for what their content is, and shown as that."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from baitwright.notebook.attachments import CHECKSUM, PATH, Attached, Shelf
from baitwright.notebook.page import ChangedMeanwhileError, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.attached import checksum
from baitwright.workshop.forms.form import FILES, Form
from baitwright.workshop.forms.read_records import history_on

LARGEST = 20_000_000
"""Bytes of a photo or a paper (judgement)."""
_PIECE = 1 << 20
_ACCEPTED = "a photo (JPEG, PNG, WebP, GIF, HEIC) or a PDF, of 20 MB at most"


@dataclass(frozen=True, slots=True)
class Content:
    """What a file is by what stands in it: its type, the end of its name, and whether it shows."""

    type: str
    ending: str
    is_picture: bool = True


_JPEG, _PNG = Content("image/jpeg", "jpg"), Content("image/png", "png")
_WEBP, _GIF = Content("image/webp", "webp"), Content("image/gif", "gif")
_HEIC = Content("image/heic", "heic", is_picture=False)
_PDF = Content("application/pdf", "pdf", is_picture=False)
OTHER = Content("application/octet-stream", "bin", is_picture=False)
_BEGIN = {b"\xff\xd8\xff": _JPEG, b"\x89PNG\r\n\x1a\n": _PNG, b"GIF8": _GIF, b"%PDF-": _PDF}
_HEIC_BRANDS = (b"heic", b"heix", b"heif", b"mif1", b"msf1")


def content_of(path: Path) -> Content:
    """What a file is, by how it begins."""
    with path.open("rb") as file:
        head = file.read(16)
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return _WEBP
    if head[4:8] == b"ftyp" and head[8:12] in _HEIC_BRANDS:
        return _HEIC
    return next((kind for begin, kind in _BEGIN.items() if head.startswith(begin)), OTHER)


@dataclass(frozen=True, slots=True)
class Change:
    """What becomes of a record's files, why, and the version that was looked at."""

    of: Callable[[list[dict[str, str]]], list[dict[str, str]]]
    reason: str
    seen: int | None


@dataclass(frozen=True, slots=True)
class Off:
    """A file that a record is to mention no more, and the version looked at."""

    sha256: str
    seen: int | None = None


@dataclass(frozen=True, slots=True)
class Waiting:
    """A file for a record: where it waits, where such are kept, and the version looked at."""

    path: Path
    shelf: Shelf
    seen: int | None = None


def attach(book: Notebook, form: Form, name: str, *, waiting: Waiting, now: datetime) -> Revision:
    """Put a photo or a paper beside the notebook, and mention it in a record's next version.

    Raises
    ------
    ChangedMeanwhileError: another version stands there than the one that was looked at.
    InputError: no such record, a file that is neither, or too large, or no room for it.
    """
    try:
        size = waiting.path.stat().st_size
        if content_of(waiting.path) is OTHER or size > LARGEST:
            got = f"{size / 1e6:.0f} MB" if size > LARGEST else "a file of another kind"
            raise InputError("file", got, _ACCEPTED)
        told = {CHECKSUM: checksum(waiting.path)}
        path = waiting.shelf.bring(told[CHECKSUM], _pieces(waiting.path))
    except OSError as error:
        hint, accepted = f"{error.strerror or error}.", "a folder with room for it"
        raise InputError("file", str(waiting.shelf.brought), accepted, hint=hint) from None
    told = {PATH: path.relative_to(waiting.shelf.folder).as_posix(), **told}

    def with_it(files: list[dict[str, str]]) -> list[dict[str, str]]:
        return [*(one for one in files if one[CHECKSUM] != told[CHECKSUM]), told]

    return _changed(book, form, name, change=Change(with_it, "with a file", waiting.seen), now=now)


def detach(book: Notebook, form: Form, name: str, *, off: Off, now: datetime) -> Revision:
    """Mention a file no more in a record's next version; earlier ones still do.

    Raises
    ------
    ChangedMeanwhileError: another version stands there than the one that was looked at.
    InputError: no such record or file.
    """

    def without(files: list[dict[str, str]]) -> list[dict[str, str]]:
        left = [one for one in files if one[CHECKSUM] != off.sha256]
        if len(left) == len(files):
            raise InputError("file", off.sha256 or None, "a file that the record mentions")
        return left

    return _changed(book, form, name, change=Change(without, "without a file", off.seen), now=now)


def find(versions: tuple[Revision, ...], sha256: str, shelf: Shelf) -> Path | None:
    """A file that some version of a record mentions; none where it is gone or changed."""
    listed = (one for version in versions for one in (version.body or {}).get(FILES, ()))
    told = next((one for one in listed if one[CHECKSUM] == sha256), None)
    return None if told is None else shelf.find(Attached(told[PATH], told[CHECKSUM]))


def _changed(book: Notebook, form: Form, name: str, *, change: Change, now: datetime) -> Revision:
    with book.writing() as page:
        last = history_on(page, form, name)[-1]
        if last.body is None:
            raise InputError(form.kind, name, "one that was not taken away")
        if change.seen not in (None, last.version):
            seen = change.seen or 0
            raise ChangedMeanwhileError(form.kind, name, seen=seen, there=last.version)
        body = {**last.body, FILES: change.of(list(last.body.get(FILES, ())))}
        seen, why = last.version, change.reason
        return page.write(form.kind, last.name, body, seen=seen, time=now, reason=why)


def _pieces(path: Path) -> Iterator[bytes]:
    with path.open("rb") as file:
        while piece := file.read(_PIECE):
            yield piece
