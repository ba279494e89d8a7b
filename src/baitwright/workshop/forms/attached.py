"""Photos and papers beside the notebook: kept by where they lie and what they were."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from baitwright.notebook import attachments
from baitwright.notebook.attachments import CHECKSUM, PATH, Attached, Shelf
from baitwright.terms.errors import InputError


@dataclass(frozen=True, slots=True)
class Beside:
    """Where the notebook lies, and where paths begin that a maker writes."""

    notebook: Path
    start: Path


def checked_in(told: str | Iterable[str], beside: Beside) -> list[dict[str, str]]:
    """Files as a record mentions them; those below the notebook's folder go along with it.

    Raises
    ------
    InputError: a file that cannot be read.
    """
    named = told.split(";") if isinstance(told, str) else told
    paths = [(beside.start / name.strip()).resolve() for name in named if name.strip()]
    home = beside.notebook.resolve()
    return [{PATH: _from(path, home), CHECKSUM: checksum(path)} for path in paths]


def checksum(path: Path) -> str:
    """The SHA-256 of a file.

    Raises
    ------
    InputError: it cannot be read.
    """
    try:
        return attachments.checksum(path)
    except OSError as error:
        accepted = "a file that can be read"
        raise InputError("files", str(path), accepted, hint=f"{error.strerror}.") from None


def since(one: Mapping[str, Any], files: Shelf) -> str:
    """What became of a file since it was written down; nothing where it is as it was."""
    if files.find(Attached(one[PATH], one[CHECKSUM])) is not None:
        return ""
    there = (files.folder / one[PATH]).is_file()
    return "changed since it was written down" if there else "gone from there"


def _from(path: Path, home: Path) -> str:
    return path.relative_to(home).as_posix() if path.is_relative_to(home) else str(path)
