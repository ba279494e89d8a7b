"""Numbers of a mix as the cells of a table."""

from __future__ import annotations

from dataclasses import replace

from baitwright.sheets.wording import figure
from baitwright.terms.quantity import Quantity
from baitwright.workshop.told.number_shown import Number


def cell(one: Number | None) -> str:
    """A number with its unit and its 80 % band, for a table."""
    if one is None:
        return ""
    band = f"({one.bands.of_8})" if one.bands else ""
    return " ".join(filter(None, (one.number, one.unit, band)))


def bare(one: Number | None) -> str:
    """The same without its unit, for a column that has it in its heading."""
    return "" if one is None else cell(replace(one, unit=""))


def unit_in(cells: tuple[Number | None, ...]) -> str:
    """The unit of a row of numbers."""
    return next(one.unit for one in cells if one is not None)


def with_band(quantity: Quantity) -> str:
    """The same of a quantity."""
    return figure(quantity).with_band
