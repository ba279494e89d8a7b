"""Cautions, each for the step where it matters, with country, date and source."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from baitwright.materials.tables import Row, load, one_of

STAGES = (
    "eggs",
    "dose",
    "mix",
    "roll",
    "boil",
    "coat",
    "dry",
    "glug",
    "keep",
    "pack",
    "fish",
    "sell",
)
TRIGGERS = (
    "always",
    "raw-egg",
    "dust",
    "flash-point-below-60C",
    "sensitiser",
    "glass-dust",
    "dye",
    "sweetener",
    "preservative",
    "glug",
    "coat",
    "allergens",
    "hot-water",
    "small-parts",
    "moist-bait",
    "lead-shot",
    "nuts",
    "neat-essential-oil",
    "acid",
    "enzyme",
    "essential-oil-over-limit",
    "selling",
    "pets",
    "leftovers",
)
ANYWHERE = "any"
_TOGETHER = {"GB": ("England",), "England": ("GB",)}  # a rule of one is told in the other


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution(Row):
    """One caution: at which stage, raised by what, where it holds and when that was checked."""

    stage: str = one_of(*STAGES)
    trigger: str = one_of(*TRIGGERS)
    country: str
    checked_on: str
    text: str


def cautions() -> Mapping[str, Caution]:
    """Every caution by id."""
    return load("cautions", Caution)


def raised(triggers: Collection[str], country: str = "") -> tuple[Caution, ...]:
    """The cautions these triggers raise, in the order of the stages.

    Parameters
    ----------
    triggers: what the batch has about it; ``"always"`` need not be named
    country: those of this country besides those that hold anywhere; every country if not given

    Raises
    ------
    ValueError: a trigger that is not known.
    """
    wanted = {"always", *triggers}
    unknown = wanted - set(TRIGGERS)
    if unknown:
        raise ValueError(f"no such trigger: {sorted(unknown)}")
    places = {ANYWHERE, country, *_TOGETHER.get(country, ())}
    found = [
        row
        for row in cautions().values()
        if row.trigger in wanted and (not country or row.country in places)
    ]
    return tuple(sorted(found, key=lambda row: STAGES.index(row.stage)))
