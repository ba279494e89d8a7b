"""Lists for the wall and the folder: tables under headings on A4 or A5, as PDF."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import Any

from baitwright.sheets.breakable import breakable
from baitwright.sheets.typeset import pdf_of
from baitwright.sheets.wording import clock, day

_TEMPLATE = Path(__file__).with_name("list_sheet.typ")


class Paper(StrEnum):
    """What a list is printed on."""

    A4 = "a4"
    A5 = "a5"


@dataclass(frozen=True, slots=True)
class Column:
    """A column: its heading, its part of the width, whether it holds numbers or is to write in."""

    title: str
    part: float
    numbers: bool = False
    to_write: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """Rows that belong together under one in bold; any of them may be none."""

    head: tuple[str, ...] = ()
    rows: tuple[tuple[str, ...], ...] = ()


@dataclass(frozen=True, slots=True)
class Listed:
    """A table under its heading, and remarks below it; a remark that begins with ! stands out."""

    heading: str
    columns: tuple[Column, ...]
    groups: tuple[Group, ...]
    remarks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class ListSheet:
    """A list with its title, what it is about, when it was made, and its tables.

    ``scale`` sets all of it larger or smaller than a list to hold in the hand; ``language`` is told
    to whoever hears it read.
    """

    title: str
    about: str
    made: datetime
    tables: tuple[Listed, ...]
    scale: float = 1.0
    language: str = "en"


def list_pages(sheet: ListSheet, paper: Paper) -> bytes:
    """The list as a PDF of as many pages as it takes, tagged for screen readers; black on white.

    The same list gives the same bytes: the file is dated by the list.
    """
    return pdf_of(_TEMPLATE, _data(sheet, paper), moment=sheet.made)


def _data(sheet: ListSheet, paper: Paper) -> dict[str, Any]:
    told = asdict(sheet)
    told["made"] = f"{day(sheet.made)}, {clock(sheet.made)}"
    return {**_printed(told), "paper": paper.value}


def _printed(told: Any) -> Any:
    """The same data with places to break in its longest words."""
    if isinstance(told, str):
        return breakable(told, 16)
    if isinstance(told, Mapping):
        return {key: _printed(value) for key, value in told.items()}
    return [_printed(one) for one in told] if isinstance(told, list | tuple) else told
