"""Answers in the notebook: computed, kept version after version, found, and computed again."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime

from baitwright import __version__
from baitwright.advice.answers import Advice, Changed, Found, as_plain, changed, from_plain
from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.form_questions import (
    ANSWER,
    HOOKBAIT,
    LEVELS,
    QUESTION,
    TEMPLATE,
    QuestionTable,
    TemplateTable,
)
from baitwright.workshop.forms import FORMS
from baitwright.workshop.names import as_kept
from baitwright.workshop.read_records import history_on, written_in
from baitwright.workshop.reading import parse

_OWN = (
    *("question", "answer", "asker", "customer", "template"),
    *("files", "remark", "day"),
)
"""Entries of a question that are no measurement of theirs."""


@dataclass(frozen=True, slots=True)
class Answered:
    """An answer, and what it says otherwise than the one before; nothing where it is the first."""

    advice: Advice
    changes: tuple[Changed, ...]
    is_new: bool


@dataclass(frozen=True, slots=True)
class _Asked:
    """A question as it stands, with the template it names."""

    revision: Revision
    told: QuestionTable
    template: TemplateTable


def answer(book: Notebook, name: str, *, now: datetime) -> Answered:
    """Compute the answer to a question, and keep it as the next version where it says anything new.

    Raises
    ------
    InputError: no such question or template, or whatever of it is asked back.
    """
    with book.reading() as page:
        asked = _asked(page, name)
    found = computed(book, asked.told)
    with book.writing() as page:
        return _kept(page, asked, found, now=now)


def computed(book: Notebook, told: QuestionTable) -> Found:
    """What a question comes to; nothing where only the maker's own words answer it.

    Raises
    ------
    InputError: whatever of it is asked back, or nothing to answer with.
    """
    if told.about in (LEVELS, HOOKBAIT):
        from baitwright.workshop.question_levels import of_levels

        return of_levels(book, told)
    if told.about:
        from baitwright.workshop.question_baits import of_baits

        return of_baits(book, told)
    if not told.answer:
        accepted = "what to compute, or your own words as its answer"
        raise InputError("about", None, accepted)
    return Found()


def _asked(page: Page, name: str) -> _Asked:
    revision = history_on(page, FORMS[QUESTION], name)[-1]
    if revision.body is None:
        raise InputError(QUESTION, name, "one that was not taken away or purged")
    told = parse(written_in(revision), QuestionTable, where="")
    template = template_of(page, told.template) if told.template else TemplateTable()
    levels = told.levels or template.levels
    about = told.about or template.about or (LEVELS if levels else "")
    use = told.use or template.use
    filled = told.model_copy(update={"levels": levels, "about": about, "use": use})
    return _Asked(revision, filled, template)


def template_of(page: Page, name: str) -> TemplateTable:
    """A template by its name.

    Raises
    ------
    InputError: there is none; the message tells those there are.
    """
    found = page.latest(TEMPLATE, as_kept(page, TEMPLATE, name))
    if found is None or found.body is None:
        known = ", ".join(one.name for one in page.all(TEMPLATE)) or "none yet"
        raise InputError(TEMPLATE, name, f"one of the notebook: {known}")
    return parse(written_in(found), TemplateTable, where="")


def _kept(page: Page, asked: _Asked, found: Found, *, now: datetime) -> Answered:
    name = asked.revision.name
    last = page.latest(ANSWER, name)
    there = 0 if last is None else last.version
    advice = Advice(
        name=name,
        version=there + 1,
        day=now.date().isoformat(),
        question=asked.told.question,
        question_version=asked.revision.version,
        label=asked.told.asker,
        told=_told(asked),
        opening=asked.template.opening,
        words=asked.told.answer,
        closing=asked.template.closing,
        program=__version__,
        found=found,
    )
    changes: tuple[Changed, ...] = ()
    if last is not None and last.body is not None:
        before = from_plain(name, last.version, last.body)
        changes = changed(before, replace(advice, label=before.label))
        if not changes and before.label == advice.label:
            return Answered(before, (), is_new=False)
    page.write(ANSWER, name, as_plain(advice), seen=there, time=now)
    return Answered(advice, changes, is_new=True)


def _told(asked: _Asked) -> tuple[tuple[str, str], ...]:
    """What they have and want, entry by entry as they said it."""
    written = {**written_in(asked.revision), "about": asked.told.about}
    if asked.told.levels:
        written.setdefault("levels", list(asked.told.levels))
    pairs = ((key, _text(written[key])) for key in QuestionTable.model_fields if key in written)
    return tuple((key.replace("_", " "), text) for key, text in pairs if key not in _OWN and text)


def _text(value: object) -> str:
    return "; ".join(map(str, value)) if isinstance(value, list) else str(value)
