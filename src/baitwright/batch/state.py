"""A bait at one moment: the state every stage receives and hands on."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from baitwright.batch.ledger import Ledger
from baitwright.materials.cores import Core
from baitwright.materials.fillers import Filler
from baitwright.physics.food import Composition
from baitwright.terms.quantity import Quantity, declared
from baitwright.terms.units import GRAMS


@dataclass(frozen=True, slots=True)
class Solute:
    """A liquid in the bait: its name, what carries it, how much is left, and how deep it lies.

    ``depth`` [m] from the surface is None for what was kneaded in and lies everywhere.
    """

    name: str
    carrier: str
    mass: Quantity
    depth: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Inclusion:
    """Light grains, or a few small cores, spread through the paste of one bait.

    They take up ``volume`` [m3] that neither swells nor dries, and heat as their material does.
    """

    name: str
    mass: Quantity
    volume: Quantity
    material: Core | Filler


@dataclass(frozen=True, slots=True)
class BaitState:
    """One bait of the tray, as draws over batches and baits.

    ``solids`` and ``water`` are the masses of dry matter and water of the paste, ``air`` the volume
    of air in it; ``core_diameter`` and ``core_mass`` are those of a core in the middle. ``fillers``
    and ``corks``, a few small ones, lie in the paste. ``make_up`` is the paste's composition as
    rolled. ``temperatures`` and ``moistures`` are the latest profiles along the radius, or None
    while they are even.
    """

    diameter: Quantity
    core_diameter: Quantity
    core_mass: Quantity
    solids: Quantity
    water: Quantity
    solutes: tuple[Solute, ...]
    air: Quantity
    make_up: Composition
    temperature: Quantity
    ledger: Ledger = field(default_factory=Ledger)
    temperatures: Any = None
    moistures: Any = None
    fillers: tuple[Inclusion, ...] = ()
    corks: Inclusion | None = None

    @property
    def inclusions(self) -> tuple[Inclusion, ...]:
        """All that lies in the paste and is no paste."""
        return self.fillers if self.corks is None else (*self.fillers, self.corks)

    @property
    def mass(self) -> Quantity:
        """The whole bait, core and all."""
        parts = {"solids": self.solids, "water": self.water, "core": self.core_mass}
        parts |= {f"inclusion_{at}": one.mass for at, one in enumerate(self.inclusions)}
        return bait_mass(**parts, solutes=self.solute_mass)

    @property
    def solute_mass(self) -> Quantity:
        """All liquids together."""
        masses = {f"liquid_{i}": solute.mass for i, solute in enumerate(self.solutes)}
        return solute_mass(**masses)


@declared(
    "solute_mass",
    label="liquids in the bait",
    unit=GRAMS,
    equation="the sum of the liquids",
    source="definition",
)
def solute_mass(**liquids: Any) -> Any:
    """All liquids of a bait together."""
    return sum(liquids.values(), 0.0)


@declared(
    "bait_mass",
    label="weight of a bait",
    unit=GRAMS,
    equation="mass = solids + water + liquids + core + fillers",
    source="definition",
)
def bait_mass(solids: Any, water: Any, core: Any, solutes: Any, **inclusions: Any) -> Any:
    """The whole bait."""
    return solids + water + core + solutes + sum(inclusions.values(), 0.0)
