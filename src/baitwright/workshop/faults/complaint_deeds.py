"""What is done about a complaint: answered, closed, opened again, its sample looked at."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

from baitwright.notebook.page import Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.faults.complaints import CLOSED, COMPLAINT, found_on
from baitwright.workshop.forms.attached import Beside
from baitwright.workshop.forms.forms import form_of
from baitwright.workshop.records.record_forms import Told, record


def answered(
    book: Notebook, name: str, text: str, *, now: datetime, seen: int | None = None
) -> Revision:
    """Write down what somebody was answered; the complaint is answered.

    Raises
    ------
    ChangedMeanwhileError: another version stands there than the one that was looked at.
    InputError: no such complaint, or no answer.
    """
    if not text.strip():
        raise InputError("answer", None, "what they are told")
    told = {"answer": text.strip(), "state": "answered"}
    return _written(book, name, told, now=now, seen=seen)


def sample_looked_at(
    book: Notebook, name: str, showed: str, *, now: datetime, seen: int | None = None
) -> Revision:
    """Write down what the bag kept back showed.

    Raises
    ------
    ChangedMeanwhileError: another version stands there than the one that was looked at.
    InputError: no such complaint, or nothing that it showed.
    """
    if not showed.strip():
        raise InputError("sample", None, "what it showed, such as no mould, smells right")
    return _written(book, name, {"sample": showed.strip()}, now=now, seen=seen)


def closed(
    book: Notebook, name: str, done: str = "", *, now: datetime, seen: int | None = None
) -> Revision:
    """Close a complaint, with what was done.

    Raises
    ------
    ChangedMeanwhileError: another version stands there than the one that was looked at.
    InputError: no such complaint, or nothing done and nothing answered.
    """
    with book.reading() as page:
        body = found_on(page, name).body or {}
    if not done.strip() and not body.get("answer") and not body.get("done"):
        raise InputError("done", None, "what was done, or an answer before it is closed")
    told = {"done": done.strip()} if done.strip() else {}
    return _written(book, name, {**told, "state": CLOSED}, now=now, seen=seen)


def _written(
    book: Notebook, name: str, told: Mapping[str, str], *, now: datetime, seen: int | None
) -> Revision:
    with book.reading() as page:
        kept = found_on(page, name).name
    nowhere = Beside(Path(), Path())
    what = Told(lambda standing: {**standing, **told}, nowhere, name=kept, seen=seen)
    return record(book, form_of(COMPLAINT), what, now=now)
