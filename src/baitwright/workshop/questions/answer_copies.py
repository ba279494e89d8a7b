"""Copies of answers that were written as files: noted, so that a purge can reach them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Any

from baitwright.advice.answers import Advice
from baitwright.notebook.attachments import CHECKSUM, PATH
from baitwright.notebook.page import Page
from baitwright.notebook.store import Notebook
from baitwright.sheets.advice_parts import mark
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.attached import checksum
from baitwright.workshop.forms.form import DAY
from baitwright.workshop.told.files import write_together
from baitwright.workshop.typed.shape_checks import text

COPY = "answer copy"
_MARK = re.compile(r"Answer .+, version \d+")
ANSWERS, MARKS = "answers", "marks"


@dataclass(frozen=True, slots=True)
class Copied:
    """A file that answers were written into, under the name of its note.

    ``is_ours`` where it still is what was written: a record that an import brought may tell the
    path and checksum of any file, so the marks of its answers have to stand in it too.
    """

    name: str
    path: Path
    is_there: bool
    is_ours: bool


@dataclass(frozen=True, slots=True)
class Sheet:
    """What is to be written into a file, and the answers that stand in it."""

    content: bytes
    answers: tuple[Advice, ...]


def write_copy(book: Notebook, path: Path, sheet: Sheet, *, now: datetime) -> Path:
    """Write answers into a file, and note where it went before its first byte.

    Raises
    ------
    InputError: the file or the notebook cannot be written to.
    """
    if sheet.answers:
        with book.writing() as page:
            _note(page, path, sheet, now=now)
    return write_together(path.parent, {path.name: sheet.content}, field="file")[0]


def _note(page: Page, path: Path, sheet: Sheet, *, now: datetime) -> None:
    day = now.date().isoformat()
    name = f"{day}/{page.count(COPY, name=f'{day}/') + 1}"
    body = {
        DAY: day,
        PATH: str(path.resolve()),
        CHECKSUM: sha256(sheet.content).hexdigest(),
        ANSWERS: [one.name for one in sheet.answers],
        MARKS: [mark(one) for one in sheet.answers],
    }
    page.write(COPY, name, body, seen=0, time=now)


def copies_of(page: Page, answers: Iterable[str]) -> Iterator[Copied]:
    """Files that any of these answers was written into."""
    wanted = set(answers)
    for one in page.all(COPY):
        body = one.body or {}
        if wanted.intersection(body[ANSWERS]):
            path = Path(body[PATH])
            yield Copied(one.name, path, path.exists(), _is_ours(path, body))


def delete_copies(copies: Iterable[Copied]) -> dict[Path, str]:
    """Delete files that still are what was written; why not, for every other."""
    left = {}
    for one in copies:
        try:
            if one.is_ours:
                one.path.unlink(missing_ok=True)
            elif one.is_there:
                left[one.path] = "It is no longer what was written: look into it yourself."
        except OSError as error:
            left[one.path] = f"{error.strerror}."
    return left


def _is_ours(path: Path, body: Mapping[str, Any]) -> bool:
    try:
        if checksum(path) != body[CHECKSUM]:
            return False
    except InputError:
        return False
    content, marks = path.read_bytes(), body[MARKS]
    return bool(marks) and all(_MARK.fullmatch(one) and one.encode() in content for one in marks)


def refuse_misshapen(body: Mapping[str, Any]) -> None:
    """Refuse a note that could not be read again.

    Raises
    ------
    LookupError, TypeError: an entry that is missing, or no text.
    """
    text(body[PATH], body[CHECKSUM], *body[ANSWERS], *body[MARKS])
