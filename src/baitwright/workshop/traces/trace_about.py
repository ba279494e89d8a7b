"""What the places of a trace are about: the item of a lot, the customer of a sale, the water."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from baitwright.ledger.trace import Place, Stop
from baitwright.notebook.page import Page
from baitwright.workshop.shelf.lots import LOT

_RECORDS = {Stop.SALE: ("order", "about"), Stop.NIGHT: ("night", "water")}
"""Kind of record, and the entry that says whom or where it was."""


def about(page: Page, places: Iterable[Place]) -> Mapping[Place, str]:
    """A word or two for each place, as far as the notebook has one."""
    every = frozenset(places)
    items = {
        one.name: str((one.body or {})["item"])
        for one in page.named(LOT, (place.name for place in every))
    }
    told = {place: items.get(place.name, "") for place in every if place.stop not in _RECORDS}
    for stop, (kind, entry) in _RECORDS.items():
        names = {
            place.name.removeprefix(f"{kind} "): place for place in every if place.stop is stop
        }
        for one in page.named(kind, names):
            told[names[one.name]] = str((one.body or {}).get(entry) or "")
    return told
