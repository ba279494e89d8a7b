"""What went wrong in a year: complaints, cancelled batches, readings outside, lots and losses."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from baitwright.ledger.movements import Counted, Reason
from baitwright.workshop.batches.batch_beside import Beside, beside
from baitwright.workshop.batches.batch_hours import State
from baitwright.workshop.forms.form import DAY
from baitwright.workshop.nights.counted_rods import Doubtful, said_in
from baitwright.workshop.shelf.lots import LOT
from baitwright.workshop.shelf.stock import counted_as
from baitwright.workshop.years.year_book import Paid, YearBook


@dataclass(frozen=True, slots=True)
class Complaint:
    """A complaint by its record's name, what it says, of which bag, and whether it is settled."""

    name: str
    what: str
    bag: str
    is_open: bool


@dataclass(frozen=True, slots=True)
class Missed:
    """A reading that lay outside the band of four in five."""

    batch: str
    reading: Beside


@dataclass(frozen=True, slots=True)
class Named:
    """A batch or a lot by its name, what it is of, and why it stands here."""

    name: str
    of: str
    why: str


@dataclass(frozen=True, slots=True)
class Lost:
    """So much of an item that was lost, thrown away or not found again, and what it was worth."""

    item: str
    amount: int
    counted: Counted
    cost: Paid


@dataclass(frozen=True, slots=True)
class YearWrong:
    """All that went wrong; ``aside`` are lots put into quarantine in the year and still there."""

    complaints: tuple[Complaint, ...]
    cancelled: tuple[Named, ...]
    missed: tuple[Missed, ...]
    aside: tuple[Named, ...]
    lost: tuple[Lost, ...]
    doubtful: tuple[Doubtful, ...]

    @property
    def is_nothing(self) -> bool:
        """Whether nothing did."""
        every = (self.complaints, self.cancelled, self.missed, self.aside, self.lost, self.doubtful)
        return not any(every)


def wrong_in(kept: YearBook, doubtful: Iterable[Doubtful]) -> YearWrong:
    """What went wrong in a year.

    Parameters
    ----------
    kept: the year's book.
    doubtful: what of the nights of all years cannot be counted as it stands.
    """
    of_year = f"{kept.year}-"
    nights = {one.name for one in kept.page.all("night") if said_in(one, DAY).startswith(of_year)}
    return YearWrong(
        complaints=tuple(_complaints(kept, of_year)),
        cancelled=tuple(
            Named(one.name, said_in(one, "about"), one.reason)
            for one in kept.batches
            if said_in(one, "state") == State.CANCELLED and said_in(one, "day").startswith(of_year)
        ),
        missed=tuple(
            Missed(one.batch.name, reading)
            for one in kept.made
            for reading in beside(one.batch.body or {})
            if reading.is_outside
        ),
        aside=tuple(
            Named(one.name, said_in(one, "item"), said_in(one, "why"))
            for one in kept.page.all(LOT)
            if (one.body or {}).get("quarantined") and kept.day_of(one.time).year == kept.year
        ),
        lost=tuple(_lost(kept)),
        doubtful=tuple(one for one in doubtful if one.night in nights),
    )


def _complaints(kept: YearBook, of_year: str) -> Iterator[Complaint]:
    for one in kept.page.all("complaint"):
        if said_in(one, DAY).startswith(of_year):
            is_open = said_in(one, "state") != "closed"
            yield Complaint(one.name, said_in(one, "what"), said_in(one, "bag"), is_open)


def _lost(kept: YearBook) -> Iterator[Lost]:
    """What was lost, or missing when it was counted; what a count found over is not set off."""
    gone = [line for line in kept.of(Reason.LOST, Reason.COUNTED) if line.amount < 0]
    for item in sorted({line.item for line in gone}, key=str.casefold):
        own = [line for line in gone if line.item == item]
        amount = -sum(line.amount for line in own)
        yield Lost(item, amount, counted_as(kept.page, item), kept.paid(own))
