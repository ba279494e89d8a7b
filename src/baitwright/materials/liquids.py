"""Flavour carriers and the ranges in which makers use liquids of each strength."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, find, load, one_of
from baitwright.terms.errors import InputError

FLAMMABLE_UP_TO = 273.15 + 60.0  # clp-1272-2008, annex I, table 2.6.1


@dataclass(frozen=True, slots=True, kw_only=True)
class Carrier(Row):
    """What a flavour is dissolved in: density [kg/m3], flash point [K], and what it does.

    ``drops`` names the row of the drop table that it drips like.
    """

    name: str
    density: float
    density_low: float
    density_high: float
    mixes_with_water: bool
    flash_point: float | None
    drops: str
    in_paste: str
    in_boil: str
    in_lake: str
    hazard: str

    @property
    def flammable(self) -> bool:
        """Whether its vapour can catch fire at 60 °C or below."""
        return self.flash_point is not None and self.flash_point <= FLAMMABLE_UP_TO


@dataclass(frozen=True, slots=True, kw_only=True)
class LevelRange(Row):
    """From how much to how much makers use, in ``unit`` per ``basis``.

    ``egg`` is the egg meant by a level per egg [m3]; ``hard_limit`` marks an upper end that makers
    do not cross.
    """

    strength: str
    use: str = one_of("hookbait", "free bait")
    low: float
    high: float
    unit: str = one_of("ml", "g", "drops")
    basis: str = one_of("egg", "kg dry mix")
    egg: float | None
    hard_limit: bool


def carriers() -> Mapping[str, Carrier]:
    """Every carrier by id."""
    return load("carriers", Carrier)


def carrier(name: str, field: str = "liquid.carrier") -> Carrier:
    """A carrier by id or name.

    Raises
    ------
    InputError: there is none; the message offers the nearest names.
    """
    return find(carriers(), name, field)


def strengths() -> tuple[str, ...]:
    """The strengths a liquid can have, in the table's order."""
    return tuple(dict.fromkeys(row.strength for row in load("levels", LevelRange).values()))


def level_range(strength: str, use: str, field: str = "liquid.strength") -> LevelRange:
    """The trade's range for a liquid of one strength in ``"hookbait"`` or ``"free bait"``.

    Raises
    ------
    InputError: no such strength or use.
    """
    wanted = (strength.replace("-", " ").strip().lower(), use.replace("-", " ").strip().lower())
    for row in load("levels", LevelRange).values():
        if (row.strength, row.use) == wanted:
            return row
    accepted = f"{', '.join(strengths())}, each for hookbait or free bait"
    raise InputError(field, f"{strength}, {use}", accepted)
