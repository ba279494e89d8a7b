"""What the documents show of the program, read off their pages and tried on the program.

A block whose first words are ``baitwright`` is typed as it stands, in a folder with the examples
and beside the notebook of the demonstration. A block ``text`` after it has lines that must be
printed, in this order; ``...`` stands for any others. A block ``toml NAME`` or ``text NAME`` is
laid down as the file NAME first. Pages are written on one day, and every date in them moves with
the days since, as those of the demonstration do.
"""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from pathlib import Path

import click

from baitwright.cli.main import COMMANDS, cli
from baitwright.cli.record import against
from tests.architecture.tree import ROOT

WRITTEN = date(2026, 11, 28)
DOCS = ROOT / "docs"
_FENCE = re.compile(r"^```(\w*) ?(\S*)\n(.*?)^```$", re.MULTILINE | re.DOTALL)
_DATE = re.compile(r"\b20\d\d-\d\d-\d\d\b")


@dataclass(frozen=True)
class Block:
    """A block of a page: its language, the file that it is, and its text."""

    language: str
    name: str
    text: str

    @property
    def commands(self) -> tuple[str, ...]:
        """The lines of it that are typed, in one piece where a line is continued."""
        lines = self.text.replace("\\\n", " ").splitlines()
        return tuple(line for line in lines if line.startswith("baitwright "))


def pages() -> list[Path]:
    """Every page that somebody reads to use the program."""
    return [ROOT / "README.md", *sorted(DOCS.glob("*.md")), *sorted(DOCS.glob("how-to/*.md"))]


def name_of(page: Path) -> str:
    """A page as tests are called by it."""
    return page.relative_to(ROOT).as_posix()


@cache
def blocks(page: Path) -> tuple[Block, ...]:
    """Its blocks, from the top."""
    return tuple(Block(*found) for found in _FENCE.findall(page.read_text(encoding="utf-8")))


def mentions(page: Path) -> Iterator[str]:
    """Commands named within its sentences and tables; those of the numbers hold formulas."""
    prose = _FENCE.sub("", page.read_text(encoding="utf-8"))
    for code in re.findall(r"`([^`\n]+)`", prose) if page.name != "numbers.md" else ():
        first, *others = code.removeprefix("baitwright ").split()
        is_told = code.startswith("baitwright ")
        if first in COMMANDS and (is_told or (others and others[0] not in "=,")):
            yield code


@dataclass(frozen=True)
class Form:
    """A command as its words and options, whatever they are given."""

    words: tuple[str, ...]
    options: frozenset[str]

    def covers(self, other: Form) -> bool:
        """Whether who has run this has run the other."""
        return self.words == other.words and self.options >= other.options


def form(command: str) -> Form:
    """The form of a command; ValueError where the program has no such command or option."""
    words, options = [], set()
    here: click.Command = cli
    known: set[str] = {"--help", "--version", *of_two_files(command)}
    group = click.Context(cli)
    for word in shlex.split(command.removeprefix("baitwright "), comments=True):
        below = here.get_command(group, word) if isinstance(here, click.Group) else None
        if below is not None:
            here = below
            words.append(word)
            known |= {name for one in here.params for name in one.opts}
        elif word.startswith("--") and len(word) > 2:
            option = word.partition("=")[0]
            if option not in known:
                raise ValueError(f"{command}: no option {option}")
            options.add(option)
    if not words:
        raise ValueError(f"{command}: no such command")
    return Form(tuple(words), frozenset(options))


def of_two_files(command: str) -> set[str]:
    """Options of `record PLAN READINGS`, which are not those of `record KIND`."""
    is_readings = command.startswith("baitwright record ") and ".json " in command
    return {name for one in against.params for name in one.opts} if is_readings else set()


def moved(text: str, today: date) -> str:
    """A text whose dates have gone on since it was written."""
    gone = today - WRITTEN

    def later(found: re.Match[str]) -> str:
        return str(date.fromisoformat(found[0]) + gone)

    return _DATE.sub(later, text) if gone != timedelta() else text
