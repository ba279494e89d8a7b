"""Records read again: one with its versions, the last of a kind, those with some words in them."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from baitwright.notebook.page import Page, Revision
from baitwright.notebook.people import PERSON
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.form import WRITTEN, Form
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.forms.names import as_kept


def records(book: Notebook, form: Form, *, words: str = "", most: int = 50) -> tuple[Revision, ...]:
    """The last records of a kind, the latest day first."""
    with book.reading() as page:
        return page.last(form.kind, most, words=words)


def search(book: Notebook, words: str, *, most: int = 20) -> tuple[Revision, ...]:
    """The last records of every kind, recipes among them, that hold all of the words."""
    with book.reading() as page:
        kinds = (kind for kind in page.tally() if kind in FORMS or kind == "recipe")
        return tuple(one for kind in kinds for one in page.last(kind, most, words=words))


def tally(book: Notebook) -> Mapping[str, int]:
    """How many records stand of each kind that has a form."""
    with book.reading() as page:
        return {kind: many for kind, many in page.tally().items() if kind in FORMS}


def history(book: Notebook, form: Form, name: str) -> tuple[Revision, ...]:
    """Every version of a record, the first one first.

    Raises
    ------
    InputError: no such record; the message tells the last ones.
    """
    with book.reading() as page:
        return history_on(page, form, name)


def history_on(page: Page, form: Form, name: str) -> tuple[Revision, ...]:
    """The same on a page that is open already."""
    found = page.history(form.kind, as_kept(page, form.kind, name))
    if not found:
        last = ", ".join(one.name for one in page.last(form.kind, 5)) or "none yet"
        raise InputError(form.kind, name, f"one of the notebook, the last are: {last}")
    return found


def standing_of(book: Notebook, form: Form, name: str) -> tuple[int, dict[str, Any]]:
    """The newest version of a record and what it says as it was written; 0 where there is none."""
    with book.reading() as page:
        if form.kind == PERSON:
            known = page.persons().get(name.strip()) or {}
            return 0, dict(known.get(WRITTEN, {}))
        latest = page.latest(form.kind, name.strip()) if name.strip() else None
    return (0 if latest is None else latest.version), written_in(latest)


def written_at(book: Notebook, form: Form, name: str, *, version: int) -> dict[str, Any]:
    """What one version of a record says, as the maker wrote it; nothing where there is none."""
    with book.reading() as page:
        found = (one for one in page.history(form.kind, name.strip()) if one.version == version)
        return written_in(next(found, None))


def written_in(latest: Revision | None) -> dict[str, Any]:
    """What the newest version says, as the maker wrote it."""
    body = {} if latest is None or latest.body is None else latest.body
    return dict(body.get(WRITTEN, {}))
