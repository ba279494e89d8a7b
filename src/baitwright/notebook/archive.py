"""A zip file of members that are written as they come, the same bytes for the same contents."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from typing import Any
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

MANIFEST, FILES = "manifest.json", "files/"
FORMAT = "baitwright export"
VERSION = 1
_EPOCH = (1980, 1, 1, 0, 0, 0)
"""No zip tells an earlier day: members bear no time of their own."""


@dataclass(frozen=True, slots=True)
class Member:
    """What a member of the zip is: its size and what its bytes come to."""

    bytes: int
    sha256: str


class ArchiveWriter:
    """Members put into a zip one after the other; the manifest that names them comes last."""

    def __init__(self, zipped: ZipFile) -> None:
        self._zip = zipped
        self.members: dict[str, Member] = {}

    def put(self, name: str, pieces: Iterable[bytes]) -> Member:
        """Put a member in, piece by piece; its size and checksum."""
        found, size = sha256(), 0
        info = ZipInfo(name, _EPOCH)
        info.compress_type, info.create_system = ZIP_DEFLATED, 3
        info.external_attr = 0o600 << 16
        with self._zip.open(info, "w", force_zip64=True) as into:
            for piece in pieces:
                found.update(piece)
                size += len(piece)
                into.write(piece)
        self.members[name] = Member(size, found.hexdigest())
        return self.members[name]

    def finish(self, told: Mapping[str, Any]) -> None:
        """Put the manifest in: what is told, and every member with its size and checksum."""
        listed = {
            name: {"bytes": one.bytes, "sha256": one.sha256} for name, one in self.members.items()
        }
        head = {"format": FORMAT, "version": VERSION, **told, "members": listed}
        text = json.dumps(head, ensure_ascii=False, indent=1) + "\n"
        self.put(MANIFEST, [text.encode()])


def in_pieces(texts: Iterable[str], *, size: int = 1 << 16) -> Iterator[bytes]:
    """Texts as bytes, in pieces that are worth their own call."""
    waiting: list[str] = []
    length = 0
    for text in texts:
        waiting.append(text)
        length += len(text)
        if length >= size:
            yield "".join(waiting).encode()
            waiting, length = [], 0
    if waiting:
        yield "".join(waiting).encode()
