"""The notebook's tables for spreadsheets, with a data package that says what each column is."""

from __future__ import annotations

import csv
import json
from collections.abc import Iterable, Iterator, Mapping
from io import StringIO
from typing import Any

from sqlalchemy import Column, Table, UniqueConstraint

from baitwright.notebook.archive import Member
from baitwright.notebook.json_rows import FORMAT, VERSION
from baitwright.notebook.rows import Row, bounds_of, told_tables, words_of
from baitwright.workshop.told.spreadsheet import spreadsheet_text

_TIME = "date-time"


def csv_texts(table: Table, rows: Iterable[Row]) -> Iterator[str]:
    """A table line by line; text that a spreadsheet would run as a formula is shielded."""
    line = StringIO()
    writer = csv.writer(line)
    writer.writerow(table.c.keys())
    for row in rows:
        values = row.values()
        writer.writerow([one if type(one) is int else spreadsheet_text(one) for one in values])
        yield line.getvalue()
        line.seek(0)
        line.truncate()
    yield line.getvalue()


def csv_name(table: Table) -> str:
    """The member of an export that holds a table for spreadsheets."""
    return f"tables/{table.name}.csv"


def data_package(members: Mapping[str, Member]) -> str:
    """What the tables of an export are, by the Data Package standard, version 1."""
    resources = [_resource(table, members[csv_name(table)]) for table in told_tables()]
    told = {
        "profile": "tabular-data-package",
        "name": "baitwright-notebook",
        "title": "A Baitwright notebook",
        "description": (
            "For reading: the notebook itself is notebook.json. Amounts are whole milligrams, "
            "microlitres or pieces, values millionths of the shop's money. Text that a spreadsheet "
            "would run as a formula has an apostrophe before it."
        ),
        "resources": resources,
    }
    return json.dumps(told, ensure_ascii=False, indent=1) + "\n"


def export_schema() -> Mapping[str, Any]:
    """The JSON Schema of an export's notebook.json."""
    tables = {table.name: _rows_schema(table) for table in told_tables()}
    head = {
        "format": {"const": FORMAT},
        "version": {"const": VERSION},
        "step": {"type": "string", "pattern": "^[0-9]{4}$"},
    }
    return _object({**head, "tables": _object(tables)})


def _resource(table: Table, member: Member) -> Mapping[str, Any]:
    return {
        "profile": "tabular-data-resource",
        "name": table.name,
        "path": csv_name(table),
        "format": "csv",
        "mediatype": "text/csv",
        "encoding": "utf-8",
        "bytes": member.bytes,
        "hash": f"sha256:{member.sha256}",
        "schema": {
            "fields": [_field(column) for column in table.columns],
            "primaryKey": [column.name for column in table.primary_key],
            "missingValues": [""],
        },
    }


def _field(column: Column[Any]) -> Mapping[str, Any]:
    """A column in the words of Table Schema; an empty text and none look alike in a CSV."""
    if column.name == "body":
        return {"name": column.name, "type": "object"}
    if column.type.python_type is int:
        least, most = bounds_of(column)
        bounds = {"required": True, "minimum": least, "maximum": most}
        return {"name": column.name, "type": "integer", "constraints": bounds}
    limits: dict[str, Any] = {"enum": list(words_of(column))} if words_of(column) else {}
    if _is_unique(column):
        limits |= {"required": True, "unique": True}
    told = {"type": "datetime", "format": "any"} if column.name == "time" else {"type": "string"}
    return {"name": column.name, **told, **({"constraints": limits} if limits else {})}


def _is_unique(column: Column[Any]) -> bool:
    keys = [one for one in column.table.constraints if isinstance(one, UniqueConstraint)]
    return any(list(key.columns) == [column] for key in keys)


def _rows_schema(table: Table) -> Mapping[str, Any]:
    return {
        "type": "array",
        "items": _object({column.name: _value(column) for column in table.columns}),
    }


def _object(properties: Mapping[str, Any]) -> Mapping[str, Any]:
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _value(column: Column[Any]) -> Mapping[str, Any]:
    if column.name == "body":
        return {"type": ["object", "null"]}
    if column.type.python_type is int:
        least, most = bounds_of(column)
        return {"type": "integer", "minimum": least, "maximum": most}
    if words_of(column):
        return {"enum": list(words_of(column))}
    kind = ["string", "null"] if column.nullable else "string"
    return {"type": kind, **({"format": _TIME} if column.name == "time" else {})}
