"""Small files beside the notebook that only their owner may read, each on the disk whole."""

from __future__ import annotations

import os
from pathlib import Path

from baitwright.terms.errors import InputError


def write_own(path: Path, told: bytes) -> None:
    """Write a file, its folder too where there is none; another process never sees half of it.

    Raises
    ------
    OSError: the folder cannot be written to.
    """
    path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    part.unlink(missing_ok=True)  # its rights would be those of whoever left it there
    with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        file.write(told)
    part.replace(path)


def cannot_be_written(field: str, path: Path, error: OSError) -> InputError:
    """What a maker is told of a folder that cannot be written to."""
    accepted = "a folder that can be written to"
    return InputError(field, str(path), accepted, hint=f"{error.strerror}.")
