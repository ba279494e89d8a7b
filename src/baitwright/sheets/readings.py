"""The readings asked for as things to do: what is done in one go carries one number."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.prove import Measurement

_TOGETHER = (
    ("the tub, before and after", ("tub_used",)),
    ("twenty baits, fresh and after 8 h", ("twenty_fresh", "twenty_at_8h")),
    ("one dried bait, weighed and pushed under", ("cup_weight", "cup_rise")),
)


@dataclass(frozen=True, slots=True)
class Action:
    """One thing to do and the readings it gives, each with its mark such as ``2 (a)``."""

    number: int
    words: str
    readings: tuple[tuple[str, Measurement], ...]


def actions(plan: BatchPlan) -> tuple[Action, ...]:
    """Every action asked for, in order; a reading that belongs to no other is one of its own."""
    asked = {one.name: one for one in plan.prove}
    groups = [
        (words, tuple(asked.pop(name) for name in names if name in asked))
        for words, names in _TOGETHER
    ]
    wholes = [len(names) for _, names in _TOGETHER] + [1] * len(asked)
    groups += [(one.predicted.label, (one,)) for one in asked.values()]
    held = [
        (readings[0].predicted.label if len(readings) < whole else words, readings)
        for (words, readings), whole in zip(groups, wholes, strict=True)
        if readings
    ]
    return tuple(
        Action(number, words, _marked(number, readings))
        for number, (words, readings) in enumerate(held, 1)
    )


def _marked(number: int, readings: tuple[Measurement, ...]) -> tuple[tuple[str, Measurement], ...]:
    if len(readings) == 1:
        return ((str(number), readings[0]),)
    return tuple((f"{number} ({'abcdefgh'[at]})", one) for at, one in enumerate(readings))
