"""Records written down and corrected, version after version; taken away, undone, read again."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from baitwright.notebook.page import ChangedMeanwhileError, Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.entries.made_lots import on_shelf
from baitwright.workshop.forms.attached import Beside, checked_in
from baitwright.workshop.forms.form import DAY, FILES, Form
from baitwright.workshop.forms.form_reading import read_form
from baitwright.workshop.forms.names import fair_name
from baitwright.workshop.forms.read_records import history_on, written_in
from baitwright.workshop.records.form_mentions import as_mentioned, follow, refuse_unknown
from baitwright.workshop.tubs.resting import refuse_resting
from baitwright.workshop.tubs.tellings import ENTRY, MADE_LOTS, Telling

Filled = Callable[[Mapping[str, Any]], Mapping[str, Any]]
"""What is to be written, from what is written already."""


@dataclass(frozen=True, slots=True)
class Told:
    """A record as it was told: filled in from what stands, and what goes with it.

    ``seen`` is the version that was looked at; the newest where None. ``beside`` is where paths of
    its files begin, and ``where`` the file it came from.
    """

    fill: Filled
    beside: Beside
    name: str = ""
    seen: int | None = None
    reason: str = ""
    where: str = ""


def record(book: Notebook, form: Form, told: Told, *, now: datetime) -> Revision:
    """Write a record, or the next version of it.

    Raises
    ------
    ChangedMeanwhileError: another version stands there than the one that was looked at.
    InputError: what a form does not take, a name that will not do, a bag, batch or person that the
        notebook does not know, or a file that cannot be read.
    """
    with book.writing() as page:
        name = _name(page, form, told.name, now=now)
        latest = page.latest(form.kind, name)
        there = 0 if latest is None else latest.version
        if told.seen is not None and told.seen != there:
            raise ChangedMeanwhileError(form.kind, name, seen=told.seen, there=there)
        body = _body(form, told, latest, page=page, now=now)
        refuse_unknown(page, body)
        if form.kind in MADE_LOTS:
            before = None if latest is None else latest.body
            telling = Telling(form.kind, name, body, now, told.reason)
            entry = on_shelf(page, telling, before)
            body = body if entry is None else {**body, ENTRY: entry}
        made = page.write(form.kind, name, body, seen=there, time=now, reason=told.reason)
        follow(page, made)
    return made


def take_away(
    book: Notebook, form: Form, name: str, *, now: datetime, reason: str, seen: int | None = None
) -> Revision:
    """Take a record away; its versions stay.

    ``seen`` is the version that was looked at; the newest where None.

    Raises
    ------
    InputError: no such record, no reason, or a tub or a bottle that still holds something.
    """
    if not reason.strip():
        raise InputError("reason", None, "why it is taken away, such as written down twice")
    with book.writing() as page:
        last = _standing(page, form, name)
        refuse_resting(page, last, is_away=True)
        seen = last.version if seen is None else seen
        made = page.write(form.kind, last.name, None, seen=seen, time=now, reason=reason)
        follow(page, made)
    return made


def undo(
    book: Notebook, form: Form, name: str, *, now: datetime, seen: int | None = None
) -> Revision:
    """Write the version before the newest once more, as the newest.

    ``seen`` is the version that was looked at; the newest where None.

    Raises
    ------
    ChangedMeanwhileError: another version stands there than the one that was looked at.
    InputError: no such record, or a version that stock rests on: its entry is undone instead.
    """
    with book.writing() as page:
        found = history_on(page, form, name)
        there = found[-1].version
        if seen not in (None, there):
            raise ChangedMeanwhileError(form.kind, name, seen=seen or 0, there=there)
        refuse_resting(page, found[-1])
        made = page.undo(form.kind, found[-1].name, time=now)
        follow(page, made)
    return made


def _standing(page: Page, form: Form, name: str) -> Revision:
    last = history_on(page, form, name)[-1]
    if last.body is None:
        raise InputError(form.kind, name, "one that was not taken away already")
    return last


def _name(page: Page, form: Form, name: str, *, now: datetime) -> str:
    if name.strip():
        return fair_name(page, form.kind, name)
    if form.is_named:
        raise InputError(f"{form.kind}'s name", None, f"a name: baitwright record {form.kind} NAME")
    day = now.date().isoformat()
    taken, at = set(page.names(form.kind)), page.count(form.kind, name=f"{day}/") + 1
    while f"{day}/{at}" in taken:
        at += 1  # somebody gave it to another one
    return f"{day}/{at}"


def _body(
    form: Form, told: Told, latest: Revision | None, *, page: Page, now: datetime
) -> dict[str, Any]:
    before = {} if latest is None or latest.body is None else latest.body
    written = as_mentioned(page, told.fill(written_in(latest)), form.kind)
    if DAY in before and DAY in form.table.model_fields:
        written.setdefault(DAY, before[DAY])
    body = read_form(form, written, today=now.date(), where=told.where)
    listed = checked_in(written[FILES], told.beside) if FILES in written else before.get(FILES)
    return {**body, FILES: listed} if listed else body
