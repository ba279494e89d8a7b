"""Stock as it is typed and told: amounts with their units, money, days, and the shelf as a list."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from decimal import Decimal, InvalidOperation

from baitwright.ledger.movements import STEP, Amount, Counted, Movement
from baitwright.ledger.picking import LotOnShelf, due, first_to_go
from baitwright.quantities import Kind, kind_of, read, read_number, unit_name
from baitwright.terms.errors import InputError
from baitwright.workshop.stock import Shelf, in_words

AMOUNTS = "an amount such as 25 kg, 500 ml or 200"
_PER_SI = {Kind.MASS: (Counted.MILLIGRAMS, 1e6), Kind.VOLUME: (Counted.MICROLITRES, 1e9)}
SOON = timedelta(days=30)
"""Within which lots are told to be soon past their day."""
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


def read_day(text: str, today: date) -> date:
    """A best-before day, today or later.

    Raises
    ------
    InputError: no day, or one that is over.
    """
    accepted = f"a day such as {today.replace(year=today.year + 1, day=1)}, today or later"
    try:
        day = date.fromisoformat(text.strip())
    except ValueError:
        raise InputError("best-before", text, accepted) from None
    if day < today:
        raise InputError("best-before", text, accepted)
    return day


def shelf_lines(found: Iterable[Shelf], *, today: date) -> str:
    """The shelf as a list: items, what they are worth, lots by their day, and what is due."""
    shelves = tuple(found)
    if not shelves:
        return "The shelf is empty: baitwright shelf in semolina 25kg --price 32.50"
    lines, soon = [], []
    for one in shelves:
        held = in_words(one.account.amount, one.counted)
        lines.append(f"{one.item}: {held}, worth {one.account.value:.2f}")
        lots = [lot for lot in one.lots if lot.held]
        lines += [f"    {_lot(lot, one.counted)}" for lot in sorted(lots, key=first_to_go)]
        for lot in due(one.lots, day=today, within=SOON):
            word = "past its day" if lot.past(today) else "soon past its day"
            soon.append(f"  ! {one.item} {lot.lot}: {word}, {lot.best_before}")
    total = sum((one.account.value for one in shelves), Decimal(0))
    return "\n".join((*lines, f"all together worth {total:.2f}", *soon))


def moved(lines: Iterable[Movement], counted: Counted) -> str:
    """What lines of the book moved, all of one unit."""
    found = tuple(lines)
    return moved_of(found, dict.fromkeys((one.item for one in found), counted))


def moved_of(lines: Iterable[Movement], counted: Mapping[str, Counted]) -> str:
    """What lines of the book moved, each with its lot and value."""
    return "\n".join(
        f"{one.lot}: {'+' if one.amount > 0 else '-'}"
        f"{in_words(abs(one.amount), counted[one.item])} of {one.item}, {abs(one.value):.2f}"
        for one in lines
    )


def _lot(lot: LotOnShelf, counted: Counted) -> str:
    best = "" if lot.best_before is None else f", best before {lot.best_before}"
    spoken = f", {in_words(lot.reserved, counted)} of it spoken for" if lot.reserved else ""
    aside = ", in quarantine" if lot.quarantined else ""
    return f"{lot.lot}: {in_words(lot.held, counted)}{best}{spoken}{aside}"
