"""What the shelf knows that a table must agree with: items, their units, lots that came before."""

from __future__ import annotations

from dataclasses import dataclass, field

from baitwright.ledger.movements import Counted
from baitwright.notebook.page import Page
from baitwright.workshop.shelf.deliveries import Delivery
from baitwright.workshop.shelf.stock import ITEM
from baitwright.workshop.shelf.supplier_lots import SupplierLot, came_already, supplier_lot
from baitwright.workshop.typed.nearest import is_slip, plain_name


@dataclass(slots=True)
class KnownShelf:
    """Items by their plain spelling, units by item, where supplier lots came, currency seen."""

    items: dict[str, str] = field(default_factory=dict)
    counted: dict[str, Counted] = field(default_factory=dict)
    lots: dict[SupplierLot, str] = field(default_factory=dict)
    currency: str = ""

    def item_named(self, name: str) -> tuple[str, list[str]]:
        """An item as the shelf spells it, and what is worth knowing of that."""
        plain = plain_name(name)
        if plain in self.items:
            spelled = self.items[plain]
            return spelled, [f"{name!r} is {spelled!r} here"] if spelled != name else []
        near = next((self.items[one] for one in self.items if is_slip(plain, one)), "")
        return name, [f"new here, beside {near!r}"] if near else []

    def came_before(self, made: Delivery) -> str:
        """Where its supplier's lot of this item came before; nowhere if it is not named."""
        return self.lots.get(_key(made), "") if made.supplier_lot else ""

    def learn(self, made: Delivery, *, row: int) -> None:
        """Know the delivery of a row from now on."""
        self.items.setdefault(plain_name(made.item), made.item)
        self.lots[_key(made)] = f"in row {row}"


def known_shelf(page: Page) -> KnownShelf:
    """What the shelf knows today; an item of which nothing is left may be counted anew."""
    known = KnownShelf()
    for record in page.all(ITEM):
        if record.body is not None:
            known.items[plain_name(record.name)] = record.name
            if any(page.lots(record.name).values()):
                known.counted[record.name] = Counted(record.body["counted"])
    known.lots = {key: f"lot {lot} here" for key, lot in came_already(page).items()}
    return known


def _key(made: Delivery) -> SupplierLot:
    return supplier_lot(made.item, made.supplier, made.supplier_lot)
