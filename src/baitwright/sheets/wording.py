"""Numbers, moments and names as a maker reads them: few digits, the unit, the band beside it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from baitwright.batch.batch_plan import quantities_in
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
    "g": ((10.0, 0), (0.1, 2)),
    "kg": ((10.0, 1), (0.0, 2)),
    "ml": ((10.0, 0), (0.1, 2)),
    "%": ((10.0, 0), (0.0, 1)),
    "mm": ((0.0, 1),),
    "h": ((0.0, 1),),
    "g/ml": ((0.0, 2),),
    "C": ((0.0, 0),),
    "s": ((0.0, 0),),
    "min": ((0.0, 0),),
    "kJ/100g": ((0.0, 0),),
    "per kg": ((0.0, 2),),
    "an egg": ((0.0, 3),),
    "": ((10.0, 0), (2.0, 1), (0.1, 2)),
}
_OF_THE_TRAY = ("pinch",)
"""Told by the tray's mean: what the hands aim at, and not how single baits come out."""
_SIGNED = (
    *("lift", "rig_lift", "lift_on_core", "lift_in_all", "lift_without", "lift_change"),
    *("hole_lift", "lift_there", "flooded_lift"),
)
"""Told with a plus, since they may as well be less than nothing."""
_LIFT_PLACES = 2
"""Decimals of a lift in grams, near nothing too."""
_HEADS = ("word_share", "wish_share", "set_share", "chance_of_floor", "chance_of_ceiling")
"""Shares of baits counted off: told in whole percent, as nobody counts a tenth of one."""
_TENTHS = (
    *("mix_holds", "paste_holds", "finished_holds", "water_of_finished", "of_dry_matter"),
    *("class_share", "share_in_bowl", "hardener_in_bowl"),
)
"""Shares of a mix, told to a tenth of a percent on every basis: bags declare them so."""


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


def figure(quantity: Quantity, *, holding: int = 80) -> Figure:
    """A quantity as a maker reads it: on every sheet in the same digits, with the same band.

    ``holding`` is the band's share in percent: 50, 80 or 95.
    """
    unit = quantity.shown
    band = band_of_mean(quantity) if quantity.name in _OF_THE_TRAY else band_of(quantity)
    if quantity.name in _HEADS:
        return Figure(_share(in_unit(band.median, unit), places=0), unit)
    if quantity.origin is not Origin.COMPUTED and band.low80 == band.high80:
        digits = _AS_TYPED if quantity.origin is Origin.GIVEN else 3
        return Figure(tidy(in_unit(band.median, unit), digits), unit_word(unit))
    if quantity.name in _TENTHS and unit == "%":
        return banded(band, unit, holding=holding, places=1)
    return banded(band, unit, signed=quantity.name in _SIGNED, holding=holding)


_AS_TYPED = 4
"""Digits of a number that the maker gave."""


def banded(
    band: Band,
    unit: str,
    *,
    signed: bool = False,
    holding: int = 80,
    places: int | None = None,
) -> Figure:
    """A band as a maker reads it in a unit: the one that holds 50, 80 or 95 %.

    ``places`` are the decimals, by size and unit where None.
    """
    ends = (getattr(band, f"low{holding}"), getattr(band, f"high{holding}"))
    median = in_unit(band.median, unit)
    if places is None:
        places = _LIFT_PLACES if signed else _places(median, unit)
    number, low, high = (
        _number(in_unit(value, unit), unit, places=places, signed=signed)
        for value in (band.median, *ends)
    )
    if low == high == number:
        return Figure(_trimmed(number, unit), unit_word(unit))
    return Figure(number, unit_word(unit), f"{low} to {high}")


def _trimmed(number: str, unit: str) -> str:
    """A known whole number without decimals, in units where they would say nothing."""
    idle = unit in ("h", "mm", "%", "", "1") and "." in number
    return number.rstrip("0").rstrip(".") if idle else number


def in_unit(value: float, unit: str) -> float:
    """An SI value in the unit it is shown in; table units that nobody types are known here too."""
    if unit in ("1", ""):
        return value
    return value * 60.0 if unit == "1/min" else from_si(value, unit)


def _places(size: float, unit: str) -> int | None:
    """Decimals for a number of this size, or None for two digits where no rule stands."""
    steps = _PLACES.get("" if unit == "1" else unit, ())
    return next((places for limit, places in steps if abs(size) >= limit), None)


def _number(value: float, unit: str, *, places: int | None, signed: bool = False) -> str:
    if math.isinf(value) or places is None:
        return tidy(value, 2)
    if unit == "%":
        return _share(value, places=places)
    text = f"{value:+.{places}f}" if signed else f"{value:.{places}f}"
    return text.lstrip("+-") if float(text) == 0.0 else text


def _share(value: float, *, places: int) -> str:
    """A share in percent; one that is neither none nor all of it is not rounded to that."""
    text = f"{value:.{places}f}"
    if float(text) == 100.0 and value < 100.0:
        return "over 99"
    if float(text) == 0.0 and value > 0.0:
        return f"under {10.0**-places:g}"
    return "0" if float(text) == 0.0 else text


def stated(quantity: Quantity) -> str:
    """A number in a list of what was taken: scatter about nothing as plus or minus."""
    if not is_number(quantity):
        return ""
    band, unit = band_of(quantity), quantity.shown
    if band.low80 < 0.0 < band.high80 and abs(band.median) < 0.1 * band.high80:
        return f"±{tidy(in_unit(band.high80, unit), 2)} {unit_word(unit)}".rstrip()
    return figure(quantity).with_band


def unit_word(unit: str) -> str:
    """A unit as it is written behind a number."""
    return {"C": "°C", "1": "", "1/min": "a minute", "kJ/100g": "kJ/100 g"}.get(unit, unit)


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


def to_the_minute(moment: datetime) -> datetime:
    """The nearest whole minute: no kitchen clock shows more."""
    return (moment + timedelta(seconds=30)).replace(second=0, microsecond=0)


def clock(moment: datetime) -> str:
    """The time of day."""
    moment = to_the_minute(moment)
    return f"{moment.hour:02d}:{moment.minute:02d}"


def weekday(moment: datetime) -> str:
    """The day of the week, in short."""
    return _WEEKDAYS[to_the_minute(moment).weekday()]


def day(moment: datetime) -> str:
    """The day, with its name."""
    moment = to_the_minute(moment)
    return f"{weekday(moment)} {calendar_day(moment)}"


def calendar_day(one: date) -> str:
    """The day, with the month in letters so that nobody reads it the other way round."""
    return f"{one.day} {_MONTHS[one.month - 1]} {one.year}"


def span(length: timedelta) -> str:
    """A length of time in hours and minutes."""
    minutes = round(length.total_seconds() / 60.0)
    hours, rest = divmod(minutes, 60)
    return f"{hours} h {rest:02d} min" if hours else f"{rest} min"


def count_of(number: int, one: str, many: str = "") -> str:
    """A count with its noun."""
    return f"{number} {one if number == 1 else many or one + 's'}"


def defaults_in(node: Any) -> dict[str, Quantity]:
    """Every default a stage stands on, by name, the first met first."""
    found: dict[str, Quantity] = {}
    seen: set[int] = set()
    for quantity in quantities_in(node):
        for part in quantity.walk(seen):
            if part.origin is Origin.DEFAULT:
                found.setdefault(part.name + part.label, part)
    return found
