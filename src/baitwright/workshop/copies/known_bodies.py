"""Records as this program writes them: one from elsewhere is refused unless it is read again."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from baitwright.notebook.page import Page
from baitwright.notebook.rows import rows_of
from baitwright.notebook.tables import revisions
from baitwright.terms.errors import InputError
from baitwright.workshop.copies.body_shapes import SHAPES

_WRONG = (LookupError, TypeError, ValueError, ArithmeticError, AttributeError, InputError)


def refuse_misshapen(page: Page) -> None:
    """Refuse a record whose entries this program could not read again.

    Raises
    ------
    InputError: the first such record.
    """
    told = (revisions.c.kind.in_(SHAPES), revisions.c.body.is_not(None))
    for row in rows_of(page.connection, revisions, *told):
        try:
            SHAPES[row["kind"]](json.loads(row["body"]))
        except _WRONG as error:
            field, version = f"{row['kind']} {row['name']}", f"version {row['version']}"
            accepted = "the entries of such a record"
            raise InputError(field, version, accepted, hint=f"{error}.") from None


def is_well_shaped(kind: str, body: Mapping[str, Any]) -> bool:
    """Whether this program could read a record again."""
    try:
        SHAPES.get(kind, dict)(body)
    except _WRONG:
        return False
    return True
