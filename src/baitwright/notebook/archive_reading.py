"""A zip file from elsewhere: nothing of it is believed before all of it was looked at."""

from __future__ import annotations

import codecs
import json
import re
import stat
import struct
import zlib
from collections import Counter
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from hashlib import sha256
from io import FileIO
from pathlib import Path
from typing import Any
from zipfile import ZIP_DEFLATED, ZIP_STORED, BadZipFile, ZipFile, ZipInfo

from baitwright.notebook.archive import FILES, FORMAT, MANIFEST, VERSION, Member
from baitwright.notebook.soundness import HEAD
from baitwright.notebook.staging import known_step
from baitwright.terms.errors import InputError

MEMBERS = 50_000
"""Members of an export at most: photographs, nearly all of them (judgement)."""
LARGEST = 64 * 2**30
"""Bytes of all members together at most, packed out (judgement)."""
FREE, RATIO = 256 * 2**20, 200
"""Beyond so many bytes, all members together are at most so many times their zip (judgement)."""
_DIRECTORY = 16 * 2**20
"""Bytes that are read in one go: the list of members, and the manifest."""
_PIECE = 1 << 16
_NAMES = re.compile(
    r"manifest\.json|notebook\.json|datapackage\.json|tables/[a-z_]{1,60}\.csv|files/[0-9a-f]{64}"
)
_BROKEN = (
    *(BadZipFile, zlib.error, EOFError, OSError, struct.error),
    *(ValueError, RuntimeError, LookupError, OverflowError),
)
"""All that the standard library says of a file that is no whole zip, or is packed as it cannot."""


@dataclass(frozen=True, slots=True)
class Manifest:
    """What an export says of itself."""

    step: str
    time: str
    program: str
    members: Mapping[str, Member]


class Archive:
    """An export that was looked at: every member is there, is what it was, and is harmless."""

    def __init__(self, path: Path, zipped: ZipFile) -> None:
        self._path, self._zip = path, zipped
        self.manifest = _manifest(path, zipped)

    def pieces(self, name: str) -> Iterator[bytes]:
        """A member, piece by piece, refused once it is not what the manifest says."""
        told, found, size = self.manifest.members[name], sha256(), 0
        with _refusing(self._path, name), self._zip.open(name) as member:
            while piece := member.read(_PIECE):
                size += len(piece)
                if size > told.bytes:
                    raise BadZipFile(f"more than the {told.bytes} bytes of the manifest")
                found.update(piece)
                yield piece
            if (size, found.hexdigest()) != (told.bytes, told.sha256):
                raise BadZipFile("the checksum is another one than in the manifest")

    def texts(self, name: str) -> Iterator[str]:
        """A member of text, piece by piece."""
        decoder = codecs.getincrementaldecoder("utf-8")()
        for piece in self.pieces(name):
            with _refusing(self._path, name):
                text = decoder.decode(piece)
            yield text
        with _refusing(self._path, name):
            decoder.decode(b"", final=True)


@contextmanager
def opened_archive(path: Path) -> Iterator[Archive]:
    """An export, open, once all of its members were read and found whole.

    Raises
    ------
    InputError: it is no export, it is not whole, a later program wrote it, or it would do harm.
    """
    if not path.is_file():
        raise InputError("import", str(path), "a file that is there")
    with _Careful(path) as file:
        with _refusing(path):
            zipped = ZipFile(file)
            _look_at(path, zipped)
        with zipped:
            archive = Archive(path, zipped)
            for name in archive.manifest.members:
                for _ in archive.pieces(name):
                    pass
            yield archive


def is_export(path: Path) -> bool:
    """Whether a file calls itself an export, be it a damaged one or of a later program."""
    try:
        with _Careful(path) as file, ZipFile(file) as zipped, zipped.open(MANIFEST) as member:
            told = json.loads(member.read(_DIRECTORY))
    except _BROKEN:
        return False
    return isinstance(told, dict) and told.get("format") == FORMAT


class _Careful(FileIO):
    """A file of which no more is read in one go than a list of members can be."""

    def __init__(self, path: Path) -> None:
        super().__init__(path, "rb")

    def read(self, size: int | None = -1, /) -> bytes:
        """Bytes from here on, refused where a damaged number asks for the whole of a large file."""
        wanted = _DIRECTORY + 1 if size is None or size < 0 else size
        if wanted > _DIRECTORY + 1:
            raise BadZipFile("its list of members is too long")
        return super().read(wanted) or b""


def _look_at(path: Path, zipped: ZipFile) -> None:
    """Refuse what no export has: other names, links, too many or too large members."""
    members = zipped.infolist()
    if len(members) > MEMBERS:
        raise BadZipFile(f"it has {len(members)} members, {MEMBERS} at most are read")
    for name, count in Counter(one.orig_filename for one in members).items():
        if count > 1:
            raise BadZipFile(f"{name!r} is in it {count} times")
    for one in members:
        _look_at_member(one)
    size, packed = sum(one.file_size for one in members), path.stat().st_size
    if size > LARGEST or size > max(FREE, RATIO * packed):
        raise BadZipFile(f"packed out it would be {size / 2**20:.0f} MB")


def _look_at_member(one: ZipInfo) -> None:
    if not _NAMES.fullmatch(one.orig_filename):
        raise BadZipFile(f"{one.orig_filename[:80]!r} is no member of an export")
    mode = one.external_attr >> 16
    if mode and stat.S_IFMT(mode) not in (0, stat.S_IFREG):
        raise BadZipFile(f"{one.orig_filename} is no plain file")
    if one.flag_bits & 1 or one.compress_type not in (ZIP_DEFLATED, ZIP_STORED):
        raise BadZipFile(f"{one.orig_filename} is locked, or packed in a way that is not read")


def _manifest(path: Path, zipped: ZipFile) -> Manifest:
    with _refusing(path, MANIFEST):
        with zipped.open(MANIFEST) as member:
            text = member.read(_DIRECTORY + 1)
        if len(text) > _DIRECTORY:
            raise BadZipFile("it is too long")
        told = json.loads(text)
        if not isinstance(told, dict) or told.get("format") != FORMAT:
            raise BadZipFile("it is no manifest of an export")
        _refuse_later(path, told)
        listed = {
            name: Member(_whole(one["bytes"]), _text(one["sha256"]))
            for name, one in _entries(told["members"])
        }
        if {*listed, MANIFEST} != set(zipped.namelist()) or "notebook.json" not in listed:
            raise BadZipFile("it names other members than there are")
        if any(_is_misnamed(name, one) for name, one in listed.items()):
            raise BadZipFile("a file is not under its own checksum")
        step, time, program = (_text(told[key]) for key in ("step", "time", "program"))
    return Manifest(step, time, program, listed)


def _is_misnamed(name: str, one: Member) -> bool:
    return name.startswith(FILES) and name != f"{FILES}{one.sha256}"


def _refuse_later(path: Path, told: Mapping[str, Any]) -> None:
    """Refuse what a later program wrote, before it looks damaged."""
    hint = "Take the newer program; this one could not read it whole."
    if _whole(told["version"]) != VERSION:
        accepted = f"an export of version {VERSION}"
        raise InputError("import", f"version {told['version']}", accepted, hint=hint)
    if not known_step(_text(told["step"])):
        raise InputError("import", f"step {told['step'][:20]}", f"one up to step {HEAD}", hint=hint)


def _entries(told: object) -> Iterator[tuple[str, Mapping[str, Any]]]:
    if not isinstance(told, dict) or not all(isinstance(one, dict) for one in told.values()):
        raise BadZipFile("its members are not told by name")
    yield from told.items()


def _whole(told: object) -> int:
    if type(told) is not int:
        raise BadZipFile(f"{str(told)[:40]!r} is no whole number")
    return told


def _text(told: object) -> str:
    if not isinstance(told, str):
        raise BadZipFile(f"{str(told)[:40]!r} is no text")
    return told


@contextmanager
def _refusing(path: Path, member: str = "") -> Iterator[None]:
    """What the standard library says of a damaged zip, in one message."""
    try:
        yield
    except _BROKEN as error:
        said = f"{member}: {error}" if member else str(error) or type(error).__name__
        hint = f"{said}. Nothing was imported."
        raise InputError(
            "import", str(path), "a whole file of `baitwright export`", hint=hint
        ) from None
