"""Everything of the notebook in one file: to keep elsewhere, to move, or to read without us."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from dataclasses import asdict, dataclass
from datetime import datetime
from pathlib import Path
from zipfile import ZipFile

from sqlalchemy import Connection

from baitwright import __version__
from baitwright.notebook.archive import FILES, ArchiveWriter, in_pieces
from baitwright.notebook.archive_reading import is_export, opened_archive
from baitwright.notebook.attachments import Attached, Shelf, attached
from baitwright.notebook.halves import let_go
from baitwright.notebook.json_rows import json_text
from baitwright.notebook.leaf import written
from baitwright.notebook.rows import count_of, rows_of, told_tables
from baitwright.notebook.soundness import HEAD
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.copies.export_tables import csv_name, csv_texts, data_package

_PIECE = 1 << 20


@dataclass(frozen=True, slots=True)
class Exported:
    """What went into the file, and which attachments are missing or no longer what they were."""

    path: Path
    rows: Mapping[str, int]
    files: int
    missing: tuple[Attached, ...]


def export_all(
    book: Notebook,
    into: Path,
    *,
    files: Shelf,
    now: datetime,
    first: Callable[[Path], object] | None = None,
) -> Exported:
    """Write everything of one moment into one zip; it is read again before it counts.

    Parameters
    ----------
    book: the notebook, open.
    into: the file; an older export in its place is replaced.
    files: where the attachments lie.
    now: for the manifest; everything else is the same for the same notebook.
    first: is told of the whole file before it is in its place.

    Raises
    ------
    InputError: the file cannot be written, or another file is in its place.
    """
    if into.exists() and not is_export(into):
        hint = "What is there is no export, and stays."
        raise InputError("export", str(into), "a file that is not there yet", hint=hint)
    part = into.with_name(f".{into.name}.{os.getpid()}.part")
    try:
        with book.reading() as page, ZipFile(part, "w") as zipped:
            writer = ArchiveWriter(zipped)
            rows, missing = _write(writer, page.connection, files=files, now=now)
        with opened_archive(part), part.open("rb+") as file:
            os.fsync(file.fileno())
        if first is not None:
            first(part)
        part.replace(into)
    except OSError as error:
        accepted = "a file that can be written, in a folder with room for it"
        hint = f"{error.strerror or error}."
        raise InputError("export", str(into), accepted, hint=hint) from None
    finally:
        let_go(part)
    return Exported(
        into, rows, files=sum(name.startswith(FILES) for name in writer.members), missing=missing
    )


def _write(
    writer: ArchiveWriter, connection: Connection, *, files: Shelf, now: datetime
) -> tuple[Mapping[str, int], tuple[Attached, ...]]:
    """All members; how many rows of each table there are, and which attachments are missing."""
    told = ((table.name, rows_of(connection, table)) for table in told_tables())
    writer.put("notebook.json", in_pieces(json_text(HEAD, told)))
    for table in told_tables():
        texts = csv_texts(table, rows_of(connection, table))
        writer.put(csv_name(table), in_pieces(texts))
    writer.put("datapackage.json", [data_package(writer.members).encode()])
    mentioned = sorted(set(attached(connection)))
    missing = tuple(one for one in mentioned if not _put_file(writer, one, files.find(one)))
    head = {"program": __version__, "step": HEAD, "time": written(now)}
    writer.finish({**head, "missing": [asdict(one) for one in missing]})
    return {table.name: count_of(connection, table) for table in told_tables()}, missing


def _put_file(writer: ArchiveWriter, one: Attached, there: Path | None) -> bool:
    """Put a file in under its checksum, once; whether it is in the zip."""
    name = f"{FILES}{one.sha256}"
    if there is None or name in writer.members:
        return name in writer.members
    with there.open("rb") as file:
        made = writer.put(name, iter(lambda: file.read(_PIECE), b""))
    if made.sha256 != one.sha256:
        raise InputError("export", one.path, "a file that nobody changes meanwhile")
    return True
