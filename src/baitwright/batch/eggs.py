"""Eggs in the bowl: all lines together by weight, volume, water and composition."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from baitwright.batch.egg_lots import Lot, from_table, pour, remarks_on
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.eggs import EggForm, egg_form
from baitwright.materials.tables import composition_of
from baitwright.physics.food import Composition
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.terms.errors import InputError
from baitwright.terms.notes import Note
from baitwright.terms.quantity import Quantity, declared
from baitwright.terms.units import GRAMS, GRAMS_PER_MILLILITRE, MILLILITRES
from baitwright.uncertainty.bands import median_of


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
    poured = [pour(eggs, place, unknowns) for place, eggs in enumerate(lots)]
    masses = {f"lot_{i}": lot.mass for i, lot in enumerate(poured)}
    volumes = {f"lot_{i}": lot.volume for i, lot in enumerate(poured)}
    waters = {
        f"lot_{i}": lot_water(mass=lot.mass, share=_share(lot.form)) for i, lot in enumerate(poured)
    }
    count = egg_count(**{f"lot_{i}": lot.count for i, lot in enumerate(poured)})
    volume = egg_volume(**volumes)
    water = egg_water(**waters)
    whole = egg_form(EggKind.WHOLE)
    whole_water = from_table(
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
        notes=tuple(note for lot in poured for note in remarks_on(lot)),
    )


def _share(form: EggForm) -> Quantity:
    return from_table("egg_water_share", form.water, form.source)


def _make_up(lots: Sequence[Lot]) -> Composition:
    """The bowl's composition, by the middle weight of each lot: known ratios, not drawn."""
    return Composition.mixed([(median_of(lot.mass), _composition(lot.form)) for lot in lots])


def _composition(form: EggForm) -> Composition:
    return Composition(**composition_of(form)).normalised()
