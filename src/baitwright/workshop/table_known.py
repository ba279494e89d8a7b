"""What the shelf knows that a table must agree with: items, their units, lots that came before."""

from __future__ import annotations

from dataclasses import dataclass, field

from baitwright.ledger.movements import Counted
from baitwright.notebook.page import Page
from baitwright.workshop.deliveries import Delivery
from baitwright.workshop.lots import LOT
from baitwright.workshop.nearest import is_slip, plain_name
from baitwright.workshop.stock import ITEM


@dataclass(slots=True)
class KnownShelf:
    """Names of items by their plain spelling, units by item, supplier lots, and currencies seen."""

    items: dict[str, str] = field(default_factory=dict)
    counted: dict[str, Counted] = field(default_factory=dict)
    lots: set[tuple[str, str, str]] = field(default_factory=set)
    currency: str = ""

    def item_named(self, name: str) -> tuple[str, list[str]]:
        """An item as the shelf spells it, and what is worth knowing of that."""
        plain = plain_name(name)
        if plain in self.items:
            spelled = self.items[plain]
            return spelled, [f"{name!r} is {spelled!r} here"] if spelled != name else []
        near = next((self.items[one] for one in self.items if is_slip(plain, one)), "")
        return name, [f"new here, beside {near!r}"] if near else []

    def came_before(self, made: Delivery) -> bool:
        """Whether its supplier's lot of this item is known; one that is not named never is."""
        return bool(made.supplier_lot) and _key(made) in self.lots

    def learn(self, made: Delivery) -> None:
        """Know a delivery from now on."""
        self.items.setdefault(plain_name(made.item), made.item)
        self.lots.add(_key(made))


def known_shelf(page: Page) -> KnownShelf:
    """What the shelf knows today; an item of which nothing is left may be counted anew."""
    known = KnownShelf()
    for record in page.all(ITEM):
        if record.body is not None:
            known.items[plain_name(record.name)] = record.name
            if any(page.lots(record.name).values()):
                known.counted[record.name] = Counted(record.body["counted"])
    for record in page.all(LOT):
        if record.body is not None:
            told = (record.body[name] for name in ("item", "supplier", "supplier_lot"))
            known.lots.add(_plain(*told))
    return known


def _key(made: Delivery) -> tuple[str, str, str]:
    return _plain(made.item, made.supplier, made.supplier_lot)


def _plain(item: str, supplier: str, lot: str) -> tuple[str, str, str]:
    return item, plain_name(supplier), lot.strip().casefold()
