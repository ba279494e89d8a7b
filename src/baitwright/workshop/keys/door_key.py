"""The secret that the web workshop's tokens are made with; it outlives a restart."""

from __future__ import annotations

import secrets
from pathlib import Path

from baitwright.notebook.turns import alone
from baitwright.notebook.where import Where, folder_of
from baitwright.workshop.told.own_file import cannot_be_written, write_own

_BYTES = 32


def door_key(place: Where) -> bytes:
    """The key beside a notebook, made where there is none; only its owner may read it.

    Raises
    ------
    InputError: the folder cannot be written to.
    """
    path = _path(place)
    try:
        with alone(path.with_name(".door.key-made")):  # one for all that are opened at once
            if not path.exists() or path.stat().st_size != _BYTES:
                write_own(path, secrets.token_bytes(_BYTES))
            return path.read_bytes()
    except OSError as error:
        raise cannot_be_written("door key", path, error) from None


def forget_key(place: Where) -> None:
    """Let the key go, and with it every token that was made with it."""
    _path(place).unlink(missing_ok=True)


def _path(place: Where) -> Path:
    return folder_of(place) / "door.key"
