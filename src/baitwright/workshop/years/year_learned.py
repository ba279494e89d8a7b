"""What a year taught: how well plans held, what readings came to, nights, tests and recipes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from statistics import median

from baitwright.notebook.page import Revision
from baitwright.workshop.batches.batch_beside import label_of
from baitwright.workshop.batches.batch_hours import State
from baitwright.workshop.factors.running_score import Score, running_score
from baitwright.workshop.forms.form import DAY
from baitwright.workshop.nights.counted_rods import said_in
from baitwright.workshop.nights.fished_nights import Night
from baitwright.workshop.years.year_book import YearBook

RECIPE = "recipe"


@dataclass(frozen=True, slots=True)
class Held:
    """A reading over the batches of a year: its score, and the middle of read over planned."""

    label: str
    score: Score
    over_planned: float

    @property
    def inside(self) -> str:
        """How many readings lay in their bands."""
        return f"{self.score.inside} of {self.score.of} inside"


@dataclass(frozen=True, slots=True)
class Caught:
    """What a bait had; in no order of merit."""

    bait: str
    nights: int
    bites: int
    rod_hours: float


@dataclass(frozen=True, slots=True)
class YearLearned:
    """What a year taught.

    ``score`` is of the year's readings, ``before`` of all earlier years'. ``recipes`` has those
    that got new versions, with how many; ``nights`` counts those with a rod that can be counted.
    """

    score: Score | None
    before: Score | None
    readings: tuple[Held, ...]
    baits: tuple[Caught, ...]
    nights: int
    blanks: int
    tests: int
    questions: int
    recipes: tuple[tuple[str, int], ...]


def learned_in(kept: YearBook, nights: Sequence[Night]) -> YearLearned:
    """What a year taught.

    Parameters
    ----------
    kept: the year's book.
    nights: of all years, as far as they can be counted.
    """
    fished = [one for one in nights if one.day.startswith(f"{kept.year}-")]
    made = [one.batch for one in kept.made]
    blank = (not any(rod.fished.bites for rod in one.rods) for one in fished)
    return YearLearned(
        score=running_score(made),
        before=running_score(_before(kept)),
        readings=tuple(_held(made)),
        baits=tuple(_caught(fished)),
        nights=len(fished),
        blanks=sum(blank),
        tests=_many(kept, "test"),
        questions=_many(kept, "question"),
        recipes=tuple(_recipes(kept)),
    )


def _before(kept: YearBook) -> Iterator[Revision]:
    for one in kept.batches:
        if said_in(one, "state") == State.MADE and said_in(one, "day")[:4] < str(kept.year):
            yield one


def _held(made: Sequence[Revision]) -> Iterator[Held]:
    bodies = [one.body or {} for one in made]
    for name in dict.fromkeys(name for body in bodies for name in body["predicted"]):
        taken = [
            (*body["predicted"][name], body["actual"][name])
            for body in bodies
            if name in body["predicted"] and name in body["actual"]
        ]
        if taken:
            inside = sum(low <= read <= high for low, _, high, read in taken)
            over = median(read / middle for _, middle, _, read in taken)
            yield Held(label_of(name), Score(inside, len(taken)), over)


def _caught(fished: Sequence[Night]) -> Iterator[Caught]:
    by_night = [one.by_bait() for one in fished]
    for bait in sorted({name for one in by_night for name in one}, key=str.casefold):
        own = [one[bait] for one in by_night if bait in one]
        bites = sum(one.bites for one in own)
        yield Caught(bait, len(own), bites, sum(one.rod_hours for one in own))


def _many(kept: YearBook, kind: str) -> int:
    every = kept.page.all(kind)
    return sum(said_in(one, DAY).startswith(f"{kept.year}-") for one in every)


def _recipes(kept: YearBook) -> Iterator[tuple[str, int]]:
    for name in kept.page.names(RECIPE):
        every = kept.page.history(RECIPE, name)
        new = sum(kept.day_of(one.time).year == kept.year for one in every)
        if new:
            yield name, new
