"""The notebook once more as plain text beside it: a page for every record, exact to the letter.

Pages follow what was written: only those are written anew on which something changed. Pages of
another notebook, or of one that a copy replaced, are set aside whole and never written over.
"""

from __future__ import annotations

import glob
import json
import os
import re
import shutil
import unicodedata
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import asdict
from datetime import UTC, datetime
from hashlib import sha256
from itertools import groupby
from operator import itemgetter
from pathlib import Path
from tempfile import TemporaryDirectory

from sqlalchemy import Connection, Table, func, select

from baitwright.notebook.halves import let_go
from baitwright.notebook.overwriting import Overwriting
from baitwright.notebook.plain_reading import CONTENTS, FIRST_LINE, Mark, read_contents
from baitwright.notebook.plain_text import lines_of
from baitwright.notebook.rows import Row, count_of, rows_of, told_tables
from baitwright.notebook.soundness import HEAD
from baitwright.notebook.store import Notebook
from baitwright.notebook.tables import links, movements, people, reservations, revisions, tombstones
from baitwright.notebook.where import Where, folder_of, name_of
from baitwright.terms.errors import InputError

LASTING = (revisions, movements, reservations, tombstones)
"""Tables whose rows are only added; others lose some, or have them changed."""
IN_LINES = (movements, reservations, tombstones, links)
"""Tables of which each row is a line; so many numbers fill a page."""
ON_A_PAGE = 500
_NUMBERED = (*LASTING, links)
_PURGED = ("reason", "body")
_STAMP = "%Y-%m-%dT%H%M%S%fZ"
_ABOUT = """\
# These pages repeat the notebook beside them, word for word; after each writing they follow it.
# What is changed here changes nothing there. If the notebook is lost,
#     baitwright rebuild THIS-FOLDER --notebook NEW-FILE
# makes an equal one. Amounts are whole milligrams, microlitres or pieces, as the item is counted;
# values are millionths of the shop's money. Times are UTC."""


def pages_beside(place: Where) -> Path:
    """The folder of a notebook's pages."""
    return folder_of(place) / f"{name_of(place)}-pages"


def every_page_folder(place: Where) -> tuple[Path, ...]:
    """Whatever folders of a notebook's pages there are: its own, those set aside, and halves."""
    own = pages_beside(place)
    name, forms = glob.escape(own.name), ("", "-until-*", ".part", ".*.part")
    found = (path for form in forms for path in own.parent.glob(f"{name}{form}"))
    return tuple(sorted(path for path in found if path.is_dir()))


def forget(book: Notebook, *, now: datetime, words: Overwriting | None = None) -> None:
    """Take what was purged from all pages; half ones that a killed program left go whole.

    Where words were overwritten the pages are written anew, all of them, and of those set aside no
    page stays that has them.

    Raises
    ------
    InputError: as `follow`.
    """
    own = pages_beside(book.place)
    with _told(own), book.writing() as page:
        for folder in every_page_folder(book.place):
            if folder.name.endswith(".part"):
                shutil.rmtree(folder)
            for half in folder.rglob(".*.part"):
                half.unlink()
        _forget_aside(page.connection, own)
        is_there = own.is_dir()
        if words is not None:
            _forget_words(own, words)
    if is_there:
        follow(book, own, now=now)


def follow(book: Notebook, folder: Path, *, now: datetime) -> int:
    """Write anew the pages on which something changed; how many.

    Nobody writes in the notebook meanwhile, unless all pages are begun anew.

    Parameters
    ----------
    book: the notebook.
    folder: of its pages; made when it is not there.
    now: for the name of pages that are set aside.

    Raises
    ------
    InputError: a page cannot be written; those that are there are whole.
    """
    with _told(folder):
        with book.writing() as page:
            known = read_contents(folder)
            marks = marks_of(page.connection, known)
            if known == marks:
                return 0
            if known is not None and _holds(page.connection, known):
                pages = dict(_changed(page.connection, known, marks))
                _forget_aside(page.connection, folder, after=known[tombstones.name].last)
                return _write(folder, {**pages, CONTENTS: _contents(marks)}.items(), are_few=True)
            if not any(mark.last for mark in marks.values()):
                return 0  # one in which nothing stands yet is no reason to set pages aside
        begun = _begin(book, folder, known, now=now)
        return begun + follow(book, folder, now=now)  # for what was written meanwhile


@contextmanager
def _told(folder: Path) -> Iterator[None]:
    """What the disk says of pages, in the maker's words."""
    try:
        yield
    except OSError as error:
        accepted = "a folder that can be written to, with room for the pages"
        hint = f"{error.strerror or error}. The notebook itself is written."
        raise InputError("plain pages", str(folder), accepted, hint=hint) from None


def marks_of(connection: Connection, known: Mapping[str, Mark] | None = None) -> Mapping[str, Mark]:
    """How far a notebook goes in each table, counted on from where it is known to have been."""
    before = known or {}
    return {table.name: _mark(connection, table, before.get(table.name)) for table in told_tables()}


# --- which pages -------------------------------------------------------------------------------


def _mark(connection: Connection, table: Table, known: Mark | None) -> Mark:
    last = connection.execute(select(func.max(table.c.id))).scalar() or 0
    if known is None or table not in LASTING:
        rows = count_of(connection, table)
    else:
        rows = known.rows + count_of(connection, table, table.c.id > known.last)
    return Mark(rows, last, _comes_to(connection, table, last))


def _comes_to(connection: Connection, table: Table, last: int) -> str:
    """What is seen of a table to tell whether it still goes on from its last row.

    The row itself where rows are only added, but for what a purge empties; the last pages of links;
    all of it where rows are changed.
    """
    tail = 1 if table in LASTING else ON_A_PAGE
    wanted = [table.c.id > last - tail, table.c.id <= last] if table in _NUMBERED else []
    found = sha256()
    for row in rows_of(connection, table, *wanted):
        lasting = {k: v for k, v in row.items() if table is not revisions or k not in _PURGED}
        found.update(json.dumps(lasting).encode())
    return found.hexdigest()[:16]


def _holds(connection: Connection, known: Mapping[str, Mark]) -> bool:
    """Whether a notebook went on from where its pages stopped."""
    are_alike = known.keys() == {table.name for table in told_tables()}
    return are_alike and all(_goes_on(connection, table, known[table.name]) for table in LASTING)


def _goes_on(connection: Connection, table: Table, known: Mark) -> bool:
    """Whether a table has all the rows that it had, and nothing but new ones after them."""
    if known.mark != _comes_to(connection, table, known.last):
        return False
    there = table.c.id <= known.last
    return table in LASTING or known.rows == count_of(connection, table, there)


def _changed(
    connection: Connection, known: Mapping[str, Mark], marks: Mapping[str, Mark]
) -> Iterator[tuple[str, str | None]]:
    """The pages on which something changed since, each with its text; none where it is no more."""
    names: set[tuple[str, str]] = set()
    for table in (revisions, tombstones):
        wanted = select(table.c.kind, table.c.name).where(table.c.id > known[table.name].last)
        names |= {(kind, name) for kind, name in connection.execute(wanted)}
    for kind, name in sorted(names):
        this = (revisions.c.kind == kind, revisions.c.name == name)
        rows = rows_of(connection, revisions, *this, order=("version",))
        yield page_name(kind, name), _record_page(kind, name, rows)
    for table in told_tables():
        if table in IN_LINES and _goes_on(connection, table, known[table.name]):
            yield from _line_pages(connection, table, after=known[table.name].last)
        elif table in IN_LINES:
            for number in range(known[table.name].last // ON_A_PAGE + 1):
                yield _line_page_name(table, number), None
            yield from _line_pages(connection, table, after=0)
        elif table is not revisions and known[table.name] != marks[table.name]:
            yield _table_page_name(table), _table_page(connection, table)


def _forget_aside(connection: Connection, folder: Path, *, after: int = 0) -> None:
    """Take what was purged from pages set aside, and people's where one was erased."""
    purged = rows_of(connection, tombstones, tombstones.c.id > after)
    gone = {page_name(row["kind"], row["name"]) for row in purged}
    if next(rows_of(connection, people, people.c.body.is_(None)), None) is not None:
        gone.add(_table_page_name(people))
    for aside in folder.parent.glob(f"{glob.escape(folder.name)}-until-*"):
        for name in gone:
            (aside / name).unlink(missing_ok=True)


def _forget_words(folder: Path, words: Overwriting) -> None:
    """Delete the pages, and of those set aside each that has words that were overwritten."""
    for aside in folder.parent.glob(f"{glob.escape(folder.name)}-until-*"):
        for path in aside.rglob("*.txt"):
            text = path.read_text(encoding="utf-8", errors="replace")
            if words.of(text) != text:
                path.unlink()
    if folder.is_dir():
        shutil.rmtree(folder)


def _all(connection: Connection) -> Iterator[tuple[str, str]]:
    by = ("kind", "name", "version")
    found = rows_of(connection, revisions, order=by)
    for (kind, name), rows in groupby(found, key=itemgetter(*by[:2])):
        yield page_name(kind, name), _record_page(kind, name, rows)
    for table in told_tables():
        if table in IN_LINES:
            yield from _line_pages(connection, table, after=0)
        elif table is not revisions:
            yield _table_page_name(table), _table_page(connection, table)


def page_name(kind: str, name: str) -> str:
    """The file of a record's page: readable, the same on every system, and no other's."""
    own = sha256(f"{kind}\0{name}".encode()).hexdigest()[:12]
    return f"{_plain(kind)}/{_plain(name)}-{own}.txt"


def _table_page_name(table: Table) -> str:
    return f"{table.name}.txt"


def _line_page_name(table: Table, number: int) -> str:
    return f"{table.name}/{table.name}-{number + 1:05d}.txt"


def _plain(text: str) -> str:
    letters = unicodedata.normalize("NFKD", text).encode("ascii", "ignore").decode().lower()
    return re.sub(r"[^a-z0-9]+", "-", letters).strip("-")[:40].strip("-") or "page"


# --- their text --------------------------------------------------------------------------------


def _record_page(kind: str, name: str, rows: Iterable[Row]) -> str:
    lines = [FIRST_LINE, *lines_of({"kind": kind, "name": name})]
    for row in rows:
        lines += ["", f"--- version {row['version']}", *_row_lines(row, without=("kind", "name"))]
    return _sealed(lines)


def _table_page(connection: Connection, table: Table) -> str:
    lines = [FIRST_LINE, *lines_of({"table": table.name})]
    for row in rows_of(connection, table):
        lines += ["", f"--- {row['id']}", *_row_lines(row)]
    return _sealed(lines)


def _row_lines(row: Row, *, without: tuple[str, ...] = ()) -> Iterator[str]:
    yield from lines_of({k: v for k, v in row.items() if k != "body" and k not in without})
    if row.get("body") is not None:
        yield from lines_of({"body": json.loads(row["body"])})
    elif "body" in row:
        yield "# taken away, or purged"


def _line_pages(connection: Connection, table: Table, *, after: int) -> Iterator[tuple[str, str]]:
    """Pages of rows from the one on which a number would stand that comes next."""
    first = after // ON_A_PAGE * ON_A_PAGE
    rows = rows_of(connection, table, table.c.id >= first)
    for number, some in groupby(rows, key=lambda row: row["id"] // ON_A_PAGE):
        page = list(some)
        if page[-1]["id"] > after:
            yield _line_page_name(table, number), _sealed(_columns(table, page))


def _columns(table: Table, rows: list[Row]) -> list[str]:
    names = table.c.keys()
    cells = [[json.dumps(value, ensure_ascii=False) for value in row.values()] for row in rows]
    widths = [max(len(row[at]) for row in [names, *cells]) for at in range(len(names))]
    told = [
        " | ".join(cell.ljust(min(width, 40)) for cell, width in zip(row, widths, strict=True))
        for row in [names, *cells]
    ]
    head = [FIRST_LINE, *lines_of({"table": table.name, "columns": names})]
    return [*head, "", "--- rows", f"# {told[0]}", *(f"  {one}".rstrip() for one in told[1:])]


def _contents(marks: Mapping[str, Mark]) -> str:
    lines = [FIRST_LINE, *lines_of({"step": HEAD}), _ABOUT]
    for name, mark in marks.items():
        lines += ["", f"--- {name}", *lines_of(asdict(mark))]
    return _sealed(lines)


def _sealed(lines: Iterable[str]) -> str:
    """A page with the checksum of all that stands on it at its end."""
    text = "\n".join(lines) + "\n\n"
    return f'{text}sum = "{sha256(text.encode()).hexdigest()}"\n'


# --- their files -------------------------------------------------------------------------------


def _begin(book: Notebook, folder: Path, known: Mapping[str, Mark] | None, *, now: datetime) -> int:
    """Write every page in a new folder; what stands in its place is set aside.

    Where somebody else was quicker, theirs stand. The contents are written first, for they are gone
    if a purge swept this folder away meanwhile.
    """
    folder.parent.mkdir(parents=True, exist_ok=True)
    prefix, around = f"{folder.name}.", folder.parent
    with TemporaryDirectory(".part", prefix, around, ignore_cleanup_errors=True) as own:
        part = Path(own) / folder.name
        part.mkdir(mode=0o700)  # as private as the notebook
        with book.reading() as page:
            marks = marks_of(page.connection)
            count = _write(part, [(CONTENTS, _contents(marks))], are_few=True)
            count += _write(part, _all(page.connection), are_few=False)
        with book.writing() as page:
            if read_contents(folder) != known or read_contents(part) != marks:
                return 0
            if folder.exists():
                stamp = now.astimezone(UTC).strftime(_STAMP)
                folder.rename(folder.with_name(f"{folder.name}-until-{stamp}"))
            part.rename(folder)
            _forget_aside(page.connection, folder)
    return count


def _write(folder: Path, pages: Iterable[tuple[str, str | None]], *, are_few: bool) -> int:
    """Write pages, each whole or not at all, and wait until the disk has them; how many.

    A page without a text is taken away.
    """
    count = 0
    for name, text in pages:
        path, count = folder / name, count + 1
        if text is None:
            path.unlink(missing_ok=True)
            continue
        part = path.with_name(f".{path.name}.part")
        path.parent.mkdir(parents=True, exist_ok=True)
        try:
            with part.open("w", encoding="utf-8", newline="") as file:
                file.write(text)
                if are_few:
                    file.flush()
                    os.fsync(file.fileno())
            part.replace(path)
        finally:
            let_go(part)
    if not are_few and hasattr(os, "sync"):
        os.sync()
    return count
