"""The copies of the notebook that may be put back, and one of them by its name."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from baitwright.notebook.copies import backups, before_what, every_copy, made_at
from baitwright.notebook.where import Where
from baitwright.terms.errors import InputError


@dataclass(frozen=True, slots=True)
class Copy:
    """A copy of the notebook, when it was made, and before what; nothing for a daily one."""

    path: Path
    made: datetime
    before: str = ""


def copies(place: Where) -> tuple[Copy, ...]:
    """The copies that may be put back, the newest first."""
    found = (one for one in every_copy(place) if one.suffix == ".sqlite")
    told = (Copy(one, made_at(one).astimezone(), before_what(one)) for one in found)
    return tuple(sorted(told, key=lambda one: one.made, reverse=True))


def copy_named(place: Where, name: str) -> Copy:
    """A copy by its file's name; no name leads to any other file.

    Raises
    ------
    InputError: there is none.
    """
    found = next((one for one in copies(place) if one.path.name == name), None)
    if found is None:
        raise InputError("copy", name, "one of the copies that are listed")
    return found


def copied_last(place: Where) -> datetime | None:
    """When the notebook was copied last, on this machine's clock; none where it never was."""
    found = backups(place)
    return made_at(found[-1]).astimezone() if found else None
