"""The passphrase of a workshop that other devices may reach: only what proves it is kept."""

from __future__ import annotations

import unicodedata
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING

from baitwright.notebook.where import Where, folder_of
from baitwright.terms.errors import InputError
from baitwright.workshop.keys.door_key import forget_key
from baitwright.workshop.told.extras import need_extra
from baitwright.workshop.told.own_file import cannot_be_written, write_own

if TYPE_CHECKING:
    from argon2 import PasswordHasher

FIELD = "passphrase"
SHORTEST, LONGEST = 12, 200
"""Characters (judgement): four short words are enough beside the limit on tries."""


def passphrase_in(file: Path) -> str:
    """The passphrase that a file holds, alone on its first line.

    Raises
    ------
    InputError: it cannot be read, or holds more or less than one line.
    """
    accepted = "a file of text with the passphrase on one line"
    try:
        lines = file.read_text(encoding="utf-8").splitlines()
    except (OSError, UnicodeDecodeError):
        raise InputError("passphrase-file", str(file), accepted, hint="It is not.") from None
    if len(lines) != 1:
        raise InputError("passphrase-file", f"{len(lines)} lines", accepted)
    return lines[0]


def is_kept(place: Where) -> bool:
    """Whether a notebook's workshop has a passphrase yet."""
    return _path(place).exists()


def keep_passphrase(place: Where, told: str) -> None:
    """Keep what proves a passphrase; sessions and tokens of the one before end with it.

    Raises
    ------
    InputError: too short or too long, the extra is missing, or the folder cannot be written to.
    """
    if not SHORTEST <= len(told) <= LONGEST or not told.isprintable():
        accepted = f"{SHORTEST} to {LONGEST} characters, such as four words you make up"
        raise InputError(FIELD, f"{len(told)} characters", accepted)
    path, proof = _path(place), _hasher().hash(_as_one(told))
    try:
        forget_key(place)
        write_own(path, proof.encode())
    except OSError as error:
        raise cannot_be_written(FIELD, path, error) from None


def is_right(place: Where, told: str) -> bool:
    """Whether this is the passphrase; it takes its time, and the same time for any wrong one.

    Raises
    ------
    InputError: none is kept, what is kept is no proof of one, or the extra is missing.
    """
    hasher = _hasher()
    from argon2.exceptions import InvalidHashError, VerifyMismatchError

    try:
        return hasher.verify(_proof(place), _as_one(told[: LONGEST + 1]))
    except VerifyMismatchError:
        return False
    except InvalidHashError:
        hint = "baitwright open --lan --new-passphrase sets another."
        raise InputError(
            FIELD, "a damaged file", "one that this program wrote", hint=hint
        ) from None


def passphrase_mark(place: Where) -> str:
    """What changes with the passphrase and tells nothing of it; sessions are bound to it.

    Raises
    ------
    InputError: none is kept.
    """
    return sha256(_proof(place)).hexdigest()


def _hasher() -> PasswordHasher:
    need_extra("lan", "argon2")
    from argon2 import PasswordHasher

    return PasswordHasher()  # RFC 9106, the second of its recommended ways: argon2id in 64 MiB


def _proof(place: Where) -> bytes:
    try:
        return _path(place).read_bytes()
    except OSError:
        hint = "baitwright open --lan asks for one."
        raise InputError(FIELD, None, "one that was set", hint=hint) from None


def _as_one(told: str) -> str:
    """One spelling of letters that keyboards write in several ways."""
    return unicodedata.normalize("NFC", told)


def _path(place: Where) -> Path:
    return folder_of(place) / "door.passphrase"
