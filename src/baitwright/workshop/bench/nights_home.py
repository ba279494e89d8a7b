"""Nights written down at the water and carried home: each taken into the notebook once."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Any

from baitwright.notebook.page import ChangedMeanwhileError, Revision
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.bench.travel import AT_HOME, NIGHTS
from baitwright.workshop.forms.attached import Beside
from baitwright.workshop.forms.form_events import NightTable
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.forms.read_records import written_in
from baitwright.workshop.forms.told_fields import told_by
from baitwright.workshop.records.record_forms import Told, record

_ID = re.compile(r"[a-z0-9]{8,24}")
_MOST = 500
"""Nights in one file (judgement): more than a year has."""
_ACCEPTED = "the text or file that the travelling page gave, whole"


@dataclass(frozen=True, slots=True)
class Carried:
    """One night of a file: the record it is now, or was already, or why it could not be taken.

    ``differs`` is of one that was there already and said something else.
    """

    turn: int
    about: str
    name: str = ""
    was_there: bool = False
    differs: bool = False
    said: str = ""


def take_home(book: Notebook, text: str, *, now: datetime) -> tuple[Carried, ...]:
    """Take the nights of a file into the notebook; one that is there already stays as it is.

    Raises
    ------
    InputError: it is no such file.
    """
    nights = _nights(text)
    return tuple(_taken(book, one, turn=at, now=now) for at, one in enumerate(nights, start=1))


def _nights(text: str) -> list[Any]:
    try:
        told = json.loads(text)
    except (ValueError, RecursionError) as error:
        shown, hint = text.strip()[:40] or None, f"{error}."
        raise InputError("nights", shown, _ACCEPTED, hint=hint) from None
    nights = told.get("nights") if isinstance(told, dict) and told.get("kind") == NIGHTS else None
    if not isinstance(nights, list):
        raise InputError("nights", text.strip()[:40], _ACCEPTED)
    if len(nights) > _MOST:
        raise InputError("nights", len(nights), f"{_MOST} nights at most")
    return nights


def _taken(book: Notebook, night: Any, *, turn: int, now: datetime) -> Carried:
    about = ""
    try:
        fields = _fields(night)
        about = ", ".join(filter(None, (fields.get("day", ""), fields.get("water", ""))))
        made = told_by(NightTable, fields.items())
        name = f"{_day(made)}/{night['id']}"
        there = _there(book, night["id"])
        if there is not None:
            differs = written_in(there) != made
            return Carried(turn, about, there.name, was_there=True, differs=differs)
        record(book, FORMS["night"], _told(made, name), now=now)
    except ChangedMeanwhileError:  # the same file came twice at once
        return Carried(turn, about, name, was_there=True)
    except InputError as error:
        return Carried(turn, about, said=str(error))
    return Carried(turn, about, name)


def _there(book: Notebook, mark: str) -> Revision | None:
    """The night that this one is already, on whatever day; one taken away counts too."""
    with book.reading() as page:
        known = (one for one in page.names("night") if one.endswith(f"/{mark}"))
        name = next(known, None)
        return None if name is None else page.latest("night", name)


def _told(made: Mapping[str, Any], name: str) -> Told:
    nowhere = Beside(Path(), Path())  # a night from the water names no files
    return Told(lambda _: made, nowhere, name=name, seen=0, reason="carried home from the water")


def _fields(night: Any) -> dict[str, str]:
    if not isinstance(night, Mapping) or not _ID.fullmatch(str(night.get("id"))):
        raise InputError("id", None, "a night as the travelling page wrote it")
    told = night.get("fields")
    if not isinstance(told, Mapping) or not all(isinstance(one, str) for one in told.values()):
        raise InputError("fields", None, "a night as the travelling page wrote it")
    for name in told:
        if name.partition("[")[0].partition(".")[0] in AT_HOME:
            raise InputError(name, told[name], "told at home, with the night's own form")
    return dict(told)


def _day(made: Mapping[str, Any]) -> str:
    """The day under which the night is filed; it has to be told, or once would not be once."""
    try:
        return date.fromisoformat(str(made.get("day", ""))).isoformat()
    except ValueError:
        raise InputError("day", made.get("day"), "a day such as 2026-11-27") from None
