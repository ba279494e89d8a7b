"""Records of every kind but people, read and written: a pair of routes for each form."""

from __future__ import annotations

from typing import Annotated, Any

from fastapi import APIRouter, Query
from fastapi.responses import Response
from pydantic import BaseModel, Field, create_model

from baitwright.terms.errors import InputError
from baitwright.web.api.answers import HOLDS, LOOKS, WRITES, said
from baitwright.web.api.notebook import Name, Raw, Words
from baitwright.web.house import House
from baitwright.web.in_house import InHouse
from baitwright.workshop.forms.form import FILES, Form
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.typed.reading import Table

asks = APIRouter()
_PEOPLE = "person"
"""People are told by no list: they stand in a table of their own, which can be erased."""
_MOST = 200


class RecordListed(BaseModel):
    """A record in a list."""

    name: str
    version: int
    body: dict[str, Any] | None


class Records(BaseModel):
    """The last records of a kind, the latest day first."""

    kind: str
    records: list[RecordListed]


class RecordTold(BaseModel):
    """A record in SI and as it was written, with its versions."""

    kind: str
    name: str
    version: int
    body: dict[str, Any] | None
    versions: list[dict[str, Any]]


class RecordWritten(RecordTold):
    """The same of a record just written; of a night, what cannot be counted as it stands."""

    doubtful: list[dict[str, Any]]


class _Told(Table):
    """A record to be written, or its next version."""

    name: Annotated[str, Field(max_length=80)] = ""
    version: Annotated[
        int | None, Field(ge=0, le=10**9, description="Only if this is the newest yet.")
    ] = None
    reason: Annotated[str, Field(max_length=200)] = ""


def _routes(form: Form) -> None:
    kind = form.kind
    asked: Any = create_model(f"{kind.capitalize()}Told", __base__=_Told, record=(form.table, ...))

    def listed(
        house: InHouse, words: Words = "", most: Annotated[int, Query(ge=1, le=_MOST)] = 50
    ) -> Response:
        from baitwright.workshop.forms.read_records import records

        with house.notebook.looking() as book:
            found = records(book, form, words=words, most=most)
        rows = [{"name": one.name, "version": one.version, "body": one.body} for one in found]
        return said({"kind": kind, "records": rows})

    def told(house: InHouse, name: Name) -> Response:
        from baitwright.workshop.forms.read_records import history
        from baitwright.workshop.records.form_text import record_json

        with house.notebook.looking() as book:
            return said(record_json(history(book, form, name)))

    def write(asked: Any, raw: Raw, house: InHouse) -> Response:
        return _written(form, asked, raw["record"], house=house)

    write.__annotations__["asked"] = asked  # each kind has fields of its own

    path = f"/records/{kind}"
    looks = {**LOOKS, 200: {"model": Records}}
    asks.add_api_route(path, listed, summary=f"The last {kind} records", responses=looks)
    whole = {**LOOKS, 200: {"model": RecordTold}}
    asks.add_api_route(f"{path}/{{name:path}}", told, summary=f"One {kind} record", responses=whole)
    asks.add_api_route(
        path,
        write,
        methods=["POST"],
        status_code=201,
        summary=f"Write a record of kind {kind}, or its next version",
        dependencies=HOLDS,
        responses={**WRITES, 201: {"model": RecordWritten}},
    )


def _written(form: Form, asked: Any, entries: dict[str, Any], *, house: House) -> Response:
    from pathlib import Path

    from baitwright.notebook.where import folder_of
    from baitwright.workshop.forms.attached import Beside
    from baitwright.workshop.nights.night_doubts import doubts_json
    from baitwright.workshop.records.form_text import record_json
    from baitwright.workshop.records.record_forms import Told, record

    if entries.get(FILES):
        raise InputError(FILES, "paths", "none here: attach them on the record's page")
    beside = Beside(folder_of(house.place), Path())
    fill = Told(lambda standing: entries, beside, asked.name, asked.version, asked.reason)
    now = house.notebook.clock()
    with house.notebook.writing() as book:
        made = record(book, form, fill, now=now)
        return said({**record_json((made,)), "doubtful": doubts_json(book, made)}, 201)


for _form in FORMS.values():
    if _form.kind != _PEOPLE:
        _routes(_form)
