"""Records as this program writes them: what one from elsewhere must say to be one."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from datetime import date
from typing import Any

from baitwright.ledger.movements import Counted
from baitwright.notebook.page import Page
from baitwright.notebook.rows import rows_of
from baitwright.notebook.tables import revisions
from baitwright.terms.errors import InputError
from baitwright.workshop.lots import LOT, Lot
from baitwright.workshop.recipe_shelf import KIND as RECIPE
from baitwright.workshop.recipe_shelf import changes_between
from baitwright.workshop.stock import ITEM


def refuse_misshapen(page: Page) -> None:
    """Refuse a record whose entries this program could not read again.

    Raises
    ------
    InputError: the first such record.
    """
    for row in rows_of(page.connection, revisions, revisions.c.kind.in_(SHAPES)):
        if row["body"] is None:
            continue
        try:
            SHAPES[row["kind"]](json.loads(row["body"]))
        except (KeyError, TypeError, ValueError, InputError) as error:
            field, told = f"{row['kind']} {row['name']}", f"version {row['version']}"
            raise InputError(
                field, told, "the entries of such a record", hint=f"{error}."
            ) from None


def _recipe(body: Mapping[str, Any]) -> None:
    changes_between("", _text(body["toml"]))


def _item(body: Mapping[str, Any]) -> None:
    Counted(body["counted"])


def _lot(body: Mapping[str, Any]) -> None:
    lot = Lot(**body)
    for told in (lot.item, lot.came, lot.supplier, lot.supplier_lot):
        _text(told)
    for day in (lot.came, lot.best_before):
        if day is not None:
            date.fromisoformat(day)


def _text(told: object) -> str:
    if not isinstance(told, str):
        raise TypeError(f"{told!r} is no text")
    return told


SHAPES: Mapping[str, Callable[[Mapping[str, Any]], None]] = {
    RECIPE: _recipe,
    ITEM: _item,
    LOT: _lot,
}
