"""Answers of the notebook, found and read as they were given."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.advice.answers import Advice, Changed, changed, from_plain
from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.form_questions import ANSWER, QUESTION
from baitwright.workshop.forms.names import as_kept

MOST = 50
_LONGEST = 90


@dataclass(frozen=True, slots=True)
class Listed:
    """One question in a list: its first words, and the version of its answer, 0 where it has none.

    ``found`` is the first thing its answer says.
    """

    name: str
    day: str
    label: str
    question: str
    version: int
    found: str = ""


@dataclass(frozen=True, slots=True)
class Given:
    """One version of an answer, when it was given, and what it changed."""

    advice: Advice
    changes: tuple[Changed, ...]


def find(book: Notebook, words: str = "", *, most: int = MOST) -> tuple[Listed, ...]:
    """The last questions that hold all of the words, in what was asked or in what was answered."""
    with book.reading() as page:
        asked = page.last(QUESTION, most, words=words)
        names = [one.name for one in asked]
        names += [one.name for one in page.last(ANSWER, most, words=words)] if words else []
        wanted = tuple(dict.fromkeys(names))
        questions = {one.name: one for one in page.named(QUESTION, wanted)}
        answers = {one.name: one for one in page.named(ANSWER, wanted)}
    standing = (questions[name] for name in wanted if name in questions)
    rows = [_listed(one, answers.get(one.name)) for one in standing]
    return tuple(sorted(rows, key=lambda row: (row.day, row.name), reverse=True)[:most])


def _listed(question: Revision, answer: Revision | None) -> Listed:
    body = question.body or {}
    first = ""
    if answer is not None and answer.body is not None:
        told = from_plain(answer.name, answer.version, answer.body).found.statements
        first = next((f"{one.about}: {one.text}".lstrip(": ") for one in told if one.is_first), "")
    return Listed(
        question.name,
        str(body.get("day", "")),
        str(body.get("asker", "")),
        _short(str(body.get("question", ""))),
        0 if answer is None else answer.version,
        _short(first),
    )


def _short(text: str) -> str:
    line = " ".join(text.split())
    return line if len(line) <= _LONGEST else f"{line[: _LONGEST - 1].rstrip()}…"


def given(book: Notebook, name: str) -> tuple[Given, ...]:
    """Every version of an answer, the first one first, each as it was given.

    Raises
    ------
    InputError: no such answer, or one that was purged.
    """
    with book.reading() as page:
        versions = _versions(page, name)
    found: list[Given] = []
    for one in versions:
        before = found[-1].advice if found else None
        found.append(Given(one, () if before is None else changed(before, one)))
    return tuple(found)


def advice_of(book: Notebook, name: str, version: int | None = None) -> Advice:
    """An answer as it was given: its newest version, or the one that is told.

    Raises
    ------
    InputError: no such answer or version, or one that was purged.
    """
    found = {one.advice.version: one.advice for one in given(book, name)}
    if version is None:
        return found[max(found)]
    if version not in found:
        raise InputError("version", version, f"one of {name}: {', '.join(map(str, found))}")
    return found[version]


def _versions(page: Page, name: str) -> tuple[Advice, ...]:
    kept = as_kept(page, ANSWER, name)
    history = page.history(ANSWER, kept)
    if not history:
        last = ", ".join(one.name for one in page.last(ANSWER, 5)) or "none yet"
        raise InputError(ANSWER, name, f"one of the notebook, the last are: {last}")
    found = tuple(
        from_plain(kept, one.version, one.body) for one in history if one.body is not None
    )
    if not found:
        raise InputError(ANSWER, name, "one that was not purged")
    return found
