"""One line of eggs: what its shells will pour, or what was measured of it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from baitwright.batch.unknowns import Unknowns
from baitwright.materials.defaults import default
from baitwright.materials.eggs import EggForm, egg_form, egg_part, grade
from baitwright.quantities import show, si_unit
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.terms.errors import InputError
from baitwright.terms.evidence import Evidence
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given, tabled
from baitwright.terms.units import (
    GRAMS,
    GRAMS_PER_MILLILITRE,
    MILLILITRES,
    PERCENT,
    PLAIN,
    Unit,
)
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.spreads import Normal, Uniform

_BEAKER_ERROR = 0.05
"""A kitchen beaker's marks are right within 5 % (common practice, no source)."""


@declared(
    "contents_mass",
    label="egg out of the shell",
    unit=GRAMS,
    equation="mass = M (1 - shell share) - eggs x residue",
    source="cotterill-geiger-1977",
    note="residue is what clings to the shells; its size is an estimate from breaking plants",
)
def contents_mass(shell_mass: Any, eggs: Any, shell_share: Any, residue: Any) -> Any:
    """Weight of egg poured from the shells."""
    return shell_mass * (1.0 - shell_share) - eggs * residue


@declared(
    "contents_volume",
    label="egg out of the shell",
    unit=MILLILITRES,
    equation="V = mass x part used / density x factor",
    source="definition",
)
def contents_volume(mass: Any, part: Any, density: Any, factor: Any) -> Any:
    """Volume of egg, or of its white or yolk, poured from the shells."""
    return mass * part / density * factor


@declared(
    "volume_of_weighed",
    label="egg in the bowl",
    unit=MILLILITRES,
    equation="V = mass / density",
    source="definition",
)
def volume_of_weighed(mass: Any, density: Any) -> Any:
    """Volume of egg that was weighed."""
    return mass / density


@declared(
    "mass_of_poured",
    label="egg in the bowl",
    unit=GRAMS,
    equation="mass = V x density",
    source="definition",
)
def mass_of_poured(volume: Any, density: Any) -> Any:
    """Weight of egg of a known volume."""
    return volume * density


@declared(
    "volume_read",
    label="egg in the bowl",
    unit=MILLILITRES,
    equation="V = reading x beaker error",
    source="common-practice",
    note="a kitchen beaker is right within 5 %; a weight in grams is better",
)
def volume_read(reading: Any, beaker: Any) -> Any:
    """Volume read off a beaker."""
    return reading * beaker


@declared(
    "volume_of_usual",
    label="egg in the bowl",
    unit=MILLILITRES,
    equation="V = eggs x a usual egg",
    source="common-practice",
    note="nothing is known of these eggs; a grade or a weight narrows this at once",
)
def volume_of_usual(eggs: Any, usual: Any) -> Any:
    """Volume of eggs of which only the number is known."""
    return eggs * usual


@declared(
    "albumen_powder",
    label="egg albumen powder",
    unit=GRAMS,
    equation="powder = bind x share",
    source="judgement",
)
def albumen_powder(mass: Any, share: Any) -> Any:
    """Albumen powder stirred into the water of an egg-free bind."""
    return mass * share


@declared(
    "water_for_bind",
    label="water",
    unit=GRAMS,
    equation="water = bind - powder",
    source="definition",
)
def water_for_bind(mass: Any, powder: Any) -> Any:
    """Water of an egg-free bind."""
    return mass - powder


def usual_egg() -> float:
    """The egg that recipes are commonly written for [m3]."""
    return default("level_egg_volume").value


@dataclass(frozen=True, slots=True)
class Lot:
    """One line of eggs with what it pours; ``parts`` where it is stirred together first."""

    eggs: Eggs
    form: EggForm
    count: Quantity
    mass: Quantity
    volume: Quantity
    parts: tuple[Quantity, ...] = ()


def from_table(name: str, value: float, source: str, *, unit: Unit = PLAIN) -> Quantity:
    """A figure of the egg tables as a quantity."""
    backing = Backing(Origin.TABLE, source, Evidence.READ)
    return given(name, value, label=name.replace("_", " "), unit=unit, backing=backing)


def pour(eggs: Eggs, place: int, unknowns: Unknowns) -> Lot:
    """One lot in the bowl: measured contents win over a weight in the shell, that over grade."""
    form = egg_form(eggs.kind)
    density = from_table("egg_density", form.density, form.source, unit=GRAMS_PER_MILLILITRE)
    if eggs.contents_mass is not None:
        mass = given("egg_weighed", eggs.contents_mass, label="egg weighed", unit=GRAMS)
        volume = volume_of_weighed(mass=mass, density=density)
    elif eggs.usual:
        volume = volume_of_usual(
            eggs=given("eggs", float(eggs.count or 1), label="eggs"),
            usual=unknowns.drawn_default("level_egg_volume"),
        )
        mass = mass_of_poured(volume=volume, density=density)
    elif eggs.contents_volume is not None:
        volume = _read_off(eggs.contents_volume, place, unknowns)
        mass = mass_of_poured(volume=volume, density=density)
    else:
        volume = _from_shells(eggs, place, density, unknowns=unknowns)
        mass = mass_of_poured(volume=volume, density=density)
    if eggs.count is None:
        count = given("eggs", median_of(volume) / usual_egg(), label="usual eggs")
    else:
        count = given("eggs", float(eggs.count), label="eggs")
    return Lot(eggs, form, count, mass, volume, _parts_of(form, mass))


def _parts_of(form: EggForm, mass: Quantity) -> tuple[Quantity, ...]:
    """What a bind without whole egg is stirred together from."""
    if form.id != EggKind.EGG_FREE:
        return ()
    row = egg_part("albumen_powder")
    share = given("albumen_share", row.value, label=row.label, unit=PERCENT, backing=tabled(row))
    powder = albumen_powder(mass=mass, share=share)
    return powder, water_for_bind(mass=mass, powder=powder)


def _read_off(reading: float, place: int, unknowns: Unknowns) -> Quantity:
    spread = Uniform(1.0 - _BEAKER_ERROR, 1.0 + _BEAKER_ERROR)
    error = given(
        "beaker_error",
        unknowns.draws.per_batch(f"beaker_error/{place}", spread),
        label="the beaker's marks",
        backing=Backing(Origin.DEFAULT, "common-practice", Evidence.PRACTICE),
    )
    read = given("egg_read", reading, label="egg read off", unit=MILLILITRES)
    return volume_read(reading=read, beaker=error)


def _from_shells(eggs: Eggs, place: int, density: Quantity, *, unknowns: Unknowns) -> Quantity:
    if eggs.kind not in _IN_SHELLS:
        raise InputError(
            "eggs", eggs.kind.value, "its measured ml or g, since it does not come in shells"
        )
    if eggs.count is None:
        raise InputError("eggs.count", None, "how many eggs, such as 3")
    if eggs.shell_mass is not None:
        shell = given("shell_mass", eggs.shell_mass, label="eggs in the shell", unit=GRAMS)
    else:
        shell = _graded(eggs, place, unknowns)
    mass = contents_mass(
        shell_mass=shell,
        eggs=given("eggs", float(eggs.count), label="eggs"),
        shell_share=_part("shell_share", place, unknowns),
        residue=_part("residue", place, unknowns),
    )
    return contents_volume(
        mass=mass,
        part=from_table("part_used", _part_used(eggs.kind), "usda-sr28"),
        density=density,
        factor=unknowns.factor("egg_volume", eggs.grade or ""),
    )


def _part(name: str, place: int, unknowns: Unknowns) -> Quantity:
    """A figure of what an egg consists of, drawn once per batch and lot."""
    row = egg_part(name)
    spread = Normal(row.value, row.spread)
    return given(
        name,
        unknowns.draws.per_batch(f"{name}/{place}", spread),
        label=row.label,
        unit=Unit(si_unit(row.unit), row.unit),
        backing=Backing(Origin.TABLE, row.source, row.evidence, row.note),
    )


def _part_used(kind: EggKind) -> float:
    """The part of a shell egg's contents that goes into the bowl."""
    if kind is EggKind.WHOLE:
        return 1.0
    white = egg_part("white_share").value
    return white if kind is EggKind.WHITE else 1.0 - white


_IN_SHELLS = (EggKind.WHOLE, EggKind.WHITE, EggKind.YOLK)


def _graded(eggs: Eggs, place: int, unknowns: Unknowns) -> Quantity:
    """Weight of so many eggs of a grade: each anywhere within its limits, their sum bell-shaped."""
    if eggs.grade is None or eggs.count is None:
        raise InputError(
            "eggs", None, "a grade such as 'EU L', a weight in g, or a measured volume"
        )
    row = grade(eggs.grade)
    width = row.high - row.low
    spread = Normal(
        mean=eggs.count * 0.5 * (row.low + row.high), sd=width * (eggs.count / 12.0) ** 0.5
    )
    note = "by grade alone; weighing them narrows this"
    return given(
        "graded_eggs",
        unknowns.draws.per_batch(f"graded_eggs/{place}", spread),
        label=f"{eggs.count} eggs of grade {eggs.grade} in the shell",
        unit=GRAMS,
        backing=Backing(Origin.TABLE, row.source, row.evidence, note),
    )


def remarks_on(lot: Lot) -> tuple[Note, ...]:
    """What is remarked on one line of eggs."""
    eggs = lot.eggs
    measured = eggs.contents_mass is not None or eggs.contents_volume is not None
    notes = []
    if measured and eggs.grade is not None:
        text = (
            f"You measured the egg, so the measurement stands and the grade {eggs.grade} is not "
            "used. Entered as a reading it teaches your own egg factor."
        )
        notes.append(Note("eggs", text, "definition"))
    if eggs.usual:
        text = (
            f"Nothing is known of these eggs, so {show(usual_egg(), 'ml')} each is taken: give a "
            "grade or weigh them."
        )
        notes.append(Note("eggs", text, "common-practice", Weight.DOUBT))
    if not measured and eggs.shell_mass is None and eggs.grade is not None:
        text = (
            f"The ml of an egg of grade {eggs.grade} are known to about 5 % only. Weigh the egg "
            "out of the shell: 1 ml is 1.03 g."
        )
        notes.append(Note("eggs", text, "judgement"))
    return tuple(notes)
