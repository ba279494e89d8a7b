"""How a batch is to be bagged, as it is typed."""

from __future__ import annotations

from collections.abc import Mapping

from baitwright.terms.errors import InputError
from baitwright.workshop.costs.costs import BagPlan
from baitwright.workshop.typed.amounts import read_money


def bag_plan(typed: Mapping[str, str]) -> BagPlan | None:
    """Bags, baits in each, spilled, and bag and label of one; nothing where neither is told.

    Raises
    ------
    InputError: one of them is no such number.
    """
    if not typed.get("bags") and not typed.get("each"):
        return None
    bags, each, spilled = (_whole(typed.get(name) or "0", name) for name in _COUNTS)
    return BagPlan(bags, each, spilled, read_money(typed.get("packing") or "0"))


_COUNTS = ("bags", "each", "spilled")


def _whole(text: str, name: str) -> int:
    if not text.isdecimal() or len(text) > 7:
        raise InputError(name, text, "a whole number such as 8")
    return int(text)
