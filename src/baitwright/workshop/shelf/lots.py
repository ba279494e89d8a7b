"""Lots as the notebook has them: what each is, where it came from, where it stands in a trace."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import asdict, dataclass
from datetime import date
from typing import Any

from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.page import Page
from baitwright.terms.errors import InputError

LOT = "lot"


@dataclass(frozen=True, slots=True)
class Lot:
    """A lot as the notebook has it; days in ISO 8601.

    ``stop`` is where it stands in a trace; ``why`` tells why it is quarantined. ``allergens`` are
    ids of groups and ``hazards`` codes of phrases, parted by semicolons, as its own label has them.
    ``priced`` is whether all of its price is known: of what it cost, or of all that it was made of.
    """

    item: str
    came: str
    best_before: str | None = None
    supplier: str = ""
    supplier_lot: str = ""
    quarantined: bool = False
    why: str = ""
    stop: str = Stop.INGREDIENT.value
    allergens: str = ""
    hazards: str = ""
    priced: bool = True

    def as_body(self) -> dict[str, Any]:
        """The lot as a record's body."""
        return asdict(self)


def earliest(page: Page, lots: Iterable[str]) -> date | None:
    """The first best-before day of some lots."""
    days = (lot_of(page, lot).best_before for lot in dict.fromkeys(lots))
    return min((date.fromisoformat(day) for day in days if day is not None), default=None)


def place_of(name: str, lot: Lot) -> Place:
    """Where a lot stands in a trace."""
    return Place(Stop(lot.stop), name)


def link_all(page: Page, lots: Iterable[str], into: Place) -> None:
    """Something of each lot went into a place."""
    sources = dict.fromkeys(lots)
    page.link(*(Link(place_of(one, lot_of(page, one)), into) for one in sources))


def refuse_gone_on(page: Page, place: Place) -> None:
    """Refuse to undo what is in something else by now, such as a night or a sale.

    Raises
    ------
    InputError: something of it went on.
    """
    onward = dict.fromkeys(f"{one.into.stop} {one.into.name}" for one in page.links_onward(place))
    if onward:
        hint = f"Something of it went into: {', '.join(onward)}."
        raise InputError("undo", f"{place.stop} {place.name}", "what is in nothing else", hint=hint)


def refuse_quarantined(name: str, lot: Lot) -> None:
    """Refuse to take from a lot in quarantine.

    Raises
    ------
    InputError: it is.
    """
    if lot.quarantined:
        raise InputError("lot", name, "one that is not in quarantine", hint=lot.why)


def lot_of(page: Page, name: str) -> Lot:
    """A lot by its name.

    Raises
    ------
    InputError: there is no such lot.
    """
    record = page.latest(LOT, name)
    if record is None or record.body is None:
        raise InputError("lot", name, "a lot of the shelf: `baitwright shelf` lists them")
    return Lot(**record.body)


def next_lot(page: Page, day: date) -> str:
    """A name for a lot: the day and a number, which mean nothing else."""
    return lot_names(page)(day)


def lot_names(page: Page) -> Callable[[date], str]:
    """Names for many lots of a page, as `next_lot` would give them one by one."""
    given: dict[date, int] = {}

    def next_name(day: date) -> str:
        given[day] = 1 + (given[day] if day in given else page.count(LOT, name=f"{day}/"))
        return f"{day}/{given[day]}"

    return next_name


def lots_named(page: Page, names: Iterable[str]) -> Iterator[tuple[str, Lot]]:
    """Lots by their names."""
    for one in page.named(LOT, names):
        if one.body is not None:
            yield one.name, Lot(**one.body)


def without_price(page: Page, names: Iterable[str]) -> frozenset[str]:
    """Those of some lots of which not all of the price is known."""
    return frozenset(name for name, lot in lots_named(page, names) if not lot.priced)


def last_lot(page: Page, item: str) -> str | None:
    """The lot of an item that came last, empty or not, of those that are not in quarantine."""
    lots = ((one.name, Lot(**(one.body or {}))) for one in page.all(LOT, about=item))
    there = [(lot.came, len(name), name) for name, lot in lots if not lot.quarantined]
    return max(there)[-1] if there else None
