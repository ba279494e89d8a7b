"""What a target is: it takes any bytes, and ends or refuses in the house's own words."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from baitwright.terms.errors import InputError

ROOT = Path(__file__).resolve().parents[2]
EXAMPLES = ROOT / "examples"
CORPUS = ROOT / "tests" / "corpus"
NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
CLOCK = NOW.replace(tzinfo=None)
"""The same on the maker's own clock."""
LONGEST_REFUSAL = 2000
"""Characters: a refusal repeats the start of a value, never the whole of it."""


@dataclass(frozen=True, slots=True)
class Target:
    """Something that reads what others wrote.

    Parameters
    ----------
    name: also of its folder in the corpus.
    takes: any bytes; raises `InputError` for those it refuses, and nothing else.
    covers: the functions it tries, as "room/module:function".
    seeds: inputs to begin with.
    words: pieces from which inputs are put together.
    """

    name: str
    takes: Callable[[bytes], object]
    covers: tuple[str, ...]
    seeds: tuple[bytes, ...] = ()
    words: tuple[str, ...] = field(default=())

    def corpus(self) -> list[Path]:
        """The inputs that are kept."""
        return sorted(one for one in (CORPUS / self.name).glob("*") if one.is_file())

    def every_seed(self) -> list[bytes]:
        """What a run begins with."""
        return [*self.seeds, *(path.read_bytes() for path in self.corpus())]


def is_read(target: Target, data: bytes) -> bool:
    """Whether the input was read; where it was refused, in one short clear message."""
    try:
        target.takes(data)
    except InputError as error:
        said = str(error)
        assert error.accepted, f"{said!r} does not say what it takes"
        assert len(said) < LONGEST_REFUSAL, f"a refusal of {len(said)} characters"
        return False
    return True


def of_text(
    name: str, read: Callable[[str], Any], covers: Iterable[str], seeds: Iterable[str]
) -> Target:
    """A target of what is typed in one line, or sent as text."""
    told = tuple(seeds)
    words = tuple(sorted({word for seed in told for word in seed.split()}))

    def takes(data: bytes) -> object:
        return read(data.decode("utf-8", "replace"))

    return Target(name, takes, tuple(covers), tuple(one.encode() for one in told), words)
