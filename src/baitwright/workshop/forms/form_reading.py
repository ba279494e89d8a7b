"""What a maker wrote, as the body of a record: in plain data and SI, and as it was written."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from typing import Any

from baitwright.terms.errors import InputError
from baitwright.workshop.forms.form import ABOUT, DAY, FILES, WRITTEN, Form
from baitwright.workshop.typed.fields import as_typed
from baitwright.workshop.typed.reading import parse


def read_form(
    form: Form, written: Mapping[str, Any], *, today: date, where: str = ""
) -> dict[str, Any]:
    """The body of a record: what was written, and the same in plain data and SI.

    Parameters
    ----------
    form: its kind.
    written: entries as the maker wrote them.
    today: no record of what happened is of a later day.
    where: the file, for errors.

    Raises
    ------
    InputError: an unknown key, or what cannot be.
    """
    try:
        plain = _told(_plain(written))
    except RecursionError:
        accepted = "entries as this form has them"
        raise InputError(form.kind, "lists in lists", accepted, where=where) from None
    if DAY in form.table.model_fields:
        plain.setdefault(DAY, today.isoformat())
    table = parse(plain, form.table, where=where)
    try:
        for name, value in table:
            _refuse_later(name, value, today)
        if form.check is not None:
            form.check(table)
    except InputError as error:
        raise error.located(where) from None
    body = _told(table.model_dump(mode="json", exclude={FILES}))
    if body.get(form.subject):
        body[ABOUT] = body[form.subject]
    return {**body, WRITTEN: {key: plain[key] for key in plain if key != FILES}}


def _plain(value: Any) -> Any:
    """Entries of a file as JSON can keep them."""
    if isinstance(value, Mapping):
        return {key: _plain(one) for key, one in value.items()}
    if isinstance(value, list):
        return [_plain(one) for one in value]
    return as_typed(value)


def _told(value: Any) -> Any:
    """Entries without those that say nothing."""
    if isinstance(value, list):
        return [_told(one) for one in value]
    if not isinstance(value, dict):
        return value
    told = {key: _told(one) for key, one in value.items()}
    return {key: one for key, one in told.items() if one not in (None, "", [], {})}


def _refuse_later(name: str, value: object, today: date) -> None:
    day = value.date() if isinstance(value, datetime) else value
    if isinstance(day, date) and day > today:
        raise InputError(name, day.isoformat(), f"a day that has come, {today} at the latest")
