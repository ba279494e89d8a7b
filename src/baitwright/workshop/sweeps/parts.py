"""The parts of a table that is being made: each written whole, and kept until all are there."""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from pathlib import Path

from baitwright.terms.errors import InputError
from baitwright.workshop.told.files import write_whole
from baitwright.workshop.told.own_file import cannot_be_written

MOST = 10_000
LEAST = 10
"""Parts of one table, and designs of one part (judgement): a kill costs a few seconds, and no
folder grows so large that a disk minds."""
_TOLD, _HEAD = "sweep.json", "part"


@dataclass(frozen=True, slots=True)
class Told:
    """What a table is made of; one that was begun goes on only as the same.

    ``begun`` is when; no number hangs on it.
    """

    program: str
    marks: dict[str, str]
    designs: int
    each: int
    begun: str


def designs_each(designs: int, waters: int) -> int:
    """How many designs make a part: whole turns of the waters, for which baits are made once."""
    least = max(LEAST, -(-designs // MOST))
    return -(-least // waters) * waters


@dataclass(frozen=True, slots=True)
class Parts:
    """A folder of parts beside the table that they are to become."""

    out: Path
    told: Told

    @property
    def folder(self) -> Path:
        """Where they lie."""
        return folder_of(self.out)

    @property
    def count(self) -> int:
        """How many there are to be."""
        return -(-self.told.designs // self.told.each)

    def designs(self, at: int) -> range:
        """The designs of a part."""
        return range(at * self.told.each, min((at + 1) * self.told.each, self.told.designs))

    def path(self, at: int) -> Path:
        """Where a part lies, or is to lie."""
        return self.folder / f"{_HEAD}-{at:06d}.csv"

    def missing(self) -> list[int]:
        """The parts that are not there yet, or not as long as they have to be."""
        return [at for at in range(self.count) if not self._is_whole(at)]

    def _is_whole(self, at: int) -> bool:
        try:
            told = self.path(at).read_bytes()
        except FileNotFoundError:
            return False
        return told.startswith(b"%d," % self.designs(at).start) and told.endswith(b"\r\n")

    def write(self, at: int, text: str) -> None:
        """Keep a part; a kill or a power cut leaves all of it or nothing.

        Raises
        ------
        InputError: no room.
        """
        try:
            write_whole(self.path(at), [text.encode()])
        except OSError as error:
            raise cannot_be_written("out", self.folder, error) from None

    def texts(self) -> Iterator[bytes]:
        """Every part in its order."""
        for at in range(self.count):
            yield self.path(at).read_bytes()

    def remove(self) -> None:
        """Let go of all parts."""
        shutil.rmtree(self.folder)


def folder_of(out: Path) -> Path:
    """The folder of a table's parts."""
    return out.with_name(f"{out.name}.parts")


def begin(out: Path, told: Told) -> Parts:
    """Begin a table, or go on with one that was begun.

    Raises
    ------
    InputError: what was begun there is another one, or the folder cannot be written to.
    """
    path = folder_of(out) / _TOLD
    try:
        if path.exists():
            return Parts(out, _same(told, Told(**json.loads(path.read_bytes())), path))
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, [json.dumps(asdict(told), indent=1).encode()])
    except OSError as error:
        raise cannot_be_written("out", path.parent, error) from None
    return Parts(out, told)


def _same(told: Told, begun: Told, path: Path) -> Told:
    names = [*told.marks, *(one for one in begun.marks if one not in told.marks)]
    other = [name for name in names if told.marks.get(name) != begun.marks.get(name)]
    if told.program != begun.program:
        other.append(f"program ({begun.program})")
    if other:
        hint = f"Put it back, or let go of what was begun: delete {path.parent}."
        accepted = "what the table was begun with"
        raise InputError("sweep", f"changed: {', '.join(other)}", accepted, hint=hint)
    return begun
