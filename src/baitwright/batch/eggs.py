"""Eggs in the bowl: weight and volume of what the shells will give, or of what was measured."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from baitwright.batch.unknowns import Unknowns
from baitwright.materials.defaults import default
from baitwright.materials.eggs import EggForm, egg_form, egg_part, grade
from baitwright.materials.tables import composition_of
from baitwright.physics.food import Composition
from baitwright.quantities import si_unit
from baitwright.recipe.bench import EggKind, Eggs
from baitwright.terms.errors import InputError
from baitwright.terms.notes import Note
from baitwright.terms.quantity import Backing, Evidence, Origin, Quantity, declared, given
from baitwright.terms.units import GRAMS, GRAMS_PER_MILLILITRE, MILLILITRES, PLAIN, Unit
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
    "egg_mass",
    label="egg in the bowl by weight",
    unit=GRAMS,
    equation="the sum over the eggs",
    source="definition",
)
def egg_mass(**lots: Any) -> Any:
    """All egg in the bowl by weight."""
    return sum(lots.values())


@declared(
    "egg_volume",
    label="egg in the bowl",
    unit=MILLILITRES,
    equation="the sum over the eggs",
    source="definition",
)
def egg_volume(**lots: Any) -> Any:
    """All egg in the bowl by volume."""
    return sum(lots.values())


@declared(
    "egg_count",
    label="eggs",
    equation="eggs counted, or volume / a usual egg where none were",
    source="definition",
)
def egg_count(**lots: Any) -> Any:
    """How many eggs the bowl holds."""
    return sum(lots.values())


@declared(
    "volume_per_egg",
    label="one egg out of the shell",
    unit=MILLILITRES,
    equation="V / eggs",
    source="definition",
)
def volume_per_egg(volume: Any, eggs: Any) -> Any:
    """The ml of one egg, which levels per egg are set against."""
    return volume / eggs


@declared(
    "water_ratio",
    label="water of this liquid beside whole egg",
    equation="ratio = sum(V x density x water) / (V whole egg density x whole egg water)",
    source="judgement",
    note="dry mix is taken to follow the water that the binding liquid brings",
)
def water_ratio(water: Any, volume: Any, whole_egg: Any) -> Any:
    """Water in the bowl beside that of as much whole egg."""
    return water / (volume * whole_egg)


@declared(
    "egg_water",
    label="water in the egg",
    unit=GRAMS,
    equation="sum(mass x water share)",
    source="definition",
)
def egg_water(**lots: Any) -> Any:
    """Water that the binding liquids bring."""
    return sum(lots.values())


@declared(
    "lot_water",
    label="water in one lot of egg",
    unit=GRAMS,
    equation="mass x water share",
    source="definition",
)
def lot_water(mass: Any, share: Any) -> Any:
    """Water of one lot."""
    return mass * share


def usual_egg() -> float:
    """The egg that recipes are commonly written for [m3]."""
    return default("level_egg_volume").value


@dataclass(frozen=True, slots=True)
class Lot:
    """One line of eggs with what it pours."""

    eggs: Eggs
    form: EggForm
    count: Quantity
    mass: Quantity
    volume: Quantity


@dataclass(frozen=True, slots=True)
class EggsStage:
    """The bowl: all lots together, and the liquid's composition."""

    lots: tuple[Lot, ...]
    count: Quantity
    mass: Quantity
    volume: Quantity
    per_egg: Quantity
    water: Quantity
    water_ratio: Quantity
    make_up: Composition
    notes: tuple[Note, ...]


def crack_eggs(lots: Sequence[Eggs], *, unknowns: Unknowns) -> EggsStage:
    """What is in the bowl, from grade, weight in the shell or measured contents.

    Raises
    ------
    InputError: there is no binding liquid at all.
    """
    if not lots:
        raise InputError("eggs", None, "at least one line of eggs or other binding liquid")
    poured = [_pour(eggs, place, unknowns) for place, eggs in enumerate(lots)]
    masses = {f"lot_{i}": lot.mass for i, lot in enumerate(poured)}
    volumes = {f"lot_{i}": lot.volume for i, lot in enumerate(poured)}
    waters = {
        f"lot_{i}": lot_water(mass=lot.mass, share=_share(lot.form)) for i, lot in enumerate(poured)
    }
    count = egg_count(**{f"lot_{i}": lot.count for i, lot in enumerate(poured)})
    volume = egg_volume(**volumes)
    water = egg_water(**waters)
    whole = egg_form(EggKind.WHOLE)
    whole_water = _table(
        "whole_egg_water", whole.density * whole.water, whole.source, unit=GRAMS_PER_MILLILITRE
    )
    return EggsStage(
        lots=tuple(poured),
        count=count,
        mass=egg_mass(**masses),
        volume=volume,
        per_egg=volume_per_egg(volume=volume, eggs=count),
        water=water,
        water_ratio=water_ratio(water=water, volume=volume, whole_egg=whole_water),
        make_up=_make_up(poured),
        notes=tuple(note for lot in poured for note in _remarks(lot)),
    )


def _share(form: EggForm) -> Quantity:
    return _table("egg_water_share", form.water, form.source)


def _table(name: str, value: float, source: str, *, unit: Unit = PLAIN) -> Quantity:
    backing = Backing(Origin.TABLE, source, Evidence.READ)
    return given(name, value, label=name.replace("_", " "), unit=unit, backing=backing)


def _make_up(lots: Sequence[Lot]) -> Composition:
    """The bowl's composition, by the middle weight of each lot: known ratios, not drawn."""
    return Composition.mixed([(median_of(lot.mass), _composition(lot.form)) for lot in lots])


def _composition(form: EggForm) -> Composition:
    return Composition(**composition_of(form)).normalised()


def _pour(eggs: Eggs, place: int, unknowns: Unknowns) -> Lot:
    """One lot in the bowl: measured contents win over a weight in the shell, that over grade."""
    form = egg_form(eggs.kind)
    density = _table("egg_density", form.density, form.source, unit=GRAMS_PER_MILLILITRE)
    if eggs.contents_mass is not None:
        mass = given("egg_weighed", eggs.contents_mass, label="egg weighed", unit=GRAMS)
        volume = volume_of_weighed(mass=mass, density=density)
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
    return Lot(eggs, form, count, mass, volume)


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
        part=_table("part_used", _part_used(eggs.kind), "usda-sr28"),
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


def _remarks(lot: Lot) -> tuple[Note, ...]:
    eggs = lot.eggs
    measured = eggs.contents_mass is not None or eggs.contents_volume is not None
    notes = []
    if measured and eggs.grade is not None:
        text = (
            f"You measured the egg, so the measurement stands and the grade {eggs.grade} is not "
            "used. Entered as a reading it teaches your own egg factor."
        )
        notes.append(Note("eggs", text, "definition"))
    if not measured and eggs.shell_mass is None and eggs.grade is not None:
        text = (
            f"The ml of a {eggs.grade} egg are known to about 5 % only. Weigh the egg out of the "
            "shell: 1 ml is 1.03 g."
        )
        notes.append(Note("eggs", text, "judgement"))
    return tuple(notes)
