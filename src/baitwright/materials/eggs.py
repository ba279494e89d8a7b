"""Eggs: grades by country, what is in the shell, and the liquids that bind a mix."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING, overload

from baitwright.materials.tables import (
    MICROGRAM_DIGITS,
    Row,
    composition_of,
    find,
    in_si,
    load,
    one_of,
    slug,
)
from baitwright.terms.errors import InputError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True, kw_only=True)
class EggSystem(Row):
    """A country's way of grading eggs by weight."""

    name: str
    also: tuple[str, ...]
    basis: str


@dataclass(frozen=True, slots=True, kw_only=True)
class EggGrade(Row):
    """One grade: in-shell mass from ``low`` to under ``high`` [kg].

    ``open_end`` tells which end the system leaves open; its limit here is an assumed one.
    """

    system: str
    grade: str
    also: tuple[str, ...]
    low: float
    high: float
    open_end: str = one_of("none", "low", "high")
    stated: str

    @property
    def name(self) -> str:
        """The grade with its system, the way it is asked for: ``"EU L"``."""
        return f"{self.system.upper()} {self.grade}"

    @property
    def mass(self) -> float:
        """Middle of the grade [kg]."""
        return (self.low + self.high) / 2.0

    @property
    def mass_u(self) -> float:
        """Standard uncertainty of one egg of this grade that nobody weighed [kg]."""
        return (self.high - self.low) / math.sqrt(12.0)


@dataclass(frozen=True, slots=True, kw_only=True)
class EggPart(Row):
    """One figure about what an egg consists of, in SI, with its standard deviation."""

    label: str
    value: float
    spread: float
    unit: str


@dataclass(frozen=True, slots=True)
class EggParts:
    """What turns an egg in its shell into liquid in the bowl; fields may be arrays of draws.

    shell_share: shell and membrane as a share of the egg. residue: liquid left in the shell [kg].
    density: of the liquid [kg/m3].
    """

    shell_share: float | Floats
    residue: float | Floats
    density: float | Floats


@dataclass(frozen=True, slots=True, kw_only=True)
class EggForm(Row):
    """A binding liquid by mass fractions, with density and its standard deviation [kg/m3].

    ``setting`` is how well it sets compared with whole egg, 1 for alike.
    """

    name: str
    water: float
    protein: float
    fat: float
    carbohydrate: float
    fibre: float
    ash: float
    density: float
    density_spread: float
    setting: float

    @property
    def composition(self) -> dict[str, float]:
        """Mass fractions by the names every composition has."""
        return composition_of(self)


def egg_systems() -> Mapping[str, EggSystem]:
    """Every grading system by id."""
    return load("egg_systems", EggSystem)


def egg_grades() -> Mapping[str, EggGrade]:
    """Every grade of every system by id, such as ``"eu-l"``."""
    return load("egg_grades", EggGrade)


def grades_of(system: str) -> tuple[EggGrade, ...]:
    """The grades of one system by its id, in the table's order."""
    return tuple(grade for grade in egg_grades().values() if grade.system == system)


def egg_part(name: str) -> EggPart:
    """One figure of an egg's parts with its spread, in SI."""
    return _parts()[name]


def egg_parts() -> EggParts:
    """The table's middle values."""
    return EggParts(*(egg_part(name).value for name in ("shell_share", "residue", "density")))


def egg_forms() -> Mapping[str, EggForm]:
    """Every binding liquid by id: whole, white, yolk, carton, egg-free."""
    return load("egg_forms", EggForm)


def egg_form(name: str, field: str = "eggs.form") -> EggForm:
    """A binding liquid by name.

    Raises
    ------
    InputError: there is no such form.
    """
    return find(egg_forms(), name, field)


@overload
def contents_mass(mass_in_shell: float, parts: EggParts | None = ...) -> float: ...
@overload
def contents_mass(mass_in_shell: Floats, parts: EggParts | None = ...) -> Floats: ...
def contents_mass(mass_in_shell: float | Floats, parts: EggParts | None = None) -> float | Floats:
    """Mass of liquid one egg gives.

    Parameters
    ----------
    mass_in_shell: of the whole egg [kg]
    parts: share of shell and residue; the table's if not given

    Returns
    -------
    The mass in the bowl [kg].

    Notes
    -----
    contents = egg (1 - shell share) - residue
    """
    parts = parts or egg_parts()
    return mass_in_shell * (1.0 - parts.shell_share) - parts.residue


@overload
def contents_volume(mass_in_shell: float, parts: EggParts | None = ...) -> float: ...
@overload
def contents_volume(mass_in_shell: Floats, parts: EggParts | None = ...) -> Floats: ...
def contents_volume(mass_in_shell: float | Floats, parts: EggParts | None = None) -> float | Floats:
    """Volume of liquid one egg gives.

    Parameters
    ----------
    mass_in_shell: of the whole egg [kg]
    parts: share of shell, residue and density; the table's if not given

    Returns
    -------
    The volume in the bowl [m3].

    Notes
    -----
    volume = (egg (1 - shell share) - residue) / density
    """
    parts = parts or egg_parts()
    return contents_mass(mass_in_shell, parts) / parts.density


@overload
def mass_in_shell(volume: float, parts: EggParts | None = ...) -> float: ...
@overload
def mass_in_shell(volume: Floats, parts: EggParts | None = ...) -> Floats: ...
def mass_in_shell(volume: float | Floats, parts: EggParts | None = None) -> float | Floats:
    """Mass of the egg that gives so much liquid: `contents_volume` turned round.

    Parameters
    ----------
    volume: in the bowl [m3]
    parts: share of shell, residue and density; the table's if not given

    Returns
    -------
    The mass of the whole egg [kg].
    """
    parts = parts or egg_parts()
    return (volume * parts.density + parts.residue) / (1.0 - parts.shell_share)


def grade(text: str, field: str = "eggs.grade") -> EggGrade:
    """The grade a maker names with its system: ``"EU L"``, ``"US Jumbo"``, ``"NZ 7"``.

    Raises
    ------
    InputError: the system is missing or unknown, or has no such grade.
    """
    words = " ".join(text.replace("-", " ").replace("_", " ").lower().split())
    system, rest = _split_system(words)
    if system is None:
        raise InputError(field, text, _systems_and_grades(), hint=_missing_system(words))
    for candidate in grades_of(system.id):
        if slug(rest) in _names(candidate):
            return candidate
    listed = ", ".join(candidate.grade for candidate in grades_of(system.id))
    raise InputError(field, text, f"a grade of {system.name}: {listed}")


def grade_of(system: str, mass: float) -> EggGrade:
    """The grade of a weighed egg.

    Parameters
    ----------
    system: the grading system by id or name
    mass: of the egg in its shell [kg]

    Raises
    ------
    InputError: no such system, or no grade of it takes such an egg.
    """
    found = find(egg_systems(), system, "eggs.system")
    mass = round(mass, MICROGRAM_DIGITS)
    grades = sorted(grades_of(found.id), key=lambda each: each.low)
    for candidate in grades:
        above = candidate.open_end == "low" or mass >= round(candidate.low, MICROGRAM_DIGITS)
        below = candidate.open_end == "high" or mass < round(candidate.high, MICROGRAM_DIGITS)
        if mass > 0 and above and below:
            return candidate
    limits = f"an egg of {grades[0].low * 1e3:g} g to {grades[-1].high * 1e3:g} g for {found.name}"
    raise InputError("eggs.mass", f"{mass * 1e3:g} g", limits)


@cache
def _parts() -> dict[str, EggPart]:
    rows = load("egg_parts", EggPart)
    return {
        row.id: EggPart(
            id=row.id,
            label=row.label,
            value=in_si(row.value, row.unit),
            spread=in_si(row.spread, row.unit),
            unit=row.unit,
            evidence=row.evidence,
            source=row.source,
            note=row.note,
        )
        for row in rows.values()
    }


def _split_system(words: str) -> tuple[EggSystem | None, str]:
    """The system named at the start or the end, the longest name first, and what is left."""
    named = [
        (name.replace("-", " "), system)
        for system in egg_systems().values()
        for name in (system.id, *system.also)
    ]
    for name, system in sorted(named, key=lambda pair: -len(pair[0])):
        if words.startswith(f"{name} "):
            return system, words.removeprefix(name)
        if words.endswith(f" {name}"):
            return system, words.removesuffix(name)
    return None, words


def _names(candidate: EggGrade) -> set[str]:
    return {slug(name) for name in (candidate.grade, *candidate.also)}


def _systems_and_grades() -> str:
    parts = [
        f"{system.id.upper()} {'/'.join(each.grade for each in grades_of(system.id))}"
        for system in egg_systems().values()
    ]
    return f"a system and a grade: {'; '.join(parts)}"


def _missing_system(words: str) -> str:
    same = [each for each in egg_grades().values() if slug(words) in _names(each)]
    if not same:
        return "Or weigh the eggs and write grams or ml."
    examples = ", ".join(
        f"{each.name} about {contents_volume(each.mass) * 1e6:.0f} ml" for each in same[:4]
    )
    return f"{words.upper()} means different eggs by country ({examples}): write which one."
