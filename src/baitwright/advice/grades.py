"""Evidence grades: what a statement to somebody rests on, read off the numbers it is made of."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Origin, Quantity


class Grade(StrEnum):
    """What stands behind a statement, the surest first.

    ``TOLD`` is what the asker said of their own eggs, mix or bottle.
    """

    TOLD = "as you told me"
    MEASURED = "measured by me"
    PUBLISHED = "published"
    PRACTICE = "common practice"
    JUDGEMENT = "judgement"


_SUREST_FIRST = tuple(Grade)
_OF_EVIDENCE: Mapping[Evidence, Grade] = {
    Evidence.MEASURED: Grade.MEASURED,
    Evidence.READ: Grade.PUBLISHED,
    Evidence.COMPUTED: Grade.PUBLISHED,
    Evidence.PRACTICE: Grade.PRACTICE,
    Evidence.MEMORY: Grade.JUDGEMENT,  # a figure that nobody has looked up again
    Evidence.JUDGEMENT: Grade.JUDGEMENT,
}


def grade_of(evidence: Evidence) -> Grade:
    """The grade of a number of a table, by what its row says of itself."""
    return _OF_EVIDENCE[evidence]


@dataclass(frozen=True, slots=True)
class Footing:
    """What a statement stands on: its grade, the weakest thing under it, and where that is from.

    ``source`` is a key of the bibliography, or nothing for what somebody told.
    """

    grade: Grade
    rests_on: str = ""
    source: str = ""


TOLD = Footing(Grade.TOLD)


def weakest(footings: Iterable[Footing]) -> Footing:
    """The weakest of several, the first of those alike; what was told where there is none."""
    return max(footings, key=lambda one: _SUREST_FIRST.index(one.grade), default=TOLD)


def footing_of(quantity: Quantity, movers: Iterable[str] = ()) -> Footing:
    """What a number stands on: the weakest of everything that it was computed from.

    ``movers`` are labels of what moves it, the most first: of several that are as weak as each
    other the one that moves it most is named.
    """
    rank = {label: at for at, label in enumerate(movers)}
    leaves = [_of_leaf(one) for one in quantity.walk() if _is_leaf(one)]
    return weakest(sorted(leaves, key=lambda one: rank.get(one.rests_on, len(rank))))


def _is_leaf(one: Quantity) -> bool:
    return not one.inputs and one.origin is not Origin.COMPUTED and one.source != "definition"


def _of_leaf(one: Quantity) -> Footing:
    return Footing(grade_of(one.evidence), one.label, one.source)
