"""What is told of a tub or a blend, as the shelf understands it: item, lot, weight and parts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from baitwright.ledger.movements import Amount, Reason
from baitwright.ledger.trace import Stop
from baitwright.notebook.page import Page, Revision
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_needs import mass, volume
from baitwright.workshop.batches.cost_lines import that_stand
from baitwright.workshop.shelf.lots import LOT

TUB, BLEND = "tub", "blend"
MADE_LOTS = (TUB, BLEND)
LEFT, ENTRY = "left", "entry"


@dataclass(frozen=True, slots=True)
class Named:
    """A lot that is named as a part, its share by weight or volume, and the field that names it.

    ``item`` is what it has to be a lot of, where that is told.
    """

    lot: str
    share: float
    field: str
    item: str = ""


@dataclass(frozen=True, slots=True)
class Telling:
    """What is told of a tub or a blend: its record's kind and name, what it says, when and why."""

    kind: str
    name: str
    body: Mapping[str, Any]
    now: datetime
    why: str = ""

    @property
    def item(self) -> str:
        """What it is on the shelf: the base mix of a tub, a blend by its own name."""
        return str(self.body["base"]) if self.kind == TUB else self.name

    @property
    def lot(self) -> str:
        """Which lot: a tub by its name, a bottle by its own lot or the blend's name."""
        return self.name if self.kind == TUB else str(self.body.get("lot") or self.name)

    @property
    def stop(self) -> Stop:
        """Where it stands in a trace."""
        return Stop.MIX if self.kind == TUB else Stop.INGREDIENT

    @property
    def left(self) -> Amount | None:
        """What was weighed or measured of it, as the shelf counts it."""
        left = self.body.get(LEFT)
        if left is None:
            return None
        return mass(left) if self.kind == TUB else volume(left)


def is_there(page: Page, lot: str) -> bool:
    """Whether a lot was ever made or came, and that was not undone."""
    record = page.latest(LOT, lot)
    if record is None or record.body is None:
        return False
    lines = that_stand(page, record.body["item"])
    return any(one.lot == lot and one.reason is not Reason.UNDONE for one in lines)


def lot_named(last: Revision) -> str:
    """The lot that a record of a tub or a blend is."""
    return str((last.body or {}).get("lot") or last.name) if last.kind == BLEND else last.name


def parts_named(page: Page, told: Telling) -> Iterator[Named]:
    """Each lot that something is made of, as far as lots are named.

    Raises
    ------
    InputError: a lot of hardener, and not how much of it.
    """
    body = told.body
    if told.kind == BLEND:
        rows = body.get("part", ())
        whole = sum(row["parts"] for row in rows)
        for at, row in enumerate(rows, start=1):
            if row.get("lot"):
                yield Named(row["lot"], row["parts"] / whole, f"part[{at}].lot", row["liquid"])
        return
    share = body.get("hardener", 0.0)
    if body.get("hardener_basis") != "of the finished mix":
        share /= 1.0 + share
    base = body.get("base_lot", "")
    if base != told.lot and is_there(page, base):
        yield Named(base, 1.0 - share, "base_lot")
    if body.get("hardener_lot"):
        if not share:
            raise InputError("hardener", None, "how much of it, such as hardener=10%")
        yield Named(body["hardener_lot"], share, "hardener_lot")
