"""Entries of records that must be whole numbers, numbers or text."""

from __future__ import annotations

import math
from decimal import Decimal


def whole(*told: object) -> None:
    """Fail where one is no whole number."""
    for one in told:
        if type(one) is not int:
            raise TypeError(f"{one!r} is no whole number")


def numbers(*told: Decimal | float) -> None:
    """Fail where one is no number."""
    for one in told:
        if not math.isfinite(one):
            raise ValueError(f"{one} is no number")


def text(*told: object) -> None:
    """Fail where one is no text."""
    for one in told:
        if not isinstance(one, str):
            raise TypeError(f"{one!r} is no text")
