"""The secret that the web workshop's tokens are made with; it outlives a restart."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from baitwright.notebook.where import Where, folder_of
from baitwright.terms.errors import InputError

_BYTES = 32


def door_key(place: Where) -> bytes:
    """The key beside a notebook, made where there is none; only its owner may read it.

    Raises
    ------
    InputError: the folder cannot be written to.
    """
    path = folder_of(place) / "door.key"
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        made = _made(path)
        return path.read_bytes() if made is None else made
    except OSError as error:
        accepted = "a folder that can be written to"
        raise InputError("door key", str(path), accepted, hint=f"{error.strerror}.") from None


def _made(path: Path) -> bytes | None:
    """A new key on the disk whole; nothing where another process was first."""
    if path.exists() and path.stat().st_size == _BYTES:
        return None
    key, part = secrets.token_bytes(_BYTES), path.with_name(f".{path.name}.{os.getpid()}.part")
    with os.fdopen(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb") as file:
        file.write(key)
    part.replace(path)
    return path.read_bytes()
