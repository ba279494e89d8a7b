"""What people type and read: numbers with units, commas and fractions, in and out of SI.

The only place where units are converted. UK and US measures of one name are told apart or asked
about, never guessed. Factors are exact by definition (international yard and pound agreement 1959;
UK Weights and Measures Act 1985; US customary gallon of 231 cubic inches).
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from enum import StrEnum

from baitwright.terms.errors import InputError


class Kind(StrEnum):
    """The kinds of thing a maker measures."""

    LENGTH = "length"
    MASS = "mass"
    VOLUME = "volume"
    DURATION = "duration"
    TEMPERATURE = "temperature"
    SHARE = "share"
    PRESSURE = "pressure"
    POWER = "power"
    SPEED = "speed"
    COUNT = "count"


EXAMPLES = {
    Kind.LENGTH: "a length such as 15 mm",
    Kind.MASS: "a weight such as 550 g",
    Kind.VOLUME: "a volume such as 3 l or 40 ml",
    Kind.DURATION: "a time such as 75 s or 10 h",
    Kind.TEMPERATURE: "a temperature such as 20 C",
    Kind.SHARE: "a share such as 10 %",
    Kind.PRESSURE: "a pressure such as 1013 hPa",
    Kind.POWER: "a power such as 1.5 kW",
    Kind.SPEED: "a speed such as 0.2 m/s",
    Kind.COUNT: "a whole number such as 50",
}

_POUND = 0.45359237
_UK_PINT = 0.56826125e-3
_US_GALLON = 3.785411784e-3

# unit -> (kind, how many SI units one of it is)
_SCALES: dict[str, tuple[Kind, float]] = {
    "m": (Kind.LENGTH, 1.0),
    "cm": (Kind.LENGTH, 1e-2),
    "mm": (Kind.LENGTH, 1e-3),
    "in": (Kind.LENGTH, 0.0254),
    "ft": (Kind.LENGTH, 0.3048),
    "kg": (Kind.MASS, 1.0),
    "g": (Kind.MASS, 1e-3),
    "mg": (Kind.MASS, 1e-6),
    "lb": (Kind.MASS, _POUND),
    "oz": (Kind.MASS, _POUND / 16),
    "m3": (Kind.VOLUME, 1.0),
    "l": (Kind.VOLUME, 1e-3),
    "ml": (Kind.VOLUME, 1e-6),
    "UK fl oz": (Kind.VOLUME, _UK_PINT / 20),
    "US fl oz": (Kind.VOLUME, _US_GALLON / 128),
    "UK pint": (Kind.VOLUME, _UK_PINT),
    "US pint": (Kind.VOLUME, _US_GALLON / 8),
    "tsp": (Kind.VOLUME, 5e-6),
    "tbsp": (Kind.VOLUME, 15e-6),
    "s": (Kind.DURATION, 1.0),
    "min": (Kind.DURATION, 60.0),
    "h": (Kind.DURATION, 3600.0),
    "d": (Kind.DURATION, 86400.0),
    "%": (Kind.SHARE, 1e-2),
    "": (Kind.COUNT, 1.0),
    "Pa": (Kind.PRESSURE, 1.0),
    "hPa": (Kind.PRESSURE, 100.0),
    "mbar": (Kind.PRESSURE, 100.0),
    "kPa": (Kind.PRESSURE, 1e3),
    "W": (Kind.POWER, 1.0),
    "kW": (Kind.POWER, 1e3),
    "m/s": (Kind.SPEED, 1.0),
}
_SHOWN_ONLY = {
    "kg/m3": 1.0,
    "g/ml": 1e3,
    "µm2/s": 1e-12,
    "W/m2/K": 1.0,
    "W/m/K": 1.0,
    "J/kg/K": 1.0,
    "kJ": 1e3,
    "kJ/mol": 1e3,
    "kJ/100g": 1e4,
    "kcal/100g": 4.184e4,
    "per kg": 1.0,
    "an egg": 1.0,
    "g/g": 1.0,
    "ml/kg": 1e-6,
    "g/kg": 1e-3,
    "MPa": 1e6,
    "mPa s": 1e-3,
}

_SPELLINGS = {
    "metre": "m",
    "metres": "m",
    "inch": "in",
    "inches": "in",
    "feet": "ft",
    "gram": "g",
    "grams": "g",
    "lbs": "lb",
    "pound": "lb",
    "pounds": "lb",
    "oz weight": "oz",
    "litre": "l",
    "litres": "l",
    "L": "l",
    "mL": "ml",
    "uk fl oz": "UK fl oz",
    "us fl oz": "US fl oz",
    "uk pint": "UK pint",
    "us pint": "US pint",
    "teaspoon": "tsp",
    "teaspoons": "tsp",
    "tablespoon": "tbsp",
    "tablespoons": "tbsp",
    "sec": "s",
    "seconds": "s",
    "minutes": "min",
    "hour": "h",
    "hours": "h",
    "day": "d",
    "days": "d",
    "percent": "%",
    "°C": "C",
    "°F": "F",
    "K": "K",
}

_ASK_WHICH = {
    "fl oz": "UK fl oz (28.4 ml) or US fl oz (29.6 ml)",
    "pint": "UK pint (568 ml) or US pint (473 ml)",
    "cup": "ml, since a cup differs by country",
    "drop": "ml, or drops of a bottle you have calibrated",
    "drops": "ml, or drops of a bottle you have calibrated",
}

LONGEST = 200
"""Characters of a number with its unit: nobody writes more, and to look at them takes long."""
_NUMBER = re.compile(
    r"^\s*(?P<sign>[-+]?)\s*(?:(?P<whole>\d+)\s+(?P<top>\d+)\s*/\s*(?P<under>\d+)"
    r"|(?P<lone>\d+)\s*/\s*(?P<below>\d+)"
    r"|(?P<plain>(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:[eE][-+]?\d+)?))\s*(?P<unit>.*?)\s*$"
)


@dataclass(frozen=True, slots=True)
class Typed:
    """A number and the unit written after it, not yet converted."""

    number: float
    unit: str


def read_number(text: str, field: str, accepted: str) -> Typed:
    """Split ``"2 1/2 oz"``, ``"0,3 ml"`` or ``"1/2 tsp"`` into number and unit.

    Raises
    ------
    InputError: there is no number in front, it is not finite, or the text is too long to be one.
    """
    plain = text.strip()
    match = _NUMBER.match(plain) if len(plain) <= LONGEST else None
    if match is None:
        raise InputError(field, text, accepted)
    if match["whole"] or match["lone"]:
        under = int(match["under"] or match["below"])
        if under == 0:
            raise InputError(field, text, accepted)
        number = int(match["whole"] or 0) + int(match["top"] or match["lone"]) / under
    else:
        number = float(match["plain"].replace(",", "."))
    if not math.isfinite(number):
        raise InputError(field, text, accepted)
    return Typed(-number if match["sign"] == "-" else number, match["unit"])


def unit_name(unit: str) -> str:
    """The house's spelling of a unit, or the text as it came when it is not known."""
    plain = " ".join(unit.split())
    return _SPELLINGS.get(plain, _SPELLINGS.get(plain.lower(), plain))


def kind_of(unit: str) -> Kind | None:
    """What a unit measures, or None when the unit is not known."""
    name = unit_name(unit)
    if name in ("C", "F", "K"):
        return Kind.TEMPERATURE
    found = _SCALES.get(name)
    return found[0] if found else None


def read(text: object, kind: Kind, field: str) -> float:
    """Read what was typed as a value of one kind, in SI.

    Parameters
    ----------
    text: what was typed; a bare number is accepted for counts only.
    kind: what is expected.
    field: the field's name, for the error.

    Raises
    ------
    InputError: not a number, no unit, an ambiguous unit, or a unit of another kind.
    """
    accepted = EXAMPLES[kind]
    if isinstance(text, bool) or not isinstance(text, str | int | float):
        raise InputError(field, text, accepted)
    if not isinstance(text, str):
        if kind is not Kind.COUNT:
            raise InputError(field, text, accepted, hint="Write the unit with the number.")
        if not math.isfinite(text):
            raise InputError(field, text, accepted)
        return float(text)
    typed = read_number(text, field, accepted)
    unit = unit_name(typed.unit)
    if unit.lower() in _ASK_WHICH:
        raise InputError(
            field, text, accepted, hint=f"Which one? Write {_ASK_WHICH[unit.lower()]}."
        )
    if unit == "oz" and kind is Kind.VOLUME:
        hint = f"Which ounce? Write {_ASK_WHICH['fl oz']}."
        raise InputError(field, text, accepted, hint=hint)
    found = kind_of(unit)
    if found is None or found is not kind:
        what = "no unit" if not unit else f"the unit {unit!r}"
        raise InputError(field, text, accepted, hint=f"It has {what}.")
    return to_si(typed.number, unit)


def to_si(number: float, unit: str) -> float:
    """A number in a known unit, in SI: metres, kilograms, kelvin, seconds, fractions."""
    name = unit_name(unit)
    if name == "C":
        return number + 273.15
    if name == "F":
        return (number - 32.0) / 1.8 + 273.15
    if name == "K":
        return number
    scale = _SHOWN_ONLY.get(name)
    return number * (_SCALES[name][1] if scale is None else scale)


def from_si(value: float, unit: str) -> float:
    """An SI value in the unit it is shown in."""
    if unit == "C":
        return value - 273.15
    if unit == "F":
        return (value - 273.15) * 1.8 + 32.0
    if unit == "K":
        return value
    scale = _SHOWN_ONLY.get(unit)
    return value / (_SCALES[unit][1] if scale is None else scale)


_SI_NAMES = {
    Kind.LENGTH: "m",
    Kind.MASS: "kg",
    Kind.VOLUME: "m3",
    Kind.DURATION: "s",
    Kind.TEMPERATURE: "K",
    Kind.PRESSURE: "Pa",
    Kind.POWER: "W",
    Kind.SPEED: "m/s",
}


_SI_OF_SHOWN = {
    "g/ml": "kg/m3",
    "µm2/s": "m2/s",
    "kJ": "J",
    "kJ/mol": "J/mol",
    "kJ/100g": "J/kg",
    "kcal/100g": "J/kg",
    "ml/kg": "m3/kg",
    "MPa": "Pa",
    "mPa s": "Pa s",
}


def si_unit(unit: str) -> str:
    """The SI unit that a shown unit is a multiple of; nothing for shares and counts."""
    if unit in _SI_OF_SHOWN:
        return _SI_OF_SHOWN[unit]
    kind = kind_of(unit)
    return unit if kind is None else _SI_NAMES.get(kind, "")


def tidy(number: float, digits: int = 3) -> str:
    """A number as a maker writes it: so many significant digits, no exponent, no idle zeros."""
    if math.isinf(number):
        return "never" if number > 0 else "-never"
    if number == 0:
        return "0"
    places = max(0, digits - 1 - math.floor(math.log10(abs(number))))
    rounded = round(number, places)
    text = f"{rounded:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def show(value: float, unit: str, digits: int = 3) -> str:
    """An SI value as text in the unit it is shown in, such as ``"15.2 mm"``."""
    text = tidy(from_si(value, unit), digits)
    if unit == "C":
        return f"{text} °C"
    return f"{text} {unit}" if unit else text


def percent(share: float) -> str:
    """A share in whole percent, such as ``"46 %"``."""
    return f"{100.0 * share:.0f} %"
