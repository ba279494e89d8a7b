"""Drawing on the shelf for something that is made, and speaking for it before."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime
from functools import reduce

from baitwright.ledger.making import Taken, Why, use, yielded
from baitwright.ledger.movements import Amount, Book, Counted, Movement, Reason
from baitwright.ledger.picking import Picked, pick
from baitwright.notebook.page import Page
from baitwright.terms.errors import InputError
from baitwright.workshop.shelf.lots import LOT, Lot, last_lot, link_all, place_of, without_price
from baitwright.workshop.shelf.stock import Shelf, shelf_of, standing
from baitwright.workshop.shelf.too_little import not_picked, too_little


@dataclass(frozen=True, slots=True)
class Need:
    """So much of an item that is on the shelf."""

    item: str
    amount: Amount


def picked(page: Page, need: Need, *, day: date) -> Picked:
    """Which lots an amount is taken from: the earliest to expire first, none that is spoken for."""
    return pick(shelf_of(page, need.item).lots, need.amount.units, day=day)


def draw(
    page: Page, needs: Iterable[Need], *, time: datetime, why_short: str = ""
) -> tuple[Movement, ...]:
    """Lines that take all needs off the shelf; they are not yet posted.

    Parameters
    ----------
    page: the page that they are going to be posted on.
    needs: what is taken.
    time: now, with its zone.
    why_short: why more is taken than the book holds, from the last lot to go.

    Raises
    ------
    InputError: a lot holds too little and no reason is given.
    """
    why = Why(time, Reason.USED, why_short)
    taken = tuple(one for need in _by_item(needs) for one in _taken(page, need, why))
    return use(standing_of(page, taken), taken, why)


def standing_of(page: Page, taken: Iterable[Taken]) -> Book:
    """Where the book stands for every item that is taken from."""
    items = {one.item for one in taken}
    return reduce(Book.joined, (standing(page, item) for item in items), Book({}, {}))


def make(
    page: Page, name: str, lot: Lot, *, units: int, used: tuple[Movement, ...], time: datetime
) -> int:
    """Post what was used and the lot that was made of it, with its traces; the entry's number.

    Parameters
    ----------
    page: to write on.
    name: of the new lot.
    lot: what it is.
    units: how much of it there is.
    used: lines from `draw`.
    time: now, with its zone.
    """
    known = page.latest(LOT, name)  # it may have been made before, and unmade
    lot = replace(lot, priced=not without_price(page, (one.lot for one in used)))
    page.write(LOT, name, lot.as_body(), seen=known.version if known else 0, time=time)
    link_all(page, (one.lot for one in used), place_of(name, lot))
    made = yielded(used, Taken(lot.item, name, units), Why(time, Reason.MADE))
    return page.post((*used, made))


def reserve(page: Page, holder: str, needs: Iterable[Need], *, time: datetime) -> tuple[Need, ...]:
    """Speak for as much of every need as there is; what is short of each."""
    short = []
    for need in needs:
        found = picked(page, need, day=time.date())
        page.reserve(holder, need.item, dict(found.lots), time=time)
        if found.short:
            short.append(Need(need.item, Amount(found.short, need.amount.counted)))
    return tuple(short)


def let_go(page: Page, holder: str, *, time: datetime) -> None:
    """Let go of everything that is spoken for by a holder."""
    for item, lot, amount in page.reserved_for(holder):
        page.reserve(holder, item, {lot: -amount}, time=time)


def _by_item(needs: Iterable[Need]) -> Iterator[Need]:
    """One need for each item: lots are picked without regard to what is not yet posted."""
    sums: dict[tuple[str, Counted], int] = {}
    for need in needs:
        key = need.item, need.amount.counted
        sums[key] = sums.get(key, 0) + need.amount.units
    for (item, counted), units in sums.items():
        yield Need(item, Amount(units, counted))


def _taken(page: Page, need: Need, why: Why) -> tuple[Taken, ...]:
    shelf = shelf_of(page, need.item)
    found = pick(shelf.lots, need.amount.units, day=why.time.date())
    lots = dict(found.lots)
    if found.short:
        last = found.lots[-1][0] if found.lots else last_lot(page, need.item)
        if not why.override.strip() or last is None:
            raise _too_little(shelf, need, found)
        lots[last] = lots.get(last, 0) + found.short
    return tuple(Taken(need.item, lot, units) for lot, units in lots.items())


def _too_little(shelf: Shelf, need: Need, found: Picked) -> InputError:
    wanted, there = need.amount.units, need.amount.units - found.short
    said = "Count the shelf, or say --why more was used than the book holds."
    hint = f"{not_picked(shelf, found.past)}{said}"
    return too_little(shelf, wanted, there, hint=hint)
