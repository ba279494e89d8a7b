"""Pot, hook and tub of a bench file."""

from __future__ import annotations

from typing import Annotated

from baitwright.materials import hooks
from baitwright.quantities import Kind
from baitwright.recipe.bench import Frozen, Quench, ThawsIn
from baitwright.terms.errors import InputError
from baitwright.workshop.typed.fields import Reads, measured, number
from baitwright.workshop.typed.reading import Table
from baitwright.workshop.typed.words import word


class PotTable(Table):
    """The pot: its water, its heat, its load."""

    water: Annotated[
        float | None,
        measured(Kind.VOLUME, "0.2 l", "50 l", example="3 l", about="Water in the pot."),
    ] = None
    power: Annotated[
        float | None,
        measured(
            Kind.POWER, "0.1 kW", "20 kW", example="1.5 kW", about="Heat that reaches the water."
        ),
    ] = None
    basket: Annotated[int | None, number(1, 1000, example=25, about="Baits in one load.")] = None
    salt: Annotated[
        float | None, measured(Kind.MASS, "0 g", "2 kg", example="30 g", about="Salt in its water.")
    ] = None
    boils_at: Annotated[
        float | None,
        measured(
            Kind.TEMPERATURE, "80 C", "101 C", example="98 C", about="Read off a thermometer."
        ),
    ] = None
    quench: Annotated[
        Quench | None,
        word(Quench, about="What boiled baits are dropped into; left out, they cool in air."),
    ] = None


_SIZES = tuple(row.size for row in hooks.hooks().values())


def _hook_size() -> Reads:
    accepted = f"a size of {', '.join(map(str, _SIZES))}, or the weight of one as mass"

    def known(value: object) -> int:
        if isinstance(value, bool) or not isinstance(value, int) or value not in _SIZES:
            raise InputError("", value, accepted)
        return value

    about = "Its size; no standard ties it to a weight."
    return Reads(known, accepted, about, {"type": "integer", "enum": list(_SIZES)})


class BenchHookTable(Table):
    """The hook by its size, or better, weighed."""

    size: Annotated[int | None, _hook_size()] = None
    mass: Annotated[
        float | None,
        measured(Kind.MASS, "0.01 g", "5 g", example="0.26 g", about="One hook, weighed."),
    ] = None


class BenchTubTable(Table):
    """A tub of prepared mix: the one on the table, or the weight wanted of a new one."""

    mass: Annotated[
        float | None,
        measured(Kind.MASS, "10 g", "100 kg", example="550 g", about="Prepared, on the table."),
    ] = None
    wanted: Annotated[
        float | None, measured(Kind.MASS, "10 g", "100 kg", example="1 kg", about="To be prepared.")
    ] = None


class FrozenTable(Table):
    """A pack from the freezer, wanted for this batch or for the outing."""

    what: Annotated[Frozen, word(Frozen, about="Egg or paste for the batch; baits for the outing.")]
    thickness: Annotated[
        float | None,
        measured(Kind.LENGTH, "3 mm", "30 cm", example="3 cm", about="As it was frozen."),
    ] = None
    thaws_in: Annotated[ThawsIn, word(ThawsIn, about="Where it thaws.")] = ThawsIn.FRIDGE
