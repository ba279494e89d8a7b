"""Parts stirred together: what a dry mix holds, weighs and costs, number by number."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from baitwright.blending.components import Component
from baitwright.blending.figures import METABOLISABLE
from baitwright.materials.tables import CONSTITUENTS
from baitwright.terms.quantity import Quantity, declared
from baitwright.terms.units import (
    GRAMS_PER_GRAM,
    GRAMS_PER_MILLILITRE,
    KILOJOULES_PER_100_GRAMS,
    PERCENT,
    Unit,
)

BLENDED = (*CONSTITUENTS, METABOLISABLE, "water holding")
"""Figures of a mix that are the sum of what its parts bring."""
GROSS = "gross energy"


@declared(
    "part_brings",
    label="what a part brings",
    equation="share x figure",
    source="definition",
)
def part_brings(share: Any, figure: Any) -> Any:
    """What one part brings of a figure to a kilogram of the mix."""
    return share * figure


@declared(
    "mix_holds",
    label="what the mix holds",
    equation="the sum over its parts",
    source="definition",
)
def mix_holds(**parts: Any) -> Any:
    """What all parts bring together."""
    return sum(parts.values(), 0.0)


@declared(
    "gross_energy_of",
    label="gross energy",
    unit=KILOJOULES_PER_100_GRAMS,
    equation="23.6 protein + 39.5 fat + 17.2 (carbohydrate + fibre) kJ/g",
    source="recalled",
    note="heat of burning all of it; within about 3 % of five feed tables",
)
def gross_energy_of(protein: Any, fat: Any, carbohydrate: Any, fibre: Any) -> Any:
    """Gross energy from composition [J/kg]."""
    return 23.6e6 * protein + 39.5e6 * fat + 17.2e6 * (carbohydrate + fibre)


@declared(
    "room_of_part",
    label="room a part takes",
    unit=Unit("m3/kg", ""),
    equation="share / density",
    source="definition",
)
def room_of_part(share: Any, density: Any) -> Any:
    """Volume that one part brings to a kilogram of the mix."""
    return share / density


@declared(
    "blend_density",
    label="dry mix without its air",
    unit=GRAMS_PER_MILLILITRE,
    equation="density = doubt / (the sum of the room its parts take)",
    source="choi-okos-1986",
    note="volumes add; a density given of a part wins over the one from its composition",
)
def blend_density(doubt: Any, **parts: Any) -> Any:
    """True density of a mix."""
    return doubt / sum(parts.values())


@declared(
    "blend_bulk_density",
    label="dry mix poured loosely",
    unit=GRAMS_PER_MILLILITRE,
    equation="density = 1 / (the sum of the room its parts take when poured)",
    source="judgement",
    note="fine grains fill the gaps of coarse ones and a mix pours denser: fill a cup and weigh",
)
def blend_bulk_density(**parts: Any) -> Any:
    """Bulk density of a mix whose parts lie side by side."""
    return 1.0 / sum(parts.values())


_UNITS = {
    **dict.fromkeys(CONSTITUENTS, PERCENT),
    METABOLISABLE: KILOJOULES_PER_100_GRAMS,
    "water holding": GRAMS_PER_GRAM,
}


def lacking(parts: Iterable[Component], figure: str) -> tuple[str, ...]:
    """The parts of which nobody tells a figure: the mix's is unknown then, and not nothing."""
    return tuple(one.name for one in parts if figure not in one.figures)


def held(parts: Sequence[Component]) -> dict[str, Quantity]:
    """What a mix holds of every figure that all of its parts tell."""
    found = {
        name: summed(_brought(parts, name), f"{name} of the dry mix", _UNITS[name])
        for name in BLENDED
        if not lacking(parts, name)
    }
    burns = ("protein", "fat", "carbohydrate", "fibre")
    if all(name in found for name in burns):
        found[GROSS] = gross_energy_of(**{name: found[name] for name in burns}).labelled(
            "gross energy of the dry mix"
        )
    return found


def _brought(parts: Sequence[Component], name: str) -> dict[str, Quantity]:
    unit = _UNITS[name]
    return {
        f"part_{at}": in_units(
            part_brings(share=one.share, figure=one.figures[name]), unit
        ).labelled(f"{name} from {one.name}")
        for at, one in enumerate(parts, start=1)
    }


def summed(parts: Mapping[str, Quantity], label: str, unit: Unit) -> Quantity:
    """Parts of one unit added up."""
    return in_units(mix_holds(**parts), unit).labelled(label)


def in_units(quantity: Quantity, unit: Unit) -> Quantity:
    """A sum or product of figures, in the unit of the figure."""
    return replace(quantity, unit=unit.si, shown=unit.shown)


def density_of(parts: Sequence[Component], doubt: Quantity) -> Quantity | None:
    """The mix without its air; none where a part's density is unknown."""
    rooms = _rooms(parts, "density")
    return None if rooms is None else blend_density(doubt=doubt, **rooms)


def bulk_density_of(parts: Sequence[Component]) -> Quantity | None:
    """The mix poured loosely; none where a part's bulk density is unknown."""
    rooms = _rooms(parts, "bulk density")
    return None if rooms is None else blend_bulk_density(**rooms)


def _rooms(parts: Sequence[Component], name: str) -> dict[str, Quantity] | None:
    if lacking(parts, name):
        return None
    return {
        f"part_{at}": room_of_part(share=one.share, density=one.figures[name]).labelled(
            f"room of {one.name}"
        )
        for at, one in enumerate(parts, start=1)
    }
