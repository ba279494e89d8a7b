"""Everything that is held about a person, to hand over on request; and their questions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.workshop.copies.own_words import named_in
from baitwright.workshop.forms.form_questions import ANSWER, QUESTION
from baitwright.workshop.questions.answer_copies import copies_of
from baitwright.workshop.records.people_book import code_of


def held_about(book: Notebook, person: str) -> dict[str, Any]:
    """What the notebook holds about somebody: their entry, and every version that mentions them.

    Answers to their questions stand with them, and the files those were written into. ``named_in``
    are records that have words of their entry in their own words.

    Raises
    ------
    InputError: nobody has the code.
    """
    with book.reading() as page:
        known = page.persons()
        code = code_of(person, known)
        asked = questions_of(page, code)
        named = tuple(named_in(page, code))
        mentioned = {*_mentioning(page, code), *((ANSWER, name) for name in asked)}
        found = [_told(page, kind, name) for kind, name in sorted(mentioned)]
        files = [str(one.path) for one in copies_of(page, asked) if one.is_there]
    return {
        "person": code,
        "entry": known[code],
        "records": [one for one in found if one["versions"]],
        "files": files,
        "named_in": [{"kind": kind, "name": name} for kind, name in named],
    }


def questions_of(page: Page, code: str) -> tuple[str, ...]:
    """Questions that any version says were asked by somebody."""
    return tuple(sorted(name for kind, name in _mentioning(page, code) if kind == QUESTION))


def _mentioning(page: Page, code: str) -> Iterator[tuple[str, str]]:
    for kind, name in page.holding(code):
        if any(_mentions(one.body, code) for one in page.history(kind, name)):
            yield kind, name


def _mentions(node: Any, code: str) -> bool:
    """Whether an entry is just the code: person 1 stands in the name of person 12 too."""
    if isinstance(node, Mapping):
        return any(_mentions(one, code) for one in node.values())
    return any(_mentions(one, code) for one in node) if isinstance(node, list) else node == code


def _told(page: Page, kind: str, name: str) -> dict[str, Any]:
    versions = [_version(one) for one in page.history(kind, name) if one.body is not None]
    return {"kind": kind, "name": name, "versions": versions}


def _version(one: Revision) -> dict[str, Any]:
    return {
        "version": one.version,
        "time": one.time.isoformat(),
        "reason": one.reason,
        "body": one.body,
    }
