"""Complaints: those that wait, those with harm first."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from baitwright.advice.complaint_care import speaks_of_harm
from baitwright.notebook.page import Page, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.form import WRITTEN
from baitwright.workshop.forms.forms import form_of
from baitwright.workshop.forms.read_records import history_on

COMPLAINT = "complaint"
CLOSED = "closed"
_TEXTS = ("what", "noticed", "sample", "answer", "done")


@dataclass(frozen=True, slots=True)
class Row:
    """A complaint in a list; ``customer`` is a code, ``harm`` whether there may be any."""

    name: str
    version: int
    day: str
    what: str
    bag: str
    customer: str
    state: str
    harm: bool
    noticed: str = ""
    sample: str = ""
    answer: str = ""
    done: str = ""


def complaints(book: Notebook, *, closed: bool = False) -> tuple[Row, ...]:
    """Complaints that wait, those with harm first, then the oldest; with the closed, if asked."""
    with book.reading() as page:
        rows = [row_of(one) for one in page.all(COMPLAINT) if one.body is not None]
    wanted = (one for one in rows if closed or one.state != CLOSED)
    return tuple(sorted(wanted, key=lambda one: (not one.harm, one.day, one.name)))


def found_on(page: Page, name: str) -> Revision:
    """A complaint's newest version, on a page.

    Raises
    ------
    InputError: no such complaint, or one that was taken away or purged.
    """
    last = history_on(page, form_of(COMPLAINT), name)[-1]
    if last.body is None:
        raise InputError(COMPLAINT, name, "one that was not taken away or purged")
    return last


def row_of(one: Revision) -> Row:
    """A complaint as its newest version tells it."""
    body: Mapping[str, Any] = one.body or {}
    said = body.get(WRITTEN, body)
    told = {
        key: str(said.get(key) or "") for key in ("what", "noticed", "sample", "answer", "done")
    }
    return Row(
        one.name,
        one.version,
        str(body.get("day", "")),
        bag=str(body.get("bag", "")),
        customer=str(body.get("customer", "")),
        state=str(body.get("state", "open")),
        harm=bool(body.get("harm")) or speaks_of_harm(told["what"]),
        **told,
    )
