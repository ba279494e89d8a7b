"""An export's tables against the published rules of Data Package and Table Schema, version 1.

The rules are those of the specifications of Frictionless Data (specs.frictionlessdata.io: Data
Package, Data Resource, Tabular Data Resource, Table Schema; 2017), written down here as a schema of
our own. The reference program of that project (frictionless 5.21) found such an export valid on
2026-11-27; it draws in forty packages, so that it is no part of this suite.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterator, Mapping
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import pytest
from jsonschema import Draft202012Validator

from tests.workshop.test_exchange import exported, notebook, put, story

pytestmark = pytest.mark.published

NAME = {"type": "string", "pattern": "^[-a-z0-9._/]+$"}
CONSTRAINTS = {
    "integer": ("required", "unique", "minimum", "maximum", "enum"),
    "string": ("required", "unique", "enum", "minLength", "maxLength", "pattern"),
    "datetime": ("required", "unique", "enum", "minimum", "maximum"),
    "object": ("required", "unique", "enum", "minLength", "maxLength"),
}
FIELD = {
    "type": "object",
    "required": ["name"],
    "properties": {
        "name": {"type": "string"},
        "type": {"enum": list(CONSTRAINTS)},
        "format": {"enum": ["default", "any"]},
        "constraints": {"type": "object"},
    },
    "additionalProperties": False,
}
SCHEMA = {
    "type": "object",
    "required": ["fields"],
    "properties": {
        "fields": {"type": "array", "items": FIELD, "minItems": 1},
        "primaryKey": {"type": "array", "items": {"type": "string"}},
        "missingValues": {"type": "array", "items": {"type": "string"}},
    },
    "additionalProperties": False,
}
RESOURCE = {
    "type": "object",
    "required": ["name", "path", "profile", "schema"],
    "properties": {
        "name": NAME,
        "path": {"type": "string", "pattern": r"^(?!/)(?!.*\.\.)[^\\]+$"},
        "profile": {"const": "tabular-data-resource"},
        "format": {"const": "csv"},
        "mediatype": {"const": "text/csv"},
        "encoding": {"const": "utf-8"},
        "bytes": {"type": "integer"},
        "hash": {"type": "string", "pattern": "^sha256:[0-9a-f]{64}$"},
        "schema": SCHEMA,
    },
    "additionalProperties": False,
}
PACKAGE = {
    "type": "object",
    "required": ["resources"],
    "properties": {
        "profile": {"const": "tabular-data-package"},
        "name": NAME,
        "title": {"type": "string"},
        "description": {"type": "string"},
        "resources": {"type": "array", "items": RESOURCE, "minItems": 1},
    },
    "additionalProperties": False,
}


@pytest.fixture
def members(tmp_path: Path) -> Iterator[Mapping[str, bytes]]:
    with notebook(tmp_path) as book:
        story(book)
        put(book, "night", '=1,"+2"\r\nand more', {"notes": None})
        put(book, "night", "gone", None)
        with ZipFile(exported(book).path) as zipped:
            yield {name: zipped.read(name) for name in zipped.namelist()}


def package(members: Mapping[str, bytes]) -> dict[str, Any]:
    told: dict[str, Any] = json.loads(members["datapackage.json"])
    return told


def test_the_package_says_what_the_standard_asks(members: Mapping[str, bytes]) -> None:
    told = package(members)
    Draft202012Validator(PACKAGE).validate(told)
    names = [one["name"] for one in told["resources"]]
    assert len(set(names)) == len(names)
    for resource in told["resources"]:
        contents = members[resource["path"]]
        assert resource["bytes"] == len(contents)
        assert resource["hash"] == f"sha256:{sha256(contents).hexdigest()}"
        for field in resource["schema"]["fields"]:
            assert set(field.get("constraints", {})) <= set(CONSTRAINTS[field["type"]])


def test_every_cell_is_what_its_field_says(members: Mapping[str, bytes]) -> None:
    count = 0
    for resource in package(members)["resources"]:
        schema = resource["schema"]
        text = members[resource["path"]].decode("utf-8")
        header, *rows = csv.reader(io.StringIO(text, newline=""), strict=True)
        assert header == [field["name"] for field in schema["fields"]]
        for row in rows:
            assert len(row) == len(header)
            for field, cell in zip(schema["fields"], row, strict=True):
                check(field, None if cell in schema["missingValues"] else cell)
                count += 1
        keys = [tuple(row[header.index(name)] for name in schema["primaryKey"]) for row in rows]
        assert len(set(keys)) == len(keys)
    assert count > 50


def check(field: Mapping[str, Any], cell: str | None) -> None:
    limits = field.get("constraints", {})
    assert cell is not None or not limits.get("required")
    if cell is None:
        return
    assert cell in limits.get("enum", [cell])
    if field["type"] == "integer":
        assert limits["minimum"] <= int(cell) <= limits["maximum"]
    elif field["type"] == "datetime":
        assert datetime.fromisoformat(cell).tzinfo is not None
    elif field["type"] == "object":
        assert isinstance(json.loads(cell), dict)
