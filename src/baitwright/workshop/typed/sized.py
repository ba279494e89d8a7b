"""The bytes of a file, refused where they are more than any file of its kind has."""

from __future__ import annotations

from pathlib import Path

from baitwright.terms.errors import InputError

LARGEST = 1_000_000
"""Bytes of a file that is written by hand (judgement): the longest of ours has some 3,000."""
LARGEST_PLAN = 100_000_000
"""Bytes of a plan as JSON (judgement): with every number of 8,192 draws it has some 10 million."""


def sized(path: Path, *, what: str, most: int = LARGEST) -> bytes:
    """A file's bytes; no more than the most are ever read, whatever the file is.

    Parameters
    ----------
    path: the file.
    what: the kind of file it should be, for the error.
    most: bytes that it may have.

    Raises
    ------
    OSError: it cannot be read.
    InputError: it is larger.
    """
    with path.open("rb") as file:
        data = file.read(most + 1)
    if len(data) > most:
        raise InputError(what, "a larger file", f"{most // 1_000_000} MB at most", where=str(path))
    return data
