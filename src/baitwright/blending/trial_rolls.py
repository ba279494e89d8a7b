"""A few eggs rolled before a changed mix is trusted: the old one, the new one, and either side."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.blending.analysis import MixAnalysis
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given
from baitwright.terms.units import GRAMS, PERCENT

_SIDES = (("less", 0.25), ("more", 0.75))
"""The middle half of what is predicted lies between the two (judgement)."""
_SPARE = 0.1
_JUDGED = Backing(Origin.DEFAULT, "judgement", Evidence.JUDGEMENT)


@declared(
    "uptake_to_try",
    label="dry mix for one egg, to be tried",
    unit=GRAMS,
    equation="the predicted dry mix per egg that is not exceeded with this chance",
    source="definition",
)
def uptake_to_try(predicted: Any, chance: Any) -> Any:
    """Dry mix for a roll on either side of what is predicted."""
    return float(np.quantile(np.asarray(predicted), chance))


@declared(
    "roll_weighs",
    label="paste of one roll",
    unit=GRAMS,
    equation="egg + dry mix",
    source="definition",
)
def roll_weighs(egg: Any, dry_mix: Any) -> Any:
    """Paste of one egg, without its liquids."""
    return egg + dry_mix


@declared(
    "mix_for_rolls",
    label="finished mix for the test rolls",
    unit=GRAMS,
    equation="(1 + spare) x the sum over the rolls",
    source="judgement",
)
def mix_for_rolls(spare: Any, **rolls: Any) -> Any:
    """New mix for all rolls of it, with some to dust with."""
    return (1.0 + spare) * sum(float(np.median(one)) for one in rolls.values())


@declared(
    "part_for_rolls",
    label="of the raw base for the test rolls",
    unit=GRAMS,
    equation="raw base x its share",
    source="definition",
)
def part_for_rolls(raw: Any, share: Any) -> Any:
    """One ingredient to weigh for the test rolls."""
    return raw * share


@dataclass(frozen=True, slots=True)
class Roll:
    """One egg rolled: of which mix, why, with how much dry mix, to how much paste."""

    mix: str
    why: str
    dry_mix: Quantity
    paste: Quantity


@dataclass(frozen=True, slots=True)
class TrialRolls:
    """Rolls of one egg each, and the new mix they take together [kg]."""

    rolls: tuple[Roll, ...]
    new_mix: Quantity

    @property
    def eggs(self) -> int:
        """Eggs for all of them."""
        return len(self.rolls)


def trial_rolls(before: MixAnalysis, after: MixAnalysis, *, with_old: bool) -> TrialRolls:
    """The rolls that tell whether a new mix does what the old one did.

    Parameters
    ----------
    before, after: the old mix and the new one.
    with_old: whether there is old mix left to roll beside it.
    """
    names = [one.told.base.name for one in (before, after)]
    old, new = before.bowl.dry_mix, after.bowl.dry_mix
    tried = {
        side: uptake_to_try(
            predicted=new,
            chance=given("chance", part, label="chance", unit=PERCENT, backing=_JUDGED),
        )
        for side, part in _SIDES
    }
    rolls = [("as before, to set the others beside", names[0], old)] if with_old else []
    rolls += [
        ("as predicted", names[1], new),
        ("with less: is it still dry enough to roll?", names[1], tried["less"]),
        ("with more: does it still not crack?", names[1], tried["more"]),
    ]
    spare = given("spare", _SPARE, label="to dust with", unit=PERCENT, backing=_JUDGED)
    uptakes = {"predicted": new, **tried}
    return TrialRolls(
        tuple(
            Roll(name, why, mix, roll_weighs(egg=after.bowl.egg, dry_mix=mix))
            for why, name, mix in rolls
        ),
        mix_for_rolls(spare=spare, **uptakes),
    )
