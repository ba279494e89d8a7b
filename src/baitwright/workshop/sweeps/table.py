"""The finished table: parts put together as CSV, or as Parquet with the extra ``sweep``."""

from __future__ import annotations

import csv
import io
import os
from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import Any

from baitwright.terms.errors import InputError
from baitwright.workshop.sweeps.parts import Parts
from baitwright.workshop.sweeps.rows import OUR_FAULT, WORDS
from baitwright.workshop.told.extras import need_extra
from baitwright.workshop.told.files import write_whole
from baitwright.workshop.told.own_file import cannot_be_written

CSV, PARQUET = ".csv", ".parquet"
_MARK = b"\xef\xbb\xbf"
"""By which spreadsheets know UTF-8."""
_ROWS = 50_000
"""Rows of a group of Parquet, at the least."""


def ending_of(out: Path) -> str:
    """What kind of table is asked for.

    Raises
    ------
    InputError: none that is known, or the extra it needs is not installed.
    """
    ending = out.suffix.lower()
    if ending not in (CSV, PARQUET):
        raise InputError("out", str(out), f"a file that ends in {CSV} or {PARQUET}")
    if ending == PARQUET:
        need_extra("sweep", "pyarrow")
    return ending


def write_table(out: Path, names: tuple[str, ...], parts: Parts) -> None:
    """Write all parts as one table, whole or not at all.

    Raises
    ------
    InputError: no room.
    """
    try:
        if ending_of(out) == PARQUET:
            _write_parquet(out, names, parts)
        else:
            head = _MARK + ",".join(names).encode() + b"\r\n"
            write_whole(out, _after(head, parts.texts()))
    except OSError as error:
        raise cannot_be_written("out", out, error) from None


def refused_in(parts: Parts) -> tuple[int, int]:
    """How many designs could not be planned, and how many of them by our fault."""
    errors = [row[-1] for text in parts.texts() for row in _rows(text) if row[-1]]
    return len(errors), sum(one.startswith(OUR_FAULT) for one in errors)


def _after(head: bytes, texts: Iterator[bytes]) -> Iterator[bytes]:
    yield head
    yield from texts


def _rows(text: bytes) -> Iterator[list[str]]:
    return csv.reader(io.StringIO(text.decode(), newline=""))


def _write_parquet(out: Path, names: tuple[str, ...], parts: Parts) -> None:
    import pyarrow as arrow
    from pyarrow import parquet

    kinds = {name: arrow.string() if name in WORDS else arrow.float64() for name in names}
    kinds[names[0]] = arrow.int64()
    schema = arrow.schema(list(kinds.items()))
    part, texts = out.with_name(f".{out.name}.{os.getpid()}.part"), parts.texts()
    at_once = -(-_ROWS // parts.told.each)
    try:
        with parquet.ParquetWriter(part, schema, compression="zstd") as writer:
            while some := list(islice(texts, at_once)):
                columns = zip(*(row for text in some for row in _rows(text)), strict=True)
                told = [_column(name, column) for name, column in zip(names, columns, strict=True)]
                writer.write_table(arrow.table(told, schema=schema))
        with part.open("rb+") as file:
            os.fsync(file.fileno())
        part.replace(out)
    finally:
        part.unlink(missing_ok=True)


def _column(name: str, cells: tuple[str, ...]) -> list[Any]:
    """Cells as they were before they were text; an empty one is nothing."""
    if name in WORDS:
        return [cell or None for cell in cells]
    return [(int(cell) if name == "design" else float(cell)) if cell else None for cell in cells]
