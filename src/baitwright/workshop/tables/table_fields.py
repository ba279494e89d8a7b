"""Cells that hold numbers: amounts with their units, money with its sign, and days."""

from __future__ import annotations

import re
from datetime import date, datetime
from decimal import Decimal
from enum import StrEnum

from baitwright.ledger.movements import Amount
from baitwright.quantities import read_number, unit_name
from baitwright.terms.errors import InputError
from baitwright.workshop.tables.table_file import Decimals
from baitwright.workshop.tables.table_headings import PIECES
from baitwright.workshop.typed.amounts import AMOUNTS, read_amount, read_money

_MONEY = "money such as 32.50"
_THOUSANDS = re.compile(r"\d[.,]\d{3}(?!\d)")
_SIGNS = {"£": "GBP", "€": "EUR"}
_SIGNED = re.compile(
    r"^(?P<before>[£€$¥]|[A-Z]{3}\b)?\s*(?P<money>.*?)\s*(?P<after>[£€$¥]|\b[A-Z]{3})?$"
)
_DAY = re.compile(r"^(\d{1,2})[./-](\d{1,2})[./-](\d{4})$")


class Days(StrEnum):
    """Which comes first in a day such as 03/04/2027."""

    DAY_FIRST = "day-first"
    MONTH_FIRST = "month-first"


def amount_in(cell: str, unit: str, *, decimals: Decimals) -> Amount:
    """An amount with the unit beside it, or that of its column.

    Raises
    ------
    InputError: no amount, no unit anywhere, or two that differ.
    """
    typed = read_number(_pointed(cell, AMOUNTS, decimals=decimals), "", AMOUNTS)
    own, column = _counted(typed.unit), _counted(unit)
    if not own and not column:
        hint = "There is no unit beside it, in the heading or in a column of units."
        raise InputError("", cell, "an amount such as 25 kg, 500 ml or 200 pieces", hint=hint)
    if own and column and own != column:
        raise InputError("", cell, f"an amount in {unit}, as its column says")
    told = own or column
    return read_amount(f"{typed.number!r}" if told in PIECES else f"{typed.number!r} {told}")


def money_in(cell: str, *, decimals: Decimals) -> tuple[Decimal, str]:
    """What was paid, and its currency where a sign says one.

    Raises
    ------
    InputError: no money, or two signs.
    """
    found = _SIGNED.match(cell)
    if found is None or (found["before"] and found["after"]):
        raise InputError("", cell, _MONEY)
    sign = found["before"] or found["after"] or ""
    pointed = _pointed(found["money"], _MONEY, decimals=decimals)
    try:
        return read_money(pointed), _SIGNS.get(sign, sign)
    except InputError as error:
        raise InputError("", cell, _MONEY, hint=error.hint) from None


def day_in(cell: str, order: Days | None) -> date:
    """A day, the year first; or in the order that the maker said.

    Raises
    ------
    InputError: no day, or one that can be read two ways.
    """
    accepted = "a day such as 2027-05-01"
    found = _DAY.match(cell)
    try:
        if found is None:
            return datetime.strptime(cell, "%Y-%m-%d").date()
        first, second, year = (int(part) for part in found.groups())
        if order is None:
            hint = f"Say --days {Days.DAY_FIRST} or --days {Days.MONTH_FIRST}."
            raise InputError("", cell, accepted, hint=hint)
        day, month = (first, second) if order is Days.DAY_FIRST else (second, first)
        return date(year, month, day)
    except ValueError:
        raise InputError("", cell, accepted) from None


def _counted(unit: str) -> str:
    plain = unit.strip().lower()
    return "pieces" if plain in PIECES else unit_name(unit)


def _pointed(text: str, accepted: str, *, decimals: Decimals) -> str:
    """A number with a point; what may be thousands or decimals is asked and not guessed."""
    marks = {mark for mark in ",." if mark in text}
    wrong = {Decimals.POINT: {","}, Decimals.COMMA: {"."}}.get(decimals, set())
    unclear = len(marks) > 1 or (decimals is Decimals.EITHER and _THOUSANDS.search(text))
    if marks & wrong or unclear:
        hint = "Leave out marks of thousands, or say --decimals point or --decimals comma."
        raise InputError("", text, accepted, hint=hint)
    return text.replace(",", ".")
