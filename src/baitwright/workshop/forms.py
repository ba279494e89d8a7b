"""The forms of the notebook: every kind of record, its fields, and how one is read."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any, get_args, get_origin

from pydantic.fields import FieldInfo

from baitwright.terms.errors import InputError
from baitwright.workshop.bottle_file import bottle_test_of
from baitwright.workshop.fields import Reads, as_typed
from baitwright.workshop.form_events import (
    BatchReadingsTable,
    ComplaintTable,
    NightTable,
    PersonTable,
    QuestionTable,
    TestTable,
    night_adds_up,
)
from baitwright.workshop.form_things import (
    BlendTable,
    CoreTable,
    FormTable,
    HookTable,
    IngredientTable,
    LiquidTable,
    TubTable,
)
from baitwright.workshop.nearest import nearest
from baitwright.workshop.reading import Table, parse
from baitwright.workshop.readings_file import batch_record_of

WRITTEN, FILES, DAY, ABOUT = "written", "files", "day", "about"
PERSON = "person"


@dataclass(frozen=True, slots=True)
class Form:
    """One kind of record.

    Parameters
    ----------
    kind: what the command line and the notebook call it.
    table: its fields.
    subject: the field that says what a record is about.
    passing: fields that are true of one version only.
    is_named: whether the maker has to name it; else the day and a number will do.
    check: refuses what fields say together and cannot be.
    """

    kind: str
    table: type[FormTable]
    subject: str = ""
    passing: tuple[str, ...] = ()
    is_named: bool = False
    check: Callable[[Any], object] | None = None


FORMS: Mapping[str, Form] = {
    one.kind: one
    for one in (
        Form("ingredient", IngredientTable, "supplier", is_named=True),
        Form("core", CoreTable, "supplier", is_named=True),
        Form("liquid", LiquidTable, "supplier", is_named=True),
        Form("hook", HookTable, "supplier", is_named=True),
        Form("tub", TubTable, "base", passing=("weighed", "batch"), is_named=True),
        Form("blend", BlendTable, "lot", is_named=True),
        Form("test", TestTable, "batch", check=lambda told: bottle_test_of(told, told.batch)),
        Form(
            "readings",
            BatchReadingsTable,
            "batch",
            check=lambda told: batch_record_of(told, told.batch),
        ),
        Form("night", NightTable, "water", check=night_adds_up),
        Form("question", QuestionTable, "customer"),
        Form("complaint", ComplaintTable, "bag"),
        Form(PERSON, PersonTable),
    )
}


def form_of(kind: str) -> Form:
    """The form of a kind of record.

    Raises
    ------
    InputError: there is none.
    """
    if kind in FORMS:
        return FORMS[kind]
    near = nearest(kind, FORMS, most=1)
    hint = f"Nearest: {near[0]!r}." if near else ""
    raise InputError("kind", kind, f"one of: {', '.join(FORMS)}", hint=hint)


def fields_of(table: type[Table]) -> dict[str, FieldInfo]:
    """The fields of a table, its own before those that every record has."""
    every = FormTable.model_fields if issubclass(table, FormTable) else {}
    told = table.model_fields
    return {name: told[name] for name in (*(n for n in told if n not in every), *every)}


def reads(field: FieldInfo) -> Reads | None:
    """What reads a field; nothing where it holds tables of its own."""
    return next((mark for mark in field.metadata if isinstance(mark, Reads)), None)


def table_in(field: FieldInfo) -> tuple[type[Table], bool] | None:
    """The table a field holds, and whether it holds several."""
    many = get_origin(field.annotation) is tuple
    for one in get_args(field.annotation):
        if isinstance(one, type) and issubclass(one, Table):
            return one, many
    return None


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
    plain = _told(_plain(written))
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


def mentions(body: Mapping[str, Any], *names: str) -> Iterator[tuple[str, str]]:
    """What fields of some names say, in a record and in its rows, with where they stand."""
    for key, value in body.items():
        if key in names and isinstance(value, str):
            yield key, value
        elif key != WRITTEN and isinstance(value, list):
            for at, row in enumerate(value, start=1):
                if isinstance(row, dict):
                    yield from (
                        (f"{key}[{at}].{name}", told) for name, told in mentions(row, *names)
                    )


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
