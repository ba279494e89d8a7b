"""The copies of a notebook by their names: found without opening any, or the notebook."""

from __future__ import annotations

import re
from datetime import UTC, datetime
from pathlib import Path

from baitwright.notebook.where import Where, folder_of, name_of

FOLDER = "backups"
STAMP = "%Y-%m-%dT%H%M%S%fZ"
_STAMPED = r"\d{4}-\d\d-\d\dT\d{12}Z"
_STAMP_LENGTH = len("2026-11-27T090000000000Z")


def backups(notebook: Where) -> tuple[Path, ...]:
    """The copies of a notebook, the oldest first; without those made before something."""
    folder = folder_of(notebook) / FOLDER
    own = re.compile(rf"{re.escape(name_of(notebook))}-{_STAMPED}\.sqlite")
    found = folder.iterdir() if folder.is_dir() else ()
    return tuple(sorted((path for path in found if own.fullmatch(path.name)), key=made_at))


def every_copy(notebook: Where) -> tuple[Path, ...]:
    """Whatever copies of a notebook there are: rolling, before something, damaged, and halves."""
    folder = folder_of(notebook) / FOLDER
    own = re.compile(rf"{re.escape(name_of(notebook))}-(?:before-[a-z]+-|damaged-)?{_STAMPED}\..+")
    found = folder.iterdir() if folder.is_dir() else ()
    return tuple(sorted(path for path in found if own.fullmatch(path.name)))


def made_at(backup: Path) -> datetime:
    """When a copy was made, by its name."""
    stamp = backup.stem[-_STAMP_LENGTH:]
    return datetime.strptime(stamp, STAMP).replace(tzinfo=UTC)


def before_what(backup: Path) -> str:
    """What was about to happen when a copy was made, or that it is of a damaged notebook."""
    found = re.search(rf"-(?:before-)?([a-z]+)-{_STAMPED}$", backup.stem)
    return "" if found is None else found[1]
