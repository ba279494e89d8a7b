"""What the notebook holds, for programs: the cover, recipes, lists of records, people."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from baitwright.notebook.page import Revision
from baitwright.notebook.where import Where
from baitwright.workshop.forms.form import WRITTEN
from baitwright.workshop.forms.form_lists import Known
from baitwright.workshop.told.worth_words import as_json


def cover_json(
    found: Iterable[Revision], *, where: Where, copied: str, records: Mapping[str, int]
) -> str:
    """Every recipe with its newest version, how many records of each kind, and the last copy."""
    named = [_told(one) for one in found]
    told = {"notebook": str(where), "recipes": named, "records": records}
    return as_json({**told, "last_backup": copied})


def list_json(kind: str, found: Iterable[Revision]) -> str:
    """The last records of a kind, as they were written and in SI."""
    return as_json({"kind": kind, "records": [_whole(one) for one in found]})


def found_json(words: str, found: Iterable[Revision]) -> str:
    """Records that a search found."""
    return as_json({"words": words, "records": [_whole(one) for one in found]})


def people_json(known: Known) -> str:
    """Everybody by code, as they were written; null for those who were erased."""
    told = {code: None if body is None else body.get(WRITTEN) for code, body in known.items()}
    return as_json({"people": told})


def recipe_json(found: Iterable[Revision]) -> str:
    """Versions of a recipe, each to the letter; no text where it was taken away."""
    versions = tuple(found)
    told = [{**_told(one), "toml": (one.body or {}).get("toml")} for one in versions]
    return as_json({"recipe": versions[0].name, "versions": told})


def _told(one: Revision) -> dict[str, Any]:
    told = {"name": one.name, "version": one.version}
    return {**told, "time": one.time.isoformat(), "reason": one.reason}


def _whole(one: Revision) -> dict[str, Any]:
    return {"kind": one.kind, **_told(one), "body": one.body}
