"""A purge: what it would destroy is told first; then it reaches all that the notebook wrote."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from pathlib import Path

from baitwright.notebook.attachments import PATH, forget_brought, shelf_beside
from baitwright.notebook.copies import every_copy
from baitwright.notebook.keeper import keeper_of
from baitwright.notebook.overwriting import overwrite
from baitwright.notebook.page import Page
from baitwright.notebook.people import PERSON
from baitwright.notebook.plain_pages import every_page_folder, forget, pages_beside
from baitwright.notebook.purging import Gone, purge_copies
from baitwright.notebook.store import Notebook
from baitwright.notebook.where import Server
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.plans_kept import plans_of, told_with
from baitwright.workshop.copies.exports_noted import exports, purge_exports
from baitwright.workshop.copies.held_about import questions_of
from baitwright.workshop.copies.losses import Loss
from baitwright.workshop.copies.own_words import look, named_in, overwriting
from baitwright.workshop.forms.form import FILES
from baitwright.workshop.forms.form_questions import QUESTION
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.forms.names import as_kept
from baitwright.workshop.questions.answer_copies import delete_copies
from baitwright.workshop.questions.answers_gone import with_answers
from baitwright.workshop.recipes.recipe_shelf import KIND as RECIPE
from baitwright.workshop.records.people_book import code_of

PURGED = (*FORMS, RECIPE)
"""Kinds of records that are purged by name."""


def loss_of(
    book: Notebook, kind: str, name: str, *, words: Iterable[str] = (), questions: bool = False
) -> Loss:
    """What the purge of a record or of a person would destroy; nothing is changed.

    Parameters
    ----------
    book: the notebook.
    kind, name: of the record, or a person's code.
    words: that the person's code is to overwrite wherever they stand.
    questions: whether what the person asked goes too, with every answer and its copies.

    Raises
    ------
    InputError: a kind that is not purged, no such record, or words that cannot be overwritten.
    """
    kind = kind.casefold()
    with book.reading() as page:
        name = _known(page, kind, name)
        reached = every_copy(book.place), tuple(exports(page)), every_page_folder(book.place)
        shared = isinstance(book.place, Server)
        if kind == PERSON:
            theirs = questions_of(page, name) if questions else ()
            goes = with_answers(page, theirs, whose=True)
            found = tuple(one for one in named_in(page, name) if one not in set(goes.gone()))
            versions = int(bool(page.persons()[name]))
            loss = Loss(kind, name, versions, *reached, named_in=found, is_shared=shared)
            return _overwriting(book, replace(loss, asked=goes), tuple(words))
        if any(words):
            raise InputError("overwrite", kind, "words of a person: a record is purged whole")
        told = [one.body for one in page.history(kind, name) if one.body is not None]
        files = tuple(dict.fromkeys(one[PATH] for body in told for one in body.get(FILES, [])))
        plans = tuple(plans_of(page, name)) if kind == RECIPE else ()
        goes = with_answers(page, (name,) if kind == QUESTION else (), whose=False)
        loss = Loss(kind, name, len(told), *reached, plans, files=files, is_shared=shared)
    return replace(loss, asked=goes)


def purge(book: Notebook, loss: Loss, *, now: datetime) -> dict[Path, str]:
    """Destroy it, and a tombstone stays; what could not be done and why, by file.

    It may be cut short anywhere and begun again: files with answers go first, for the notebook
    alone knows of them, then the notebook, then what else was made of it.

    Parameters
    ----------
    book: the notebook.
    loss: what is purged, as it was told.
    now: for the tombstone.

    Raises
    ------
    InputError: no such record, or another window has the notebook open.
    """
    words = overwriting(loss.words, loss.name) if loss.words else None
    gone = [(loss.kind, loss.name)]
    unread = delete_copies(loss.asked.copies)
    with book.writing() as page:
        if words is not None:
            overwrite(page.connection, words, time=now)
        if loss.kind == PERSON:
            page.erase_person(loss.name, time=now)
        gone += (*told_with(page, loss.plans), *loss.asked.gone())
        for kind, name in gone:
            if kind != PERSON:
                page.purge(kind, name, time=now)
    keeper_of(book.place).wipe()
    left = purge_copies(book.place, [Gone(kind, name, now) for kind, name in gone], words=words)
    left |= purge_exports(book, loss.exports, now=now) | unread
    with book.reading() as page:
        forget_brought(page.connection, shelf_beside(book.place))
    try:
        forget(book, now=now, words=words)
    except InputError as error:
        left[pages_beside(book.place)] = str(error)
    return left


def _overwriting(book: Notebook, loss: Loss, words: tuple[str, ...]) -> Loss:
    """The same with what words would be overwritten, and who stands where even then."""
    if not words:
        return loss
    changed, found = look(book, loss.name, told := overwriting(words, loss.name))
    return replace(loss, words=told.words, changed=changed, named_in=found)


def _known(page: Page, kind: str, name: str) -> str:
    """The name as the notebook has it."""
    if kind == PERSON:
        return code_of(name, page.persons())
    if kind not in PURGED:
        hint = "What stands in the shelf's book or in a trace stays whole."
        raise InputError("kind", kind, f"one of: {', '.join(PURGED)}", hint=hint)
    kept = as_kept(page, kind, name)
    if page.latest(kind, kept) is None:
        raise InputError(kind, name, f"one of: {', '.join(page.names(kind)) or 'none yet'}")
    return kept
