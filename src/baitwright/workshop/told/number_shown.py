"""One number as a page shows it: what it is, how it reads, its bands, and what opens its why."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.sheets.wording import Figure, figure
from baitwright.terms.quantity import Origin, Quantity


@dataclass(frozen=True, slots=True)
class Bands:
    """A number's bands, each as text; nothing where it is known."""

    of_5: str
    of_8: str
    of_19: str


@dataclass(frozen=True, slots=True)
class Number:
    """One number: what it is, how it reads, its bands, and the key that opens its why."""

    label: str
    number: str
    unit: str
    key: str
    how: str = ""
    bands: Bands | None = None
    is_default: bool = False


def number_of(
    quantity: Quantity, label: str = "", how: str = "", *, shown: Figure | None = None
) -> Number:
    """A number of a plan, under its own label or another, as it reads or is told to."""
    told = figure(quantity) if shown is None else shown
    return Number(
        label=label or quantity.label,
        number=told.number,
        unit="" if told.number == "never" else told.unit,
        key=key_of(quantity),
        how=how,
        bands=bands_of(quantity),
        is_default=quantity.origin is Origin.DEFAULT,
    )


def key_of(quantity: Quantity) -> str:
    """By which a page asks for a number."""
    return f"{quantity.name}/{quantity.label}"


def bands_of(quantity: Quantity) -> Bands | None:
    """The bands that hold 5 of 10, 8 of 10 and 19 of 20; nothing where the number is known."""
    of_5, of_8, of_19 = (figure(quantity, holding=share).band for share in (50, 80, 95))
    return Bands(of_5, of_8, of_19) if of_8 else None
