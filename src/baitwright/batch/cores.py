"""Corks for a batch: one in the middle of a bait, or a few small ones worked into it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.batch.state import Inclusion
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.cores import core as core_row
from baitwright.quantities import show
from baitwright.recipe.model import Core
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given
from baitwright.terms.units import GRAMS, GRAMS_PER_MILLILITRE, MILLILITRES, MILLIMETRES


@declared(
    "core_size",
    label="core",
    unit=MILLIMETRES,
    equation="d = nominal + scatter",
    source="judgement",
)
def core_size(nominal: Any, scatter: Any) -> Any:
    """Diameter of one core."""
    return nominal + scatter


@declared(
    "core_density",
    label="core's density",
    unit=GRAMS_PER_MILLILITRE,
    equation="density = table x factor + scatter",
    source="anjos-2008",
    note="differs from lot to lot and from ball to ball; weigh twenty of yours",
)
def core_density(table: Any, factor: Any, scatter: Any) -> Any:
    """Density of one core."""
    return table * factor + scatter


@declared(
    "core_mass",
    label="core",
    unit=GRAMS,
    equation="mass = density x pi d^3 / 6",
    source="definition",
)
def core_mass(density: Any, diameter: Any) -> Any:
    """Weight of one core."""
    return density * np.pi / 6.0 * diameter**3


@declared(
    "core_room",
    label="one core of the same room",
    unit=MILLIMETRES,
    equation="d (number of cores)^(1/3)",
    source="definition",
)
def core_room(diameter: Any, count: Any) -> Any:
    """Diameter of the ball that takes up as much room as a few cores together."""
    return diameter * np.cbrt(count)


@declared(
    "cores_volume",
    label="room that the cores of a bait take up",
    unit=MILLILITRES,
    equation="V = pi d^3 / 6, d of one core of the same room",
    source="definition",
)
def cores_volume(room: Any) -> Any:
    """Volume of all cores of a bait."""
    return np.pi / 6.0 * room**3


_SIZE = given("no_core", 0.0, label="no core", unit=MILLIMETRES)
_DENSITY = given("no_core_density", 0.0, label="no core", unit=GRAMS_PER_MILLILITRE)


@dataclass(frozen=True, slots=True)
class SizedCore:
    """The cores of a bait, bait by bait; all nothing for a bait without one.

    ``diameter`` and ``density`` are one core's, or the mean of a few; ``room`` is the diameter of
    one core that takes up as much room.
    """

    diameter: Quantity
    density: Quantity
    room: Quantity

    @property
    def mass(self) -> Quantity:
        """All cores of a bait by weight."""
        return core_mass(density=self.density, diameter=self.room)


NO_CORE = SizedCore(_SIZE, _DENSITY, _SIZE)
"""What a bait without a core has in its middle."""


def size_core(core: Core | None, unknowns: Unknowns) -> SizedCore:
    """Diameter and density of the cores, ball by ball; a few in one bait scatter less."""
    row = None if core is None else core_row(core.material)
    if core is None or row is None:
        return NO_CORE
    table = given(
        "core_table_density",
        row.density,
        label=f"{row.name} by the table",
        unit=GRAMS_PER_MILLILITRE,
        backing=Backing(Origin.TABLE, row.source, row.evidence),
    )
    nominal = given("core_nominal", core.diameter, label="core wanted", unit=MILLIMETRES)
    evened = core.count**-0.5
    diameter = core_size(
        nominal=nominal,
        scatter=unknowns.scatter("core_diameter_spread", of_kind=evened * row.diameter_spread),
    )
    density = core_density(
        table=table,
        factor=unknowns.factor("core_density", core.material),
        scatter=unknowns.scatter(
            "core_density_ball_spread", of_kind=evened * row.density_ball_spread
        ),
    )
    if core.count == 1:
        return SizedCore(diameter, density, diameter)
    count = given("core_count", float(core.count), label="cores in one bait")
    return SizedCore(diameter, density, core_room(diameter=diameter, count=count))


def sizes(core: Core | None) -> str:
    """Cores in few words: none, one by its size, or how many of a size."""
    if core is None:
        return "none"
    size = show(core.diameter, "mm")
    return size if core.count == 1 else f"{core.count} x {size}"


def worked_in(core: Core | None, sized: SizedCore) -> Inclusion | None:
    """A few small cores as they lie in the paste; nothing for one in the middle, or none."""
    row = None if core is None else core_row(core.material)
    if core is None or row is None or core.count == 1:
        return None
    return Inclusion(
        name=f"{sizes(core)} {row.name}s",
        mass=sized.mass.labelled("cores"),
        volume=cores_volume(room=sized.room),
        material=row,
    )
