"""Money in words, where a price that nobody told is unknown and not nothing."""

from __future__ import annotations

from decimal import Decimal


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
