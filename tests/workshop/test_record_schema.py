"""Real records fit the schema that is published of them, alone and in an export."""

from __future__ import annotations

import json
from datetime import timedelta
from functools import cache
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator
from jsonschema.exceptions import ValidationError
from referencing import Registry, Resource

from baitwright.notebook.attachments import shelf_beside
from baitwright.notebook.store import open_notebook
from baitwright.workshop.checks import schema
from baitwright.workshop.copies.export_all import export_all
from baitwright.workshop.forms.form_reading import read_form
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.records.record_forms import take_away
from baitwright.workshop.records.record_schema import RECORDS
from tests.workshop.records import NOW, person, write
from tests.workshop.shelf import SCHEMAS
from tests.workshop.test_forms import LEAST, entries


@cache
def published(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((SCHEMAS / name).read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(found)
    return found


@cache
def of_kind(kind: str) -> Draft202012Validator:
    whole = published(RECORDS)
    return Draft202012Validator({"$defs": whole["$defs"], "$ref": f"#/$defs/{kind}"})


def of_exports() -> Draft202012Validator:
    registry = Registry().with_resource(RECORDS, Resource.from_contents(published(RECORDS)))
    return Draft202012Validator(published(schema.EXPORT), registry=registry)


def test_it_is_the_one_of_the_program() -> None:
    assert published(RECORDS) == schema.schema_of_records(), (
        "publish it anew: python -m baitwright.workshop.checks.schema docs/schema"
    )
    assert set(published(RECORDS)["$defs"]) == set(FORMS)


@pytest.mark.parametrize("kind", FORMS)
@settings(max_examples=10)
@given(data=st.data())
def test_whatever_a_form_takes_fits(kind: str, data: st.DataObject) -> None:
    told = {**data.draw(entries(FORMS[kind].table)), **LEAST.get(kind, {})}
    if "rod" in told:
        told.pop("bites", None)  # no fewer than the rods had
    body = json.loads(json.dumps(read_form(FORMS[kind], told, today=NOW.date())))
    of_kind(kind).validate(body)
    assert not of_kind(kind).is_valid({**body, "spells": 1})
    assert not of_kind(kind).is_valid(
        {name: one for name, one in body.items() if name != "written"}
    )
    for name, value in body.items():
        assert not of_kind(kind).is_valid({**body, name: [{}] if isinstance(value, dict) else {}})


def test_an_export_of_records_fits_both(tmp_path: Path) -> None:
    book = open_notebook(tmp_path / "notebook.sqlite", now=NOW)
    (tmp_path / "tray.jpg").write_bytes(b"photo")
    code = person(book, "name=A. Example", "address=1 Example Lane")
    person(book, "name=B. Example")
    write(book, "night", "water=Long Reedpool", "bites=0", f"owner={code}", "files=tray.jpg")
    write(book, "hook", "price=7.50", "gape=11 mm", "hazards=H317", name="Size 6")
    write(book, "complaint", "what=mould", name="Mould")
    write(book, "complaint", "what=mould", "state=Closed", name="Mould", reason="settled")
    take_away(book, FORMS["complaint"], "Mould", now=NOW + timedelta(hours=1), reason="twice")
    with book.writing() as page:
        page.erase_person("person 2", time=NOW)
        page.add_person({}, time=NOW)
        page.write("recipe", "Copper", {"toml": ""}, seen=0, time=NOW)
    made = export_all(book, tmp_path / "all.zip", files=shelf_beside(book.place), now=NOW)
    book.close()
    with ZipFile(made.path) as zipped:
        told = json.loads(zipped.read("notebook.json"))
    validator = of_exports()
    validator.validate(told)
    revisions, people = told["tables"]["revisions"], told["tables"]["people"]
    (night,) = (row for row in revisions if row["kind"] == "night")
    for body in (night["body"], people[0]["body"]):
        before = dict(body)
        for wrong in ({**before, "spells": 1}, {**before, "remark": 3}, {"remark": "alone"}):
            body.clear()
            body.update(wrong)
            with pytest.raises(ValidationError):
                validator.validate(told)
        body.clear()
        body.update(before)
    validator.validate(told)
