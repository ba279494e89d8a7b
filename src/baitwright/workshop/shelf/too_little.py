"""What is said where more of an item is wanted than can be taken."""

from __future__ import annotations

from collections.abc import Iterable

from baitwright.terms.errors import InputError
from baitwright.workshop.shelf.stock import Shelf
from baitwright.workshop.typed.amounts import in_words


def too_little(shelf: Shelf, wanted: int, there: int, *, hint: str) -> InputError:
    """What is said where more of an item is wanted than can be taken."""
    got, most = (in_words(units, shelf.counted) for units in (wanted, max(there, 0)))
    return InputError(f"stock of {shelf.item}", got, f"{most} at most", hint=hint)


def not_picked(shelf: Shelf, past: Iterable[str]) -> str:
    """Words for what of an item stands there and is not picked: past its day, aside, spoken for."""
    told = {
        "Past their day": ", ".join(past),
        "In quarantine": ", ".join(
            one.lot for one in shelf.lots if one.quarantined and one.held > 0
        ),
    }
    spoken = sum(min(one.reserved, one.held) for one in shelf.lots if not one.quarantined)
    told["Spoken for"] = in_words(spoken, shelf.counted) if spoken > 0 else ""
    return "".join(f"{why}: {what}. " for why, what in told.items() if what)


def left_of(shelf: Shelf, lot: str) -> tuple[int, str]:
    """What of a lot nobody has spoken for, and words for what somebody has."""
    one = next((one for one in shelf.lots if one.lot == lot), None)
    if one is None:
        return 0, ""
    spoken = f"{in_words(one.reserved, shelf.counted)} of it are spoken for. "
    return max(one.held - one.reserved, 0), spoken if one.reserved else ""
