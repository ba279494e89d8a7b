"""The shelf as a table and as data: every lot with what it holds, every item with its value."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict
from decimal import Decimal
from pathlib import Path
from typing import Any

from baitwright.ledger.movements import NOTHING, Counted
from baitwright.ledger.picking import LotOnShelf, first_to_go
from baitwright.ledger.price import priced_by, shared_out
from baitwright.workshop.shelf.stock import Shelf
from baitwright.workshop.told.csv_file import Cell, write_csv
from baitwright.workshop.told.worth_words import as_json, how_known, known

_COLUMNS = ("item", "lot", "held", "unit", "best_before", "in_quarantine", "value", "value_known")
_UNIT = {Counted.PIECES: "pieces", Counted.MILLIGRAMS: "kg", Counted.MICROLITRES: "l"}


def shelf_table(path: Path, shelves: Iterable[Shelf]) -> Path:
    """Write every lot that holds something; the values of an item's lots make up its value.

    Raises
    ------
    InputError: the file cannot be written.
    """
    return write_csv(path, _COLUMNS, [row for one in shelves for row in _rows(one)])


def shelf_json(shelves: Iterable[Shelf]) -> str:
    """The shelf for programs, in milligrams, microlitres or pieces; money as text."""
    return as_json({"items": [_as_data(one) for one in shelves]})


def _as_data(shelf: Shelf) -> dict[str, Any]:
    told = {"item": shelf.item, "counted": shelf.counted, "amount": shelf.account.amount}
    lots = [asdict(one) for one in sorted(shelf.lots, key=first_to_go)]
    value = known(shelf.account.value, whole=not shelf.apart)
    return {**told, "value": value, "value_known": not shelf.apart, "lots": lots}


def worth_by_lot(shelf: Shelf) -> tuple[tuple[LotOnShelf, Decimal], ...]:
    """The lots that hold something, the first to go first, and the part of the value each bears.

    Where they hold nothing together, owed as much as there is, no lot can bear what is left of it.
    """
    lots = [lot for lot in sorted(shelf.lots, key=first_to_go) if lot.held]
    held = [lot.held for lot in lots if lot.priced]
    shares = iter(shared_out(shelf.priced.value if sum(held) else NOTHING, held))
    return tuple((lot, next(shares) if lot.priced else shelf.apart[lot.lot].value) for lot in lots)


def _rows(shelf: Shelf) -> list[tuple[Cell, ...]]:
    lots, value = worth_by_lot(shelf), shelf.priced.value
    unborne = value and not sum(lot.held for lot, _ in lots if lot.priced)
    rest = (shelf.item, "", 0, _UNIT[shelf.counted], None, "no", value, "yes")
    return [*([rest] if unborne else []), *(_row(shelf, lot, worth) for lot, worth in lots)]


def _row(shelf: Shelf, lot: LotOnShelf, value: Decimal) -> tuple[Cell, ...]:
    return (
        shelf.item,
        lot.lot,
        Decimal(lot.held) / priced_by(shelf.counted),
        _UNIT[shelf.counted],
        None if lot.best_before is None else lot.best_before.isoformat(),
        "yes" if lot.quarantined else "no",
        known(value, whole=lot.priced),
        how_known(value, whole=lot.priced),
    )
