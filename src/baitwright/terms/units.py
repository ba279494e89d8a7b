"""Units in pairs: the SI unit a number is kept in and the unit a maker reads it in."""

from __future__ import annotations

from typing import NamedTuple


class Unit(NamedTuple):
    """SI unit and shown unit; both empty for counts and plain ratios."""

    si: str
    shown: str


PLAIN = Unit("", "")
PERCENT = Unit("", "%")
GRAMS = Unit("kg", "g")
KILOGRAMS = Unit("kg", "kg")
MILLILITRES = Unit("m3", "ml")
MILLIMETRES = Unit("m", "mm")
GRAMS_PER_MILLILITRE = Unit("kg/m3", "g/ml")
SECONDS = Unit("s", "s")
MINUTES = Unit("s", "min")
HOURS = Unit("s", "h")
CELSIUS = Unit("K", "C")
DIFFUSIVITY = Unit("m2/s", "µm2/s")
KILOJOULES_PER_100_GRAMS = Unit("J/kg", "kJ/100g")
GRAMS_PER_GRAM = Unit("", "g/g")
MILLILITRES_PER_KILOGRAM = Unit("m3/kg", "ml/kg")
GRAMS_PER_KILOGRAM = Unit("", "g/kg")
LITRES = Unit("m3", "l")
MONEY_PER_KILOGRAM = Unit("", "per kg")
MONEY_PER_EGG = Unit("", "an egg")
"""Money is the maker's own; the program knows no currency."""
