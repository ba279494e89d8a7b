"""The dose that a level comes to for what is in the bowl, by volume and by weight."""

from __future__ import annotations

from typing import Any

from baitwright.terms.quantity import declared
from baitwright.terms.units import GRAMS, MILLILITRES


@declared(
    "dose",
    label="dose",
    equation="dose = amount x reference in the bowl / reference it was meant for",
    source="definition",
    note="in m3, kg or drops, as the level is measured",
)
def dose(amount: Any, in_bowl: Any, meant_for: Any) -> Any:
    """The dose of a level for what is in the bowl."""
    return amount * in_bowl / meant_for


@declared(
    "dose_volume",
    label="dose",
    unit=MILLILITRES,
    equation="volume = dose / density",
    source="definition",
)
def dose_volume(dose: Any, density: Any) -> Any:
    """The volume of a dose given by weight."""
    return dose / density


@declared(
    "dose_mass",
    label="dose",
    unit=GRAMS,
    equation="mass = dose x density",
    source="definition",
)
def dose_mass(dose: Any, density: Any) -> Any:
    """The weight of a dose given by volume."""
    return dose * density


@declared(
    "dose_of_drops",
    label="dose",
    unit=MILLILITRES,
    equation="volume = drops / drops per volume of this bottle",
    source="definition",
    note="only for a bottle whose drops were counted into 1 ml",
)
def dose_of_drops(dose: Any, drops_per_volume: Any) -> Any:
    """The volume of a count of drops from a calibrated bottle."""
    return dose / drops_per_volume
