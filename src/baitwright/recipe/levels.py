"""How much of a liquid or powder: a level, and the same level on any other basis.

"Per egg" never stands alone: a level per egg names the egg it was meant for in ml, and the dose
follows the ml of egg in the bowl. A level per egg and one per kilogram meet only through the grams
of dry mix the egg takes up.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from baitwright.quantities import Kind, kind_of, read, read_number, show, tidy, to_si, unit_name
from baitwright.terms.errors import InputError

if TYPE_CHECKING:
    from collections.abc import Mapping


class Measure(StrEnum):
    """What a level is measured out in."""

    VOLUME = "volume"
    MASS = "mass"
    DROPS = "drops"


class Reference(StrEnum):
    """What a level is counted against."""

    EGG_VOLUME = "ml of egg"
    EGG_MASS = "weight of egg"
    DRY_MIX = "dry mix"
    PASTE = "paste"


@dataclass(frozen=True, slots=True)
class Level:
    """So much of something for so much of a reference.

    ``amount`` is in m3, kg or drops by ``measure``; ``per`` is the amount of the reference it is
    meant for, in m3 or kg. ``text`` is the level as the maker wrote it.
    """

    amount: float
    measure: Measure
    reference: Reference
    per: float
    text: str

    def scaled(self, share: float) -> Level:
        """The same level times a share, as for a free bait at half the hookbait's level."""
        return Level(self.amount * share, self.measure, self.reference, self.per, self.text)


def times(level: Level, factor: float) -> Level:
    """A level made more or less, in two digits and in the maker's own words for unit and basis.

    Raises
    ------
    InputError: nothing is left of it.
    """
    typed = read_number(level.text, "level", ACCEPTED)
    return read_level(f"{tidy(factor * typed.number, 2)} {typed.unit.lstrip()}", "level")


ACCEPTED = (
    "a level that names its basis, such as '0.8 ml per egg of 50 ml', '6 ml per 500 g egg', "
    "'12 ml per kg dry mix', '5 ml per lb dry mix', '9 ml per kg paste' or '0.8 % of paste'"
)

_PER_EGG = re.compile(r"^(?:each\s+)?eggs?(?:\s+of\s+(?P<egg>.+))?$")
_PER_AMOUNT = re.compile(r"^(?P<amount>[\d.,/ ]*\s*[a-zA-Z]+)\s+(?:of\s+)?(?P<what>.+)$")
_REFERENCES = {
    "egg": Reference.EGG_MASS,
    "dry mix": Reference.DRY_MIX,
    "dry": Reference.DRY_MIX,
    "mix": Reference.DRY_MIX,
    "paste": Reference.PASTE,
}


def read_level(text: object, field: str) -> Level:
    """Read a level as a maker writes it.

    Raises
    ------
    InputError: no basis, an egg without its ml, an unknown basis, a negative or absent amount, or
        a unit that is neither volume nor weight nor drops.
    """
    if not isinstance(text, str):
        raise InputError(field, text, ACCEPTED)
    plain = " ".join(text.split())
    share = re.fullmatch(r"(.+?)\s*%\s+of\s+paste", plain)
    if share:
        percent = _positive(read_number(share[1], field, ACCEPTED).number, text, field)
        return Level(percent / 100.0, Measure.MASS, Reference.PASTE, 1.0, plain)
    amount_text, separator, basis = plain.partition(" per ")
    if not separator:
        hint = "It names no basis: say per what, for example 'per egg of 50 ml'."
        raise InputError(field, text, ACCEPTED, hint=hint)
    amount, measure = _amount(amount_text, text, field)
    reference, per = _basis(basis.strip(), text, field)
    return Level(amount, measure, reference, per, plain)


def _positive(number: float, text: str, field: str) -> float:
    if number <= 0:
        raise InputError(field, text, ACCEPTED, hint="The amount must be more than nothing.")
    return number


def _amount(amount_text: str, text: str, field: str) -> tuple[float, Measure]:
    typed = read_number(amount_text, field, ACCEPTED)
    _positive(typed.number, text, field)
    unit = unit_name(typed.unit)
    if unit in ("drop", "drops"):
        return typed.number, Measure.DROPS
    if unit in ("oz", "fl oz"):
        hint = f"Which ounce? {ounces(typed.number)}."
        if " ".join(typed.unit.split()) != "oz weight":
            raise InputError(field, text, ACCEPTED, hint=hint)
    kind = kind_of(unit)
    if kind is Kind.VOLUME:
        return to_si(typed.number, unit), Measure.VOLUME
    if kind is Kind.MASS:
        return to_si(typed.number, unit), Measure.MASS
    raise InputError(field, text, ACCEPTED, hint="The amount takes ml, g, tsp or drops.")


def ounces(number: float) -> str:
    """What so many ounces are by each meaning of the word."""
    names = (("oz weight", "g"), ("UK fl oz", "ml"), ("US fl oz", "ml"))
    each = [f"'{name}' ({show(to_si(number, name), unit)})" for name, unit in names]
    return f"Write {each[0]}, {each[1]} or {each[2]}"


def _basis(basis: str, text: str, field: str) -> tuple[Reference, float]:
    egg = _PER_EGG.match(basis)
    if egg:
        if egg["egg"] is None:
            hint = "Eggs differ: say which egg it was meant for, for example 'per egg of 50 ml'."
            raise InputError(field, text, ACCEPTED, hint=hint)
        if egg["egg"][0].isalpha():
            hint = "A grade is no volume: say its ml of egg, for example 'per egg of 50 ml'."
            raise InputError(field, text, ACCEPTED, hint=hint)
        return Reference.EGG_VOLUME, _egg_volume(egg["egg"], field)
    found = _PER_AMOUNT.match(basis)
    if found and found["what"] in _REFERENCES:
        amount_text = found["amount"].strip()
        if not amount_text[0].isdigit():
            amount_text = f"1 {amount_text}"
        unit = unit_name(read_number(amount_text, field, ACCEPTED).unit)
        if found["what"] == "egg" and kind_of(unit) is Kind.VOLUME:
            return Reference.EGG_VOLUME, _more_than_nothing(amount_text, Kind.VOLUME, field)
        return _REFERENCES[found["what"]], _more_than_nothing(amount_text, Kind.MASS, field)
    hint = f"The basis {basis!r} is not known here."
    raise InputError(field, text, ACCEPTED, hint=hint)


def _egg_volume(text: str, field: str) -> float:
    volume = _more_than_nothing(text, Kind.VOLUME, field)
    if not to_si(20.0, "ml") <= volume <= to_si(120.0, "ml"):
        raise InputError(field, text, "the ml of one hen's egg, 20 to 120 ml")
    return volume


def _more_than_nothing(text: str, kind: Kind, field: str) -> float:
    value = read(text, kind, field)
    if value <= 0:
        raise InputError(field, text, ACCEPTED, hint="The basis must be more than nothing.")
    return value


@dataclass(frozen=True, slots=True)
class Bridge:
    """What lies between the bases for one egg: its ml, its grams and the dry mix it takes up."""

    egg_volume: float
    egg_mass: float
    dry_mix: float
    other_liquids: float = 0.0

    @property
    def paste(self) -> float:
        """Grams of paste from one egg, in kg."""
        return self.egg_mass + self.dry_mix + self.other_liquids

    def amount_of(self, reference: Reference) -> float:
        """How much of a reference one egg brings, in m3 or kg."""
        table: Mapping[Reference, float] = {
            Reference.EGG_VOLUME: self.egg_volume,
            Reference.EGG_MASS: self.egg_mass,
            Reference.DRY_MIX: self.dry_mix,
            Reference.PASTE: self.paste,
        }
        return table[reference]


def convert(level: Level, bridge: Bridge, *, reference: Reference, per: float) -> Level:
    """The same level on another basis, through the bridge.

    Parameters
    ----------
    level: the level as it stands.
    bridge: what one egg brings.
    reference, per: the basis wanted, e.g. ``Reference.DRY_MIX`` and 1.0 kg.
    """
    amount = (
        level.amount
        * (bridge.amount_of(level.reference) / level.per)
        * (per / bridge.amount_of(reference))
    )
    return Level(amount, level.measure, reference, per, level.text)
