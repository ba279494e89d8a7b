"""What records that are written by a form look like in the notebook, as JSON Schema."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime
from decimal import Decimal
from types import UnionType
from typing import Any, Union, get_args, get_origin

from pydantic.fields import FieldInfo

from baitwright.notebook.attachments import CHECKSUM, PATH
from baitwright.notebook.people import PERSON
from baitwright.workshop.forms.form import (
    ABOUT,
    DAY,
    FILES,
    WRITTEN,
    Form,
    fields_of,
    reads,
    table_in,
)
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.typed.reading import Table

RECORDS = "records.schema.json"
_PLAIN: Mapping[type, Mapping[str, Any]] = {
    bool: {"type": "boolean"},
    int: {"type": "integer"},
    float: {"type": "number"},
    Decimal: {"type": "string", "pattern": r"^-?\d+(\.\d+)?$"},
    datetime: {"type": "string"},
    date: {"type": "string", "format": "date"},
    str: {"type": "string"},
}
_WRITTEN = "The same as it was typed, with its units."
_ABOUT = "What the record is about, for lists."


def records_schema() -> Mapping[str, Any]:
    """The JSON Schema of a record of any form; that of one kind is among its definitions."""
    kinds = {kind: _body(form) for kind, form in FORMS.items()}
    return {"anyOf": [_reference("", kind) for kind in kinds], "$defs": kinds}


def with_records(export: Mapping[str, Any]) -> Mapping[str, Any]:
    """The JSON Schema of an export, which refers to those of its records."""
    tables = export["properties"]["tables"]["properties"]
    none, not_told = {"type": "null"}, {"type": "object", "maxProperties": 0}
    by_kind = [
        {
            "if": {"properties": {"kind": {"const": kind}}},
            "then": {"properties": {"body": {"anyOf": [none, _reference(RECORDS, kind)]}}},
        }
        for kind in FORMS
        if kind != PERSON
    ]
    tables["revisions"]["items"]["allOf"] = by_kind
    told = {"anyOf": [none, not_told, _reference(RECORDS, PERSON)]}
    tables["people"]["items"]["properties"]["body"] = told
    return export


def _reference(file: str, kind: str) -> Mapping[str, Any]:
    return {"$ref": f"{file}#/$defs/{kind}"}


def _body(form: Form) -> Mapping[str, Any]:
    fields = fields_of(form.table)
    made = _table(form.table)
    names = [name for name in fields if name != FILES]
    made["properties"][WRITTEN] = {
        "type": "object",
        "propertyNames": {"enum": names},
        "description": _WRITTEN,
    }
    made["required"] += [WRITTEN, *([DAY] if DAY in fields else [])]
    if form.subject:
        made["properties"][ABOUT] = {"type": "string", "description": _ABOUT}
    if FILES in fields:
        about = "Where each lies, and its SHA-256."
        one = {name: {"type": "string"} for name in (PATH, CHECKSUM)}
        each = {"type": "object", "properties": one, "required": list(one)}
        made["properties"][FILES] = {"type": "array", "items": each, "description": about}
    return {"title": form.kind, **made}


def _table(table: type[Table]) -> dict[str, Any]:
    fields = fields_of(table)
    return {
        "type": "object",
        "description": " ".join((table.__doc__ or "").split()),
        "properties": {name: _field(field) for name, field in fields.items() if name != FILES},
        "required": [name for name, field in fields.items() if field.is_required()],
        "additionalProperties": False,
    }


def _field(field: FieldInfo) -> Mapping[str, Any]:
    """A field as the notebook keeps it: lists, plain numbers in SI, days as text."""
    below, mark = table_in(field), reads(field)
    if mark is None:
        assert below is not None, "a field is read by its mark, or holds tables"
        table, many = below
        told = {"type": "array", "items": _table(table)} if many else _table(table)
        return {**told, "description": field.description or table.__doc__}
    is_measured = "pattern" in mark.schema
    about = f"{mark.about} In SI units." if is_measured else mark.about
    enum = {"enum": mark.schema["enum"]} if "enum" in mark.schema else {}
    return {**_type(field.annotation), **enum, "description": about}


def _type(annotation: Any) -> Mapping[str, Any]:
    if get_origin(annotation) is tuple:
        return {"type": "array", "items": _type(get_args(annotation)[0])}
    if get_origin(annotation) in (Union, UnionType):
        (annotation,) = (one for one in get_args(annotation) if one is not type(None))
    return _PLAIN[annotation]
