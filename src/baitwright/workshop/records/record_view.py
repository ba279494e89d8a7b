"""Records as a page shows them: one with its versions and files, those of a kind, and all kinds."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from baitwright.notebook.attachments import CHECKSUM, Shelf
from baitwright.notebook.page import Revision
from baitwright.notebook.people import PERSON
from baitwright.notebook.store import Notebook
from baitwright.workshop.forms.attached import since
from baitwright.workshop.forms.changes import Change, entries_changed
from baitwright.workshop.forms.form import FILES, WRITTEN, Form
from baitwright.workshop.forms.form_lists import Known, line_of, name_of
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.forms.read_records import history, tally
from baitwright.workshop.records.attaching import content_of, find
from baitwright.workshop.records.form_text import cautions, compared, entries, said_in
from baitwright.workshop.records.people_book import code_of, people
from baitwright.workshop.records.shelf_words import told_of


@dataclass(frozen=True, slots=True)
class FileView:
    """A photo or paper of a record; ``changed`` says what became of it, nothing if it is there."""

    sha256: str
    changed: str
    is_picture: bool


@dataclass(frozen=True, slots=True)
class VersionView:
    """A version: its number, when and why it was written, and what it changed."""

    number: int
    told: str
    changes: tuple[Change, ...]


@dataclass(frozen=True, slots=True)
class RecordView:
    """One record; ``version`` is 0 of a person, of whom nothing earlier is kept."""

    kind: str
    name: str
    version: int
    stands: bool
    entries: tuple[tuple[str, str], ...]
    files: tuple[FileView, ...] = ()
    cautions: tuple[str, ...] = ()
    versions: tuple[VersionView, ...] = ()


def record_view(book: Notebook, form: Form, name: str, *, files: Shelf) -> RecordView:
    """One record or person.

    Raises
    ------
    InputError: there is none of the name.
    """
    known = people(book)
    if form.kind == PERSON:
        return _person(code_of(name, known), known)
    versions = history(book, form, name)
    last = versions[-1]
    body = last.body or {}
    return RecordView(
        last.kind,
        last.name,
        last.version,
        last.body is not None,
        tuple(entries(said_in(body), known)),
        tuple(_file(one, versions, files) for one in body.get(FILES, ())),
        tuple(one.strip(" !") for one in cautions(last)),
        tuple(reversed(tuple(_versions(versions)))),
    )


def kinds(book: Notebook) -> dict[str, int]:
    """Every kind of record with how many there are, none where there is none."""
    told = tally(book)
    every = {kind: told.get(kind, 0) for kind in FORMS}
    return {**every, PERSON: len(people(book))}


def listed(found: Iterable[Revision]) -> list[tuple[str, str, str]]:
    """Records in a list: kind, name, and the first things each says."""
    return [(one.kind, one.name, line_of(one)) for one in found if one.body is not None]


def listed_people(known: Known) -> list[tuple[str, str, str]]:
    """People in a list."""
    return [(PERSON, code, name_of(body)) for code, body in known.items()]


def _person(code: str, known: Known) -> RecordView:
    body: Mapping[str, Any] | None = known[code]
    written = (body or {}).get(WRITTEN, {})
    return RecordView(PERSON, code, 0, body is not None, tuple(entries(written, {})))


def _file(one: Mapping[str, str], versions: tuple[Revision, ...], files: Shelf) -> FileView:
    path = find(versions, one[CHECKSUM], files)
    shown = path is not None and content_of(path).is_picture
    return FileView(one[CHECKSUM], since(one, files) if path is None else "", shown)


def _versions(versions: tuple[Revision, ...]) -> Iterator[VersionView]:
    before: Mapping[str, Any] = {}
    for one in versions:
        after = compared(one)
        found = entries_changed(before, after) if before and after else ()
        changes = tuple(each for each in found if not each.entry.startswith(FILES))
        yield VersionView(one.version, told_of(one), changes)
        before = after or before
