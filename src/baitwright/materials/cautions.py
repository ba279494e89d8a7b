"""Cautions, each for the step where it matters, with country, date and source."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass

from baitwright.materials.countries import ANYWHERE, rules_hold
from baitwright.materials.tables import Row, load, one_of

STAGES = (
    "shelf",
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
    "post",
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
    "flash-point-60-to-93C",
    "corrosive",
    "skin-irritant",
    "eye-hazard",
    "skin-sensitiser",
    "breath-sensitiser",
    "harmful-swallowed",
    "harmful-through-skin",
    "harmful-breathed",
    "aspiration",
    "lasting-harm",
    "water-life",
    "other-hazard",
    "no-sheet",
    "liquid",
    "pets-theobromine",
    "pets-caffeine",
    "pets-garlic",
    "pets-salt",
    "pets-xylitol",
    "aflatoxin",
    "particles",
    "raw-pulses",
    "frozen",
)
__all__ = ["ANYWHERE", "STAGES", "TRIGGERS", "Caution", "cautions", "raised"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Caution(Row):
    """One caution: at which stage, raised by what, where it holds and when that was checked.

    ``country`` may name several, parted by semicolons; ``ask`` is whom to ask what applies.
    """

    stage: str = one_of(*STAGES)
    trigger: str = one_of(*TRIGGERS)
    country: str
    checked_on: str
    text: str
    ask: str = ""

    def holds_in(self, country: str) -> bool:
        """Whether it is to be told in a country; in one that is not known here all are."""
        places = frozenset(part.strip() for part in self.country.split(";"))
        return rules_hold(places, country)

    @property
    def place(self) -> str:
        """Where it holds, as it is put in front of its text; nothing where it holds anywhere."""
        return "" if self.country == ANYWHERE else self.country.replace(";", ",")


def cautions() -> Mapping[str, Caution]:
    """Every caution by id."""
    return load("cautions", Caution)


def raised(triggers: Collection[str], country: str = "") -> tuple[Caution, ...]:
    """The cautions these triggers raise, in the order of the stages.

    Parameters
    ----------
    triggers: what the batch has about it; ``"always"`` need not be named
    country: those of this country besides those that hold anywhere; those of every country if it
        is not given or none of those known here

    Raises
    ------
    ValueError: a trigger that is not known.
    """
    wanted = {"always", *triggers}
    unknown = wanted - set(TRIGGERS)
    if unknown:
        raise ValueError(f"no such trigger: {sorted(unknown)}")
    found = [row for row in cautions().values() if row.trigger in wanted and row.holds_in(country)]
    return tuple(sorted(found, key=lambda row: STAGES.index(row.stage)))
