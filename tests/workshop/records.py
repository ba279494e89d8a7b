"""Records of a test's notebook, written as the command line would."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from baitwright.notebook.page import Revision
from baitwright.notebook.store import Notebook
from baitwright.workshop.forms.attached import Beside
from baitwright.workshop.forms.form_words import with_words
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.records.people_book import record_person
from baitwright.workshop.records.record_forms import Told, record

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)


def told(kind: str, *words: str, name: str = "", folder: Path = Path(), **how: Any) -> Told:
    """What words tell, over what stands."""
    beside = Beside(folder, folder)
    return Told(lambda before: with_words(before, words, form=FORMS[kind]), beside, name, **how)


def write(book: Notebook, kind: str, *words: str, name: str = "", **how: Any) -> Revision:
    """A record written by words."""
    made = told(kind, *words, name=name, folder=book.place.parent, **how)
    return record(book, FORMS[kind], made, now=NOW)


def person(book: Notebook, *words: str, name: str = "") -> str:
    """A person written down by words; the code."""
    return record_person(book, told("person", *words, name=name), now=NOW)


def body(made: Revision) -> dict[str, Any]:
    """What a version says."""
    assert made.body is not None
    return dict(made.body)
