"""A bait beside what is published of a carp's food. A bait is not a complete feed."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from baitwright.blending.analysis import MixAnalysis
from baitwright.blending.bases import Basis, finished_holds, paste_holds
from baitwright.blending.blend import in_units
from baitwright.blending.figures import METABOLISABLE
from baitwright.materials.carp import CarpFigure, carp_figures
from baitwright.materials.powders import ingredient
from baitwright.quantities import to_si
from baitwright.terms.quantity import Quantity, declared, given, tabled
from baitwright.terms.units import KILOJOULES_PER_100_GRAMS, Unit
from baitwright.uncertainty.bands import median_of

CAVEAT = "A bait is not a complete feed: a carp finds most of its food elsewhere."
_KILOCALORIE = 4184.0
"""J; the thermochemical one, in which the tables of foods were converted."""


@declared(
    "energy_to_protein",
    label="energy for each percent of protein",
    unit=Unit("", "kcal/kg per %"),
    equation="metabolisable energy in kcal/kg / protein in %",
    source="takeuchi-1979-45",
    note="the paper counts digestible energy; metabolisable stands in for it and is a little less",
)
def energy_to_protein(energy: Any, protein: Any) -> Any:
    """Energy beside protein, kcal/kg for each percent."""
    return energy / _KILOCALORIE / (100.0 * protein)


@dataclass(frozen=True, slots=True)
class Beside:
    """One published figure, ours beside it where it can be, and how the two stand.

    ``verdict`` is below, within or above; nothing where there is nothing of ours to compare.
    """

    published: CarpFigure
    ours: Quantity | None
    verdict: str


def beside_carp(made: MixAnalysis) -> tuple[Beside, ...]:
    """Every published figure beside the finished bait's own."""
    return tuple(_beside(row, _ours(made, row)) for row in carp_figures().values())


def _ours(made: MixAnalysis, row: CarpFigure) -> Quantity | None:
    if row.figure == "energy to protein":
        return _ratio(made)
    return made.bases.figures[Basis.BAIT].get(row.figure)


def _beside(row: CarpFigure, ours: Quantity | None) -> Beside:
    if ours is None:
        return Beside(row, None, "")
    low, high = (to_si(end, row.unit) if row.unit == "%" else end for end in (row.low, row.high))
    value = median_of(ours)
    if low <= value <= high:
        return Beside(row, ours, "within")
    return Beside(row, ours, "below" if value < low else "above")


def _ratio(made: MixAnalysis) -> Quantity | None:
    """Energy to protein of the finished bait; None where a part tells no metabolisable energy."""
    dry = made.bases.figures[Basis.DRY_MIX].get(METABOLISABLE)
    protein = made.bases.figures[Basis.BAIT].get("protein")
    if dry is None or protein is None:
        return None
    egg = ingredient("whole-egg")
    assert egg.energy is not None
    of_egg = given(
        "energy_of_egg",
        egg.energy,
        label="metabolisable energy of whole egg",
        unit=KILOJOULES_PER_100_GRAMS,
        backing=tabled(egg),
    )
    paste = paste_holds(in_mix=dry, mix=made.bowl.dry_mix, in_egg=of_egg, egg=made.bowl.egg)
    energy = finished_holds(
        in_paste=in_units(paste, KILOJOULES_PER_100_GRAMS), left=made.bases.left
    )
    energy = in_units(energy, KILOJOULES_PER_100_GRAMS).labelled(f"{METABOLISABLE} of the bait")
    return energy_to_protein(energy=energy, protein=protein)
