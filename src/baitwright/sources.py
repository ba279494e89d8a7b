"""The bibliography: every table row, formula and sheet names a key in it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from pathlib import Path

BIBLIOGRAPHY = Path(__file__).with_name("sources.toml")


class SourceKind(StrEnum):
    """What sort of thing a source is."""

    STANDARD = "standard"
    LAW = "law"
    PAPER = "paper"
    HANDBOOK = "handbook"
    DATASET = "dataset"
    PRACTICE = "practice"
    JUDGEMENT = "judgement"


class Seen(StrEnum):
    """How much of a source was before the eyes of whoever took the figure from it."""

    READ = "read"
    EXCERPT = "excerpt"
    MEMORY = "memory"
    NOTHING = "nothing to read"


@dataclass(frozen=True, slots=True)
class Source:
    """One entry of the bibliography.

    ``where`` says where to look it up, ``note`` what was taken and what was not seen.
    """

    key: str
    authors: str
    year: int | None
    title: str
    where: str
    kind: SourceKind
    seen: Seen
    note: str = ""

    @property
    def citation(self) -> str:
        """The entry in one line, as a sheet or a page prints it."""
        year = f" ({self.year})" if self.year else ""
        head = f"{self.authors}{year}: " if self.authors else ""
        place = f". {self.where}" if self.where else ""
        return f"{head}{self.title}{place}."


class UnknownSourceError(KeyError):
    """A source key that is not in the bibliography: a slip in a table or a formula."""

    def __init__(self, key: str) -> None:
        self.key = key
        super().__init__(key)

    def __str__(self) -> str:
        return f"no source {self.key!r} in {BIBLIOGRAPHY.name}; add it there before using it"


_SAID = {"common-practice": "common practice", "recalled": "remembered"}


def key_said(key: str) -> str:
    """A key as it stands behind a sentence: what no document says is said in words."""
    return _SAID.get(key, key)


@cache
def source_keys() -> frozenset[str]:
    """Every key of the bibliography, read off its headings: a table is checked by these alone."""
    text = BIBLIOGRAPHY.read_text(encoding="utf-8")
    return frozenset(re.findall(r"^\[([a-z0-9-]+)\]$", text, re.MULTILINE))


@cache
def sources() -> dict[str, Source]:
    """The whole bibliography by key. Read it, do not write into it.

    Raises
    ------
    TypeError: an entry lacks a field or has one that is not known.
    ValueError: an entry has a kind or a way of being seen that is not known.
    """
    import tomllib  # parsing costs more than a quick answer can spare, so only those who read pay

    with BIBLIOGRAPHY.open("rb") as file:
        entries = tomllib.load(file)
    return {key: _entry(key, fields) for key, fields in entries.items()}


def source(key: str) -> Source:
    """The source of a key.

    Raises
    ------
    UnknownSourceError: the key is not in the bibliography.
    """
    try:
        return sources()[key]
    except KeyError:
        raise UnknownSourceError(key) from None


def _entry(key: str, fields: dict[str, object]) -> Source:
    entry: dict[str, object] = {"authors": "", "year": None, "where": "", **fields}
    entry["kind"] = SourceKind(str(fields.get("kind")))
    entry["seen"] = Seen(str(fields.get("seen")))
    return Source(key=key, **entry)  # type: ignore[arg-type]
