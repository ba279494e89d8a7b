"""What a purge would destroy, and what it would not reach."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from baitwright.notebook.overwriting import Overwritten
from baitwright.workshop.copies.exports_noted import Noted
from baitwright.workshop.questions.answers_gone import WithAnswers


@dataclass(frozen=True, slots=True)
class Loss:
    """What a purge would destroy, and what it would not reach.

    ``versions`` are those that still say something. ``plans`` are of batches, each with a whole
    recipe. ``copies`` and ``exports`` are files, ``pages`` folders. ``changed`` is where ``words``
    are overwritten by a person's code. ``named_in`` is in whose own words a person stands even so,
    and ``files`` are photos and papers of a record: both stay. Others share it if it ``is_shared``.
    ``asked`` are questions and answers that go too.
    """

    kind: str
    name: str
    versions: int
    copies: tuple[Path, ...]
    exports: tuple[Noted, ...]
    pages: tuple[Path, ...]
    plans: tuple[str, ...] = ()
    named_in: tuple[tuple[str, str], ...] = ()
    files: tuple[str, ...] = ()
    is_shared: bool = False
    words: tuple[str, ...] = ()
    changed: tuple[Overwritten, ...] = ()
    asked: WithAnswers = field(default_factory=WithAnswers)
