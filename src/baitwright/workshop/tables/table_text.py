"""A CSV file as rows: its encoding and delimiter found where they are plain, else asked for."""

from __future__ import annotations

import codecs
import csv
import io
from collections.abc import Mapping

from baitwright.terms.errors import InputError
from baitwright.workshop.tables.table_file import HowToRead, TableRow, checked
from baitwright.workshop.told.spreadsheet import text_of_cell

ENCODINGS = ("utf-8", "utf-16", "cp1252", "cp1250", "cp850", "iso-8859-1", "iso-8859-15")
DELIMITERS: Mapping[str, str] = {"comma": ",", "semicolon": ";", "tab": "\t"}
# The longer marks first: UTF-32's begins like UTF-16's.
_MARKS = (
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF8, "utf-8"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
_FIELD_LIMIT = "field larger than field limit"


def text_of(data: bytes, encoding: str) -> tuple[str, str]:
    """The text of a CSV file, and the encoding it was read in.

    A byte order mark says it, else the maker; else it is UTF-8 or refused, and never guessed.

    Raises
    ------
    InputError: bytes that are no text in that encoding, or NULs.
    """
    marked = next((name for mark, name in _MARKS if data.startswith(mark)), "")
    said = encoding.lower().replace("_", "-")
    if said and said not in ENCODINGS:
        raise InputError("encoding", encoding, f"one of: {', '.join(ENCODINGS)}")
    if marked == "utf-32" or (said and marked and said != marked):
        accepted = f"{said or 'UTF-8 or UTF-16'}, or a file without that mark"
        raise InputError("encoding", f"a byte order mark of {marked.upper()}", accepted)
    name = marked or said or "utf-8"
    try:
        text = data.decode(name).removeprefix("\ufeff")
    except UnicodeDecodeError as error:
        raise _undecodable(error, marked=bool(marked)) from None
    if "\0" in text:
        line = text[: text.index("\0")].count("\n") + 1
        hint = "Is it UTF-16 without its mark? Say --encoding utf-16." if not marked else ""
        raise InputError(f"line {line}", "a NUL", "text without NULs", hint=hint)
    return text, name


def rows_of(text: str, how: HowToRead) -> tuple[tuple[TableRow, ...], str]:
    """The rows of a CSV file's text, and the word for what parts their columns.

    Raises
    ------
    InputError: quotes that do not match, a table too large, or columns that several delimiters
        would part.
    """
    if how.delimiter and how.delimiter not in DELIMITERS:
        raise InputError("delimiter", how.delimiter, f"one of: {', '.join(DELIMITERS)}")
    found: dict[str, tuple[TableRow, ...]] = {}
    failed: dict[str, InputError] = {}
    for word in [how.delimiter] if how.delimiter else DELIMITERS:
        try:
            found[word] = _parted(text, DELIMITERS[word])
        except InputError as error:
            failed[word] = error
    wide = [word for word, rows in found.items() if rows and len(rows[0].cells) > 1]
    if failed and not wide:
        first = text.partition("\n")[0]
        raise failed[max(failed, key=lambda word: first.count(DELIMITERS[word]))]
    if len(wide) > 1:
        even = [word for word in wide if len({len(row.cells) for row in found[word]}) == 1]
        if len(even) != 1:
            got = " and ".join(f"a {word}" for word in wide)
            raise InputError("columns", f"parted by {got}", "one of them: say --delimiter")
        wide = even
    word = wide[0] if wide else next(iter(found))
    return found[word], word


def _parted(text: str, delimiter: str) -> tuple[TableRow, ...]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter, strict=True)
    rows: list[TableRow] = []
    begins = 1
    try:
        for cells in reader:
            row = TableRow(begins, tuple(text_of_cell(cell.strip()) for cell in cells))
            begins = reader.line_num + 1
            if not row.is_blank:
                rows.append(checked(row, len(rows)))
    except csv.Error as error:
        long = _FIELD_LIMIT in str(error)
        got = "a cell without an end" if long else "quotes that do not match"
        hint = "A quote within quotes is written twice."
        raise InputError(f"line {begins}", got, "cells with both their quotes", hint=hint) from None
    return tuple(rows)


def _undecodable(error: UnicodeDecodeError, *, marked: bool) -> InputError:
    line = error.object[: error.start].count(b"\n") + 1
    hint = "" if marked else "If it was saved in another encoding, say so: --encoding cp1252."
    accepted = f"text in {error.encoding.upper()}"
    return InputError("encoding", f"byte {error.start + 1} in line {line}", accepted, hint=hint)
