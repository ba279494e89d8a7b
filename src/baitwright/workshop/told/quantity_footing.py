"""What a number of a plan stands on, for whoever is told it."""

from __future__ import annotations

from dataclasses import replace

from baitwright.advice.grades import Footing, footing_of
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import movers_of


def standing_on(quantity: Quantity) -> Footing:
    """What a number of a plan stands on; of what is alike weak, what moves it most."""
    found = footing_of(quantity, [one.label for one in movers_of(quantity)])
    return replace(found, rests_on=found.rests_on.removeprefix("your factor: "))
