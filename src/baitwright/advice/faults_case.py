"""One symptom of one batch: what it hangs on, what is known, and what each number would move."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from baitwright.advice.causes_graph import Key, Other, ends_of, key_of, others
from baitwright.advice.causes_moved import Middles, Slip, slips
from baitwright.advice.causes_weighed import Floats
from baitwright.advice.faults_found import Ground
from baitwright.advice.faults_numbered import Hangs, Numbers, Read, Taken
from baitwright.advice.faults_tables import Symptom, held
from baitwright.batch.batch_plan import BatchPlan
from baitwright.terms.quantity import PerBait, PerBatch, Quantity
from baitwright.uncertainty.bands import median_of

SHARED = 0.3
"""How much of its spread a number keeps that the good batches have in common (judgement)."""
_BARE = 0.1
"""What stands for the spread of a sign that nothing moves, as a share of it (judgement)."""


@dataclass(frozen=True, slots=True)
class Known:
    """What is known of a batch beside its plan.

    ``then`` is the plan of the last good batch, ``good`` by name, worked out with the same draws;
    ``lots`` are parts of which another lot went in, each with words for it.
    """

    readings: tuple[Read, ...] = ()
    then: BatchPlan | None = None
    good: str = ""
    lots: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Certain:
    """What is known to have been otherwise: what the plan is worked out with, and what that moves.

    ``was_planned`` where it is the plan that differs: then it is worked out as it was before, and
    what that moves is what the difference moved, the other way round.
    """

    quantity: Quantity
    ground: Ground
    to: Any
    by: Floats
    was_planned: bool

    def moves(self, roots: Sequence[Quantity]) -> Floats:
        """By how much it moves other numbers."""
        key = {key_of(self.quantity): self.to}
        return -Middles(roots).moved(key) if self.was_planned else Middles(roots, held()).moved(key)


@dataclass(frozen=True, slots=True)
class Case:
    """A symptom of a batch, worked out.

    ``read`` are readings of what came out, ``unread`` those that were not taken. ``moved`` has a
    row for each sign, then for each reading taken, and a column for each number that may be off,
    one standard deviation higher; ``shares`` is how much of its own that is.
    """

    signs: tuple[Hangs, ...]
    read: tuple[Taken, ...]
    unread: tuple[Taken, ...]
    certain: tuple[Certain, ...]
    slips: tuple[Slip, ...]
    moved: Floats
    shares: Floats
    known: Known

    def worse(self, by: Floats) -> Floats:
        """How far each sign goes the wrong way, of what all roots move by."""
        ways = np.array([one.wrong_way for one in self.signs])
        return np.asarray((by[: len(self.signs)].T * ways).T)

    @property
    def spreads(self) -> Floats:
        """Each sign's standard deviation before anything is known, wider where it says less."""
        found = np.linalg.norm(self.moved[: len(self.signs)], axis=1)
        bare = [_BARE * abs(median_of(one.quantity)) or 1.0 for one in self.signs]
        weights = np.array([one.row.weight for one in self.signs])
        return np.asarray(np.where(found > 0.0, found, np.array(bare)) / weights)


def case_of(numbers: Numbers, symptom: Symptom, known: Known) -> Case:
    """Follow a symptom's signs up the plan, and move what is found there.

    Parameters
    ----------
    numbers: of the plan.
    symptom: what was noticed.
    known: what its record says, and what the good ones were.
    """
    signs = numbers.signs(symptom)
    every = tuple(numbers.taken(known.readings))
    done = tuple(one for one in every if one.row.is_held and one.read is not None)
    came_out = [one for one in every if not one.row.is_held]
    read = tuple(one for one in came_out if one.read is not None)
    unread = tuple(one for one in came_out if one.read is None)
    roots = [*(one.quantity for one in signs), *(one.quantity for one in read)]
    ends = (end for one in signs for end in ends_of(one.quantity, held()))
    sure = {key_of(one.quantity) for one in done}
    free = tuple(one for one in slips(ends) if one.key not in sure)
    made = Middles(roots, held())
    shares = np.array([_share(one, known) for one in free])
    certain = (*_planned(signs, roots, known), *_done(done, made))
    return Case(signs, read, unread, certain, free, made.columns(free) * shares, shares, known)


def _share(slip: Slip, known: Known) -> float:
    """What the good ones have in common, a lot or a law, is less to blame."""
    if not known.good:
        return 1.0
    other = {part for part, _ in known.lots}
    shared = slip.row.sort == "model" or (slip.row.lot != "" and slip.row.lot not in other)
    return SHARED if shared else 1.0


def _planned(signs: Iterable[Hangs], roots: list[Quantity], known: Known) -> Iterator[Certain]:
    """What was planned otherwise, held against what would come of it as it was then."""
    apart = tuple(_others(signs, known))
    planned = Middles(roots) if apart else None
    for one in apart:
        drawn = isinstance(one.then.value, PerBatch | PerBait)
        then = median_of(one.then) if drawn else one.then.value
        if planned is not None:
            by = -planned.moved({key_of(one.now): then})
            yield Certain(one.now, Ground.differs(one, known.good), then, by, was_planned=True)


def _done(every: Iterable[Taken], made: Middles) -> Iterator[Certain]:
    """What was done otherwise than the plan says."""
    for one in every:
        if one.read is not None:
            to = one.read.value
            by = made.moved({key_of(one.quantity): to})
            ground = Ground.done(one.row, one.quantity, to)
            yield Certain(one.quantity, ground, to, by, was_planned=False)


def _others(signs: Iterable[Hangs], known: Known) -> Iterator[Other]:
    """Where the plan differs from the last good batch's, above any of the signs; each once."""
    if known.then is None:
        return
    then = Numbers.of_plan(known.then)
    found: dict[Key, Other] = {}
    for one in signs:
        before = then.named(one.quantity.name, one.quantity.label)
        for each in others(one.quantity, before[0]) if before else ():
            found.setdefault(key_of(each.now), each)
    yield from found.values()
