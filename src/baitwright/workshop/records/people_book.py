"""People written down: in their own table, where they can be erased; a code stands for each."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from hashlib import sha256
from typing import Any

from baitwright.notebook.page import ChangedMeanwhileError, Page
from baitwright.notebook.people import PERSON
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.form import WRITTEN
from baitwright.workshop.forms.form_fields import person_code
from baitwright.workshop.forms.form_reading import read_form
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.records.record_forms import Filled, Told

_CODE = person_code(about="Whose record it is.")


def record_person(book: Notebook, told: Told, *, now: datetime) -> str:
    """Write a person down, or anew what is known of one; the code that records are to mention.

    Nothing of what was known before is kept.

    Raises
    ------
    InputError: no such person, what the form does not take, or a version that was to be the newest.
    """
    if told.seen is not None:
        hint = "Nothing earlier is kept of people: the record is as it was last told."
        raise InputError("version", told.seen, "none for a person", hint=hint)
    with book.writing() as page:
        known = page.persons()
        code = code_of(told.name, known) if told.name.strip() else ""
        before = (known.get(code) or {}).get(WRITTEN, {})
        form = FORMS[PERSON]
        body = read_form(form, told.fill(before), today=now.date(), where=told.where)
        if not code:
            return page.add_person(body, time=now)
        page.change_person(code, body, time=now)
    return code


def unless_changed(seen: Mapping[str, Any], answers: Mapping[str, Any]) -> Filled:
    """Answers that were given over what was seen of a person; refused where that changed since."""

    def fill(standing: Mapping[str, Any]) -> Mapping[str, Any]:
        if dict(standing) != dict(seen):
            hint = "Someone wrote in it meanwhile: read it again, then write."
            raise InputError(PERSON, "what was read before", "what stands there now", hint=hint)
        return answers

    return fill


def mark_of(standing: Mapping[str, Any]) -> str:
    """What tells a person as known from the same person as known later."""
    told = json.dumps(standing, sort_keys=True, ensure_ascii=False)
    return sha256(told.encode()).hexdigest()[:16]


class PersonChangedError(ChangedMeanwhileError):
    """Somebody wrote of a person meanwhile, of whom nothing earlier is kept."""

    def __init__(self, code: str) -> None:
        super().__init__(PERSON, code, seen=0, there=0)
        self.got, self.accepted = "what was read before", "what stands there now"


def unless_marked(code: str, seen: str, answers: Mapping[str, Any]) -> Filled:
    """Answers that were given over what bore a mark; refused where that changed since."""

    def fill(standing: Mapping[str, Any]) -> Mapping[str, Any]:
        if code and mark_of(standing) != seen:
            raise PersonChangedError(code)
        return answers

    return fill


def people(book: Notebook) -> Mapping[str, Mapping[str, Any] | None]:
    """Everybody by code; nothing of those who were erased."""
    with book.reading() as page:
        return page.persons()


def code_of(told: str, known: Mapping[str, object]) -> str:
    """A person's code as the notebook writes it.

    Raises
    ------
    InputError: nobody has it.
    """
    try:
        code = str(_CODE.read(told))
    except InputError as error:
        raise InputError(PERSON, told, error.accepted) from None
    if code not in known:
        raise InputError(PERSON, told, f"one of: {', '.join(known) or 'nobody yet'}")
    return code


def contact_of(page: Page, told: str) -> str:
    """Somebody's name and how to reach them, in one line.

    Raises
    ------
    InputError: nobody has the code, or who had it was erased.
    """
    known = page.persons()
    body = known[code_of(told, known)]
    if body is None:
        raise InputError(PERSON, told, "somebody of whom the notebook still knows something")
    parts = (str(body.get(key) or "") for key in ("name", "address", "phone", "mail"))
    lines = (line.strip() for part in parts for line in part.splitlines())
    return ", ".join(filter(None, lines))
