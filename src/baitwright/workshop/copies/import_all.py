"""The file of an export into a notebook: whole into an empty one, merged into a filled one."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass, replace
from datetime import datetime
from pathlib import Path

from baitwright.notebook.archive import FILES
from baitwright.notebook.archive_reading import Archive, opened_archive
from baitwright.notebook.attachments import Attached, Shelf, attached
from baitwright.notebook.halves import let_go
from baitwright.notebook.json_rows import JsonRows
from baitwright.notebook.merging import Keep, Merge, compare, take_in
from baitwright.notebook.page import Page
from baitwright.notebook.rows import count_of, is_empty, told_tables
from baitwright.notebook.staging import copy_into, staged
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.copies.can_merge import hindrances, joined
from baitwright.workshop.copies.known_bodies import refuse_misshapen
from baitwright.workshop.nights.counted_rods import Doubtful
from baitwright.workshop.nights.night_doubts import doubts_that_came
from baitwright.workshop.opening.notebook_care import copy_before
from baitwright.workshop.traces.quarantine import keep_aside
from baitwright.workshop.traces.undone_traces import follow_traces


@dataclass(frozen=True, slots=True)
class Wish:
    """What is to become of what differs, and whether to look only."""

    now: datetime
    keep: Keep | None = None
    is_dry_run: bool = False


@dataclass(frozen=True, slots=True)
class Imported:
    """What a file brought, or would bring.

    ``whole`` counts its rows where the notebook was empty; otherwise ``merge`` says what was new
    and what differs. Hindrances, and differences while nothing is decided, leave all as it was.
    ``doubtful`` is what of the nights that came cannot be counted as it stands.
    """

    path: Path
    is_done: bool
    whole: Mapping[str, int]
    merge: Merge | None = None
    hindrances: tuple[str, ...] = ()
    is_decided: bool = True
    files: int = 0
    backup: Path | None = None
    doubtful: tuple[Doubtful, ...] = ()


def import_all(book: Notebook, path: Path, *, files: Shelf, wish: Wish) -> Imported:
    """Bring in everything of an export that a notebook lacks, or nothing.

    Parameters
    ----------
    book: the notebook, open.
    path: the zip.
    files: where attachments lie, and those that come are put.
    wish: whose version stands where two differ, and whether to look only.

    Raises
    ------
    InputError: the file is damaged, of a later program or none of ours; nothing was imported.
    """
    with opened_archive(path) as archive, _staged(archive, wish.now) as stage:
        with book.reading() as here, stage.reading() as there:
            refuse_misshapen(there)
            found = _look(path, here, there, wish=wish)
        if wish.is_dry_run or not found.is_decided:
            return found
        if found.merge is not None and found.merge.is_nothing:
            with stage.reading() as there, _brought(archive, files, there) as count:
                return replace(found, is_done=True, files=count)
        kept = None if found.merge is None else copy_before(book, "import", now=wish.now)
        with book.writing() as here, stage.reading() as there:
            found = _look(path, here, there, wish=wish)  # again: others may have written meanwhile
            if not found.is_decided:
                return found
            with _brought(archive, files, there) as count:
                _write(found.merge, here, stage, wish=wish, path=path)
    doubts = _doubts(book, found.merge)
    return replace(found, is_done=True, files=count, backup=kept, doubtful=doubts)


def _doubts(book: Notebook, merge: Merge | None) -> tuple[Doubtful, ...]:
    with suppress(InputError):  # by then all is written
        return doubts_that_came(book, merge)
    return ()


@contextmanager
def _staged(archive: Archive, now: datetime) -> Iterator[Notebook]:
    step, rows = archive.manifest.step, JsonRows(archive.texts("notebook.json"))
    with staged(rows.read(), step=step, now=now) as stage:
        if rows.head.get("step") != step:
            raise InputError(
                "notebook.json", rows.head.get("step"), f"step {step}, as its manifest"
            )
        yield stage


def _look(path: Path, here: Page, there: Page, *, wish: Wish) -> Imported:
    if is_empty(here.connection):
        counts = {table.name: count_of(there.connection, table) for table in told_tables()}
        return Imported(path, is_done=False, whole=counts)
    merge = compare(here, there)
    hindered = hindrances(merge, here, there)
    is_told = wish.keep is not None or not (merge.differing or merge.differing_people)
    return Imported(path, False, {}, merge, hindered, is_decided=is_told and not hindered)


def _write(merge: Merge | None, here: Page, stage: Notebook, *, wish: Wish, path: Path) -> None:
    if merge is None:
        copy_into(here, stage)
        return
    name = path.name.encode(errors="replace").decode()  # of letters that are none
    with stage.reading() as there:
        take_in(merge, here, there, keep=wish.keep, now=wish.now, reason=f"as in {name}")
    follow_traces(here, sorted(merge.numbers[one] for one in merge.entries))
    keep_aside(here, joined(merge, here), now=wish.now)


@contextmanager
def _brought(archive: Archive, files: Shelf, there: Page) -> Iterator[int]:
    """Attachments that are not where their records say; gone again if what follows fails."""
    mentioned: dict[str, Attached] = {}
    for one in attached(there.connection):
        mentioned.setdefault(one.sha256, one)
    made: list[Path] = []
    try:
        for name in archive.manifest.members:
            told = mentioned.get(name.removeprefix(FILES))
            if told is not None and files.find(told) is None:
                made.append(files.bring(told.sha256, archive.pieces(name)))
        yield len(made)
    except BaseException as error:
        let_go(*made)
        if isinstance(error, OSError):
            accepted = "a folder that can be written to, with room for the attachments"
            raise InputError("import", str(files.brought), accepted, hint=str(error)) from None
        raise
