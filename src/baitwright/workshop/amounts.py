"""Amounts of the shelf with the unit they are read in."""

from __future__ import annotations

from baitwright.ledger.movements import Counted
from baitwright.quantities import show

_READ_IN = {
    Counted.MILLIGRAMS: (1e-6, "kg", "g", 1.0),
    Counted.MICROLITRES: (1e-9, "l", "ml", 1e-3),
}


def in_words(units: int, counted: Counted) -> str:
    """An amount with the unit it is read in."""
    if counted is Counted.PIECES:
        return str(units)
    scale, large, small, one = _READ_IN[counted]
    value = units * scale
    return show(value, large if abs(value) >= one else small, 4)
