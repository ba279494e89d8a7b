"""Money and shares in words and for programs; a price that nobody told is unknown, not nothing."""

from __future__ import annotations

import json
from collections.abc import Mapping
from decimal import Decimal
from typing import Any


def worth(value: Decimal, lots: int = 0) -> str:
    """What is worth so much, of which some lots have no full price.

    Parameters
    ----------
    value: what is known of it.
    lots: of which not all of the price is known, and is left out.
    """
    if not lots:
        return f"{value:.2f}"
    told = f"{lots} lot{'s' if lots > 1 else ''} without a"
    return f"{value:.2f} at least: {told} full price" if value else f"unknown: {told} price"


def money(value: Decimal, *, whole: bool, digits: int = 2) -> str:
    """An amount of money that may be unknown, or not all of what it should be."""
    if whole:
        return f"{value:.{digits}f}"
    return f"{value:.{digits}f} at least" if value else "price unknown"


def in_short(value: Decimal, *, whole: bool) -> str:
    """The same for the narrow column of a page, where `NOT_KNOWN` stands below."""
    if whole:
        return f"{value:.2f}"
    return f"≥ {value:.2f}" if value else "?"


NOT_KNOWN = "? unknown, ≥ at least and ≤ at most, for want of prices that nobody told."


def known(value: Decimal, *, whole: bool) -> Decimal | None:
    """What programs are told: nothing where nothing is known."""
    return value if whole or value else None


def how_known(value: Decimal | None, *, whole: bool) -> str:
    """For a column of a table: whether a value is known, known in part, or unknown."""
    if whole:
        return "yes"
    return "in part" if value else "no"


def percent(share: Decimal | None) -> str:
    """A share as it is read; a dash where there is nothing to have a share of."""
    return "-" if share is None else f"{100 * share:.1f} %"


def in_percent(share: Decimal | None) -> Decimal | None:
    """A share for tables and programs, in per cent."""
    return None if share is None else round(100 * share, 2)


def as_json(data: Mapping[str, Any]) -> str:
    """Plain data for programs; decimals as text, so that no digit is lost."""
    return json.dumps(data, ensure_ascii=False, indent=2, allow_nan=False, default=str)
