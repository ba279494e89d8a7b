"""Files written whole or not at all."""

from __future__ import annotations

import errno
import os
from collections.abc import Iterable, Mapping
from pathlib import Path

from baitwright.terms.errors import InputError


def write_together(folder: Path, contents: Mapping[str, bytes], *, field: str) -> tuple[Path, ...]:
    """Write several files of one folder: all beside their places first, then each renamed.

    A file that something else may hold open goes first, so that its refusal leaves all as it was.

    Parameters
    ----------
    folder: made when it is not there.
    contents: what each file name is to hold.
    field: the option that named the folder, for the error.

    Raises
    ------
    InputError: the folder cannot be made or written to; nothing is left behind.
    """
    waiting = {name: folder / f".{name}.{os.getpid()}.part" for name in contents}
    try:
        folder.mkdir(parents=True, exist_ok=True)
        _refuse_folders(folder / name for name in contents)
        for name, part in waiting.items():
            part.write_bytes(contents[name])
        for name, part in waiting.items():
            part.replace(folder / name)
    except OSError as error:
        raise InputError(
            field, str(folder), "a folder that can be written to", hint=f"{error.strerror}."
        ) from None
    finally:
        for part in waiting.values():
            _tidy_away(part)
    return tuple(folder / name for name in contents)


def write_whole(path: Path, told: Iterable[bytes]) -> None:
    """Write one file whole or not at all, and wait until the disk has it.

    Raises
    ------
    OSError: it cannot be written.
    """
    part = path.with_name(f".{path.name}.{os.getpid()}.part")
    try:
        with part.open("wb") as file:
            file.writelines(told)
            file.flush()
            os.fsync(file.fileno())
        part.replace(path)
    finally:
        _tidy_away(part)


def _refuse_folders(targets: Iterable[Path]) -> None:
    if any(target.is_dir() for target in targets):
        raise IsADirectoryError(errno.EISDIR, os.strerror(errno.EISDIR))


def _tidy_away(part: Path) -> None:
    try:
        part.unlink(missing_ok=True)
    except OSError:
        return  # the folder itself could not be made, so there is nothing to tidy
