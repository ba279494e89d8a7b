"""Cork granules and glass bubbles: what is worked into the paste to lift it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from baitwright.batch.state import Inclusion
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.fillers import Filler as FillerRow
from baitwright.materials.fillers import filler as filler_row
from baitwright.recipe.model import Filler
from baitwright.terms.quantity import Quantity, declared, given, tabled
from baitwright.terms.units import GRAMS, GRAMS_PER_MILLILITRE, MILLILITRES, PERCENT
from baitwright.uncertainty.spreads import LogNormal


@declared(
    "filler_room",
    label="room taken by fillers",
    unit=PERCENT,
    equation="the sum of their shares of the filled paste",
    source="definition",
)
def filler_room(**shares: Any) -> Any:
    """Share of the filled paste's room that is filler."""
    return sum(shares.values(), 0.0)


@declared(
    "filler_weight",
    label="filler in a room of filled paste",
    unit=GRAMS_PER_MILLILITRE,
    equation="share x filler's density",
    source="definition",
)
def filler_weight(share: Any, density: Any) -> Any:
    """What a filler weighs in each volume of filled paste."""
    return share * density


@declared(
    "filled_density",
    label="paste's density with its fillers",
    unit=GRAMS_PER_MILLILITRE,
    equation="density = (1 - room of fillers) paste + fillers",
    source="definition",
)
def filled_density(paste: Any, room: Any, **weights: Any) -> Any:
    """Density of paste part of whose room is light filler."""
    return (1.0 - room) * paste + sum(weights.values(), 0.0)


@declared(
    "filled_mass",
    label="paste with its fillers",
    unit=GRAMS,
    equation="mass = paste x density filled / (density (1 - room of fillers))",
    source="definition",
)
def filled_mass(mass: Any, density: Any, *, filled: Any, room: Any) -> Any:
    """All paste by weight once the fillers are in."""
    return mass * filled / (density * (1.0 - room))


@declared(
    "filler_mass",
    label="filler to weigh in",
    unit=GRAMS,
    equation="mass = volume of filled paste x share x density",
    source="definition",
)
def filler_mass(paste: Any, density: Any, weight: Any) -> Any:
    """What goes into the bowl; ``paste`` and ``density`` are of the filled paste."""
    return paste / density * weight


@declared(
    "filler_in_bait",
    label="filler in a bait",
    unit=GRAMS,
    equation="mass = the bait's share of the paste x filler",
    source="definition",
)
def filler_in_bait(share: Any, filler: Any) -> Any:
    """What one bait holds of a filler."""
    return share * filler


@declared(
    "filler_volume",
    label="room of a filler in a bait",
    unit=MILLILITRES,
    equation="V = mass / density",
    source="definition",
)
def filler_volume(mass: Any, density: Any) -> Any:
    """Room that a filler takes up in one bait."""
    return mass / density


@dataclass(frozen=True, slots=True)
class Lightening:
    """One filler of the paste: its row, density, share of the room, and weight in that room."""

    row: FillerRow
    density: Quantity
    share: Quantity
    weight: Quantity

    def to_weigh(self, paste: Quantity, density: Quantity) -> Quantity:
        """What of it goes into the bowl, from weight and density of the filled paste."""
        made = filler_mass(paste=paste, density=density, weight=self.weight)
        return made.labelled(f"{self.row.name} to work in")

    def in_bait(self, share: Quantity, filler: Quantity) -> Inclusion:
        """What of it one bait holds, from the bait's share of the paste and all of the filler."""
        row = self.row
        mass = filler_in_bait(share=share, filler=filler).labelled(f"{row.name} in a bait")
        return Inclusion(
            name=row.name,
            mass=mass,
            volume=filler_volume(mass=mass, density=self.density),
            material=row,
        )


def lighten(fillers: tuple[Filler, ...], unknowns: Unknowns) -> tuple[Lightening, ...]:
    """The fillers of a recipe with their densities drawn from the range of their rows.

    Raises
    ------
    InputError: a filler that is on no shelf.
    """
    made = []
    for one in fillers:
        row = filler_row(one.material)
        spread = LogNormal.between(row.density_low, row.density_high, median=row.density)
        density = given(
            "filler_density",
            unknowns.draws.per_batch(f"filler/{row.id}", spread),
            label=f"density of {row.name}",
            unit=GRAMS_PER_MILLILITRE,
            backing=tabled(row),
        )
        share = given("filler_share", one.share, label=f"room of {row.name}", unit=PERCENT)
        weight = filler_weight(share=share, density=density)
        made.append(Lightening(row, density, share, weight))
    return tuple(made)


def filled(paste: Quantity, fillers: tuple[Lightening, ...]) -> Quantity:
    """The density of paste with its fillers; the paste's own where there are none."""
    if not fillers:
        return paste
    weights = {f"filler_{at}": one.weight for at, one in enumerate(fillers)}
    return filled_density(paste=paste, room=room_of(fillers), **weights)


def room_of(fillers: tuple[Lightening, ...]) -> Quantity:
    """The share of the filled paste's room that all fillers take up."""
    return filler_room(**{f"share_{at}": one.share for at, one in enumerate(fillers)})
