"""Amounts and money of the shelf, as they are typed and with the unit they are read in."""

from __future__ import annotations

import re
from decimal import Decimal, InvalidOperation

from baitwright.ledger.movements import STEP, Amount, Counted
from baitwright.quantities import Kind, kind_of, read, read_number, show, unit_name
from baitwright.terms.errors import InputError

AMOUNTS = "an amount such as 25 kg, 500 ml or 200"
_PER_SI = {Kind.MASS: (Counted.MILLIGRAMS, 1e6), Kind.VOLUME: (Counted.MICROLITRES, 1e9)}
_READ_IN = {
    Counted.MILLIGRAMS: (1e-6, "kg", "g", 1.0),
    Counted.MICROLITRES: (1e-9, "l", "ml", 1e-3),
}
_MOST = 10**15
"""A thousand tonnes in milligrams: more is a slip of the unit."""


def read_amount(text: str, *, least: int = 1) -> Amount:
    """An amount as typed: a weight, a volume, or a bare whole number of pieces.

    Raises
    ------
    InputError: it is none of these, or less than the least.
    """
    typed = read_number(text, "amount", AMOUNTS)
    if not typed.unit:
        made = Amount(round(typed.number), Counted.PIECES)
        exact = made.units == typed.number
    else:
        kind = kind_of(unit_name(typed.unit))
        if kind not in _PER_SI:
            raise InputError("amount", text, AMOUNTS)
        counted, per_si = _PER_SI[kind]
        made, exact = Amount(round(read(text, kind, "amount") * per_si), counted), True
    if not exact or not least <= made.units <= _MOST:
        raise InputError("amount", text, AMOUNTS)
    return made


def read_money(text: str) -> Decimal:
    """What was paid, in the shop's money.

    Raises
    ------
    InputError: no amount of money.
    """
    accepted = "money such as 32.50, without its sign"
    if re.search(r",\d{3}$", text.strip()):
        raise InputError("price", text, accepted, hint="Is the comma for thousands? Leave it out.")
    try:
        value = Decimal(text.strip().replace(",", "."))
    except InvalidOperation:
        raise InputError("price", text, accepted) from None
    if not value.is_finite() or not 0 <= value < 10**9 or value != value.quantize(STEP):
        raise InputError("price", text, accepted)
    return value


def in_words(units: int, counted: Counted) -> str:
    """An amount with the unit it is read in."""
    if counted is Counted.PIECES:
        return str(units)
    scale, large, small, one = _READ_IN[counted]
    value = units * scale
    return show(value, large if abs(value) >= one else small, 4)
