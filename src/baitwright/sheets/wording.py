"""Numbers, moments and names as a maker reads them: few digits, the unit, the band beside it."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass
from datetime import datetime, timedelta
from typing import Any

from baitwright.materials.tools import Draw
from baitwright.quantities import from_si, tidy
from baitwright.terms.band import Band
from baitwright.terms.quantity import Origin, PerBait, PerBatch, Quantity
from baitwright.uncertainty.bands import band_of, band_of_mean

MARK = "*"
"""Stands behind every default that nobody has stated or measured."""

_WEEKDAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

# Decimals shown in a unit, for sizes from a limit up; what a kitchen can read off its tools.
_PLACES: dict[str, tuple[tuple[float, int], ...]] = {
    "g": ((10.0, 0), (0.0, 2)),
    "kg": ((10.0, 1), (0.0, 2)),
    "ml": ((10.0, 0), (0.0, 2)),
    "%": ((10.0, 0), (0.0, 1)),
    "mm": ((0.0, 1),),
    "h": ((0.0, 1),),
    "g/ml": ((0.0, 2),),
    "C": ((0.0, 0),),
    "s": ((0.0, 0),),
    "min": ((0.0, 0),),
}


@dataclass(frozen=True, slots=True)
class Figure:
    """One number as text, its unit, and its 80 % band as text or nothing where it is known."""

    number: str
    unit: str
    band: str = ""

    @property
    def text(self) -> str:
        """The number with its unit."""
        return f"{self.number} {self.unit}" if self.unit and self.number != "never" else self.number

    @property
    def with_band(self) -> str:
        """The number with its unit, and its band in brackets where it has one."""
        return f"{self.text} ({self.band})" if self.band else self.text


def figure(quantity: Quantity, *, mean: bool = False, signed: bool = False) -> Figure:
    """A quantity as a maker reads it.

    Parameters
    ----------
    quantity: a number, known or drawn.
    mean: whether the band is that of the tray's mean, and not that of single baits.
    signed: whether a plus sign is shown, as for a lift.
    """
    band = band_of_mean(quantity) if mean else band_of(quantity)
    return banded(band, quantity.shown, signed=signed)


def banded(band: Band, unit: str, *, signed: bool = False) -> Figure:
    """A band as a maker reads it in a unit."""
    median = in_unit(band.median, unit)
    places = _places(median, unit)
    number, low, high = (
        _number(in_unit(value, unit), unit, places=places, signed=signed)
        for value in (band.median, band.low80, band.high80)
    )
    if low == high == number:
        return Figure(_trimmed(number, unit), unit_word(unit))
    return Figure(number, unit_word(unit), f"{low} to {high}")


def _trimmed(number: str, unit: str) -> str:
    """A known whole number without decimals, in units where they would say nothing."""
    idle = unit in ("h", "mm", "%", "") and "." in number
    return number.rstrip("0").rstrip(".") if idle else number


def in_unit(value: float, unit: str) -> float:
    """An SI value in the unit it is shown in; table units that nobody types are known here too."""
    if unit in ("1", ""):
        return value
    return value * 60.0 if unit == "1/min" else from_si(value, unit)


def _places(size: float, unit: str) -> int | None:
    """Decimals for a number of this size, or None for three digits where no rule stands."""
    if unit in ("1", ""):
        return 0 if size == round(size) or size >= 10.0 else 1
    steps = _PLACES.get(unit, ())
    return next((places for limit, places in steps if abs(size) >= limit), None)


def _number(value: float, unit: str, *, places: int | None, signed: bool = False) -> str:
    if math.isinf(value) or places is None:
        return tidy(value)
    text = f"{value:+.{places}f}" if signed else f"{value:.{places}f}"
    if unit == "%":
        return _share(value, text)
    if float(text) == 0.0:
        text = text.lstrip("+-")
    return text


def _share(value: float, text: str) -> str:
    """A share in percent; one that is neither none nor all of it is not rounded to that."""
    whole = float(text)
    if whole == 100.0 and value < 100.0:
        return "over 99"
    if whole == 0.0 and value > 0.0:
        return "under 0.1"
    return text


def stated(quantity: Quantity) -> str:
    """A number in a list of what was taken: scatter about nothing as plus or minus."""
    if not is_number(quantity):
        return ""
    band, unit = band_of(quantity), quantity.shown
    name = f" {unit_word(unit)}".rstrip()
    if band.low80 < 0.0 < band.high80 and abs(band.median) < 0.1 * band.high80:
        return f"±{tidy(in_unit(band.high80, unit), 2)}{name}"
    low, middle, high = (
        tidy(in_unit(value, unit)) for value in (band.low80, band.median, band.high80)
    )
    return f"{middle}{name}" if low == high else f"{middle}{name} ({low} to {high})"


def unit_word(unit: str) -> str:
    """A unit as it is written behind a number."""
    return {"C": "°C", "1": "", "1/min": "a minute"}.get(unit, unit)


def is_number(quantity: Quantity) -> bool:
    """Whether the quantity is a number, known or drawn, and not a record or a word."""
    if isinstance(quantity.value, bool):
        return False
    return isinstance(quantity.value, int | float | PerBatch | PerBait)


def to_the_mark(fill: Draw) -> Figure:
    """A fill of a syringe, with as many decimals as its graduation has."""
    return Figure(f"{fill.volume * 1e6:.{_decimals(fill.tool.graduation * 1e6)}f}", "ml")


def _decimals(step: float) -> int:
    """Decimals needed to write multiples of a step."""
    text = f"{step:.6f}".rstrip("0")
    return len(text.partition(".")[2])


def clock(moment: datetime) -> str:
    """The time of day."""
    return f"{moment.hour:02d}:{moment.minute:02d}"


def day(moment: datetime) -> str:
    """The day, with its name."""
    weekday, month = _WEEKDAYS[moment.weekday()], _MONTHS[moment.month - 1]
    return f"{weekday} {moment.day} {month} {moment.year}"


def span(length: timedelta) -> str:
    """A length of time in hours and minutes."""
    minutes = round(length.total_seconds() / 60.0)
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest:02d} min" if hours else f"{rest} min"


def count_of(number: int, one: str, many: str = "") -> str:
    """A count with its noun."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def quantities_in(node: Any) -> Iterator[Quantity]:
    """Every quantity of a stage, in the order of its fields."""
    if isinstance(node, Quantity):
        yield node
    elif isinstance(node, tuple):
        for part in node:
            yield from quantities_in(part)
    elif is_dataclass(node) and not isinstance(node, type):
        for field in fields(node):
            yield from quantities_in(getattr(node, field.name))


def defaults_in(node: Any) -> dict[str, Quantity]:
    """Every default a stage stands on, by name, the first met first."""
    found: dict[str, Quantity] = {}
    for quantity in quantities_in(node):
        for part in quantity.walk():
            if part.origin is Origin.DEFAULT:
                found.setdefault(part.name + part.label, part)
    return found
