"""People written down: in their own table, where they can be erased; a code stands for each."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import Any

from baitwright.notebook.people import PERSON
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.form import WRITTEN
from baitwright.workshop.form_fields import person_code
from baitwright.workshop.form_reading import read_form
from baitwright.workshop.forms import FORMS
from baitwright.workshop.record_forms import Told

_CODE = person_code(about="Whose record it is.")


def record_person(book: Notebook, told: Told, *, now: datetime) -> str:
    """Write a person down, or anew what is known of one; the code that records are to mention.

    Nothing of what was known before is kept.

    Raises
    ------
    InputError: no such person, or what the form does not take.
    """
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
