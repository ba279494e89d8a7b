"""Answers in the notebook: computed, kept version after version, found, and computed again."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from baitwright import __version__
from baitwright.advice.answers import Advice, Changed, Found, as_plain, changed, from_plain
from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.form import WRITTEN
from baitwright.workshop.forms.form_questions import (
    ANSWER,
    HOOKBAIT,
    LEVELS,
    MATCH,
    QUESTION,
    QuestionTable,
)
from baitwright.workshop.forms.form_reading import read_form
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.forms.read_records import history_on, written_in
from baitwright.workshop.questions.question_baits import of_baits
from baitwright.workshop.questions.question_levels import of_levels
from baitwright.workshop.questions.question_match import of_match
from baitwright.workshop.questions.question_with import AskedWith, asked_with, entries_told
from baitwright.workshop.records.record_forms import Told, record
from baitwright.workshop.typed.reading import parse


@dataclass(frozen=True, slots=True)
class Answered:
    """An answer, and what it says otherwise than the one before; nothing where it is the first."""

    advice: Advice
    changes: tuple[Changed, ...]
    is_new: bool


def answer(book: Notebook, name: str, *, now: datetime) -> Answered:
    """Compute the answer to a question, and keep it as the next version where it says anything new.

    Raises
    ------
    InputError: no such question or template, or whatever of it is asked back.
    """
    with book.reading() as page:
        revision = history_on(page, FORMS[QUESTION], name)[-1]
        if revision.body is None:
            raise InputError(QUESTION, name, "one that was not taken away or purged")
        asked = asked_with(page, parse(written_in(revision), QuestionTable, where=""))
    found = computed(book, asked.told, now=now)
    with book.writing() as page:
        return kept(page, revision, asked, found=found, now=now)


def put(book: Notebook, told: Told, *, now: datetime) -> Answered:
    """Write a question down and keep its answer; nothing is written of one that is asked back.

    Raises
    ------
    InputError: as `answer`, or whatever a question does not take.
    """
    form = FORMS[QUESTION]
    with book.reading() as page:
        standing = page.latest(QUESTION, as_kept(page, QUESTION, told.name)) if told.name else None
        body = read_form(form, told.fill(written_in(standing)), today=now.date(), where=told.where)
        asked = asked_with(page, parse(body[WRITTEN], QuestionTable, where=told.where))
    found = computed(book, asked.told, now=now)
    revision = record(book, form, told, now=now)
    with book.writing() as page:
        return kept(page, revision, asked, found=found, now=now)


def computed(book: Notebook, told: QuestionTable, *, now: datetime) -> Found:
    """What a question comes to; nothing where only the maker's own words answer it.

    Raises
    ------
    InputError: whatever of it is asked back, or nothing to answer with.
    """
    if told.about in (LEVELS, HOOKBAIT):
        return of_levels(book, told)
    if told.about == MATCH:
        return of_match(book, told, now=now)
    if told.about:
        return of_baits(book, told)
    if not told.answer:
        accepted = "what to compute, or your own words as its answer"
        raise InputError("about", None, accepted)
    return Found()


def kept(
    page: Page, revision: Revision, asked: AskedWith, *, found: Found, now: datetime
) -> Answered:
    """An answer kept as the next version, where it says anything new."""
    name, last = revision.name, page.latest(ANSWER, revision.name)
    there = 0 if last is None else last.version
    advice = Advice(
        name=name,
        version=there + 1,
        day=now.date().isoformat(),
        question=asked.told.question,
        question_version=revision.version,
        label=asked.told.asker,
        told=entries_told(revision, asked.told),
        opening=asked.template.opening,
        words=asked.told.answer,
        closing=asked.template.closing,
        program=__version__,
        found=found,
    )
    changes: tuple[Changed, ...] = ()
    if last is not None and last.body is not None:
        before = from_plain(name, last.version, last.body)
        changes = changed(before, advice)
        if not changes:
            return Answered(before, (), is_new=False)
    page.write(ANSWER, name, as_plain(advice), seen=there, time=now)
    return Answered(advice, changes, is_new=True)
