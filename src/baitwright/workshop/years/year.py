"""A year of the notebook: what was made, what it cost, what went wrong, what was learned."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal

from baitwright.ledger.movements import NOTHING, Reason
from baitwright.ledger.price import Margin
from baitwright.ledger.sales import margins
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import State
from baitwright.workshop.nights.fished_nights import nights_fished
from baitwright.workshop.years.year_book import Paid, YearBook
from baitwright.workshop.years.year_learned import YearLearned, learned_in
from baitwright.workshop.years.year_wrong import YearWrong, wrong_in

FIRST, MONTHS = 1900, 12


@dataclass(frozen=True, slots=True)
class RecipeMade:
    """Batches of a recipe, the good baits they gave, and what went into them."""

    recipe: str
    batches: int
    baits: int
    cost: Paid


@dataclass(frozen=True, slots=True)
class YearReport:
    """One year; ``months`` has the good baits of each, ``sold`` what orders left, if any was sent.

    ``bought`` is what came in for money, ``unordered`` what went out sold without an order.
    ``so_far`` is whether the year is not over.
    """

    year: int
    so_far: bool
    made: tuple[RecipeMade, ...]
    planned: int
    months: tuple[int, ...]
    cost: Paid
    bought: Paid
    sold: Margin | None
    unordered: Paid
    wrong: YearWrong
    learned: YearLearned

    @property
    def batches(self) -> int:
        """How many batches were made."""
        return sum(one.batches for one in self.made)

    @property
    def baits(self) -> int:
        """How many good baits they gave."""
        return sum(one.baits for one in self.made)

    @property
    def each(self) -> Decimal:
        """What a good bait cost on the whole; nothing where there is none."""
        return self.cost.value / self.baits if self.baits else NOTHING


def year_typed(told: str, *, now: datetime) -> int:
    """A year as it is typed; this one where nothing is.

    Raises
    ------
    InputError: it is no year.
    """
    typed = told.strip()
    if not typed:
        return now.year
    if not (typed.isascii() and typed.isdigit() and len(typed) == len(str(now.year))):
        raise InputError("year", told, f"a year such as {now.year}")
    return int(typed)


def year_report(book: Notebook, year: int, *, now: datetime) -> YearReport:
    """A year as the notebook has it; days are those of the clock that ``now`` is told by.

    Raises
    ------
    InputError: no year of the calendar, or one that is still to come.
    """
    if not FIRST <= year <= now.year:
        raise InputError("year", year, f"a year from {FIRST} to {now.year}")
    nights = nights_fished(book)
    with book.reading() as page:
        kept = YearBook(page, year, now=now)
        months = [
            sum(one.baits for one in kept.made if one.day.month == month)
            for month in range(1, MONTHS + 1)
        ]
        return YearReport(
            year=year,
            so_far=year == now.year,
            made=tuple(_by_recipe(kept)),
            planned=_planned(kept),
            months=tuple(months),
            cost=kept.paid(line for one in kept.made for line in one.used),
            bought=kept.paid(kept.of(Reason.BOUGHT)),
            sold=margins(kept.sales, lambda _: "").get(""),
            unordered=kept.paid(kept.unordered),
            wrong=wrong_in(kept, nights.doubtful),
            learned=learned_in(kept, nights.nights),
        )


def _by_recipe(kept: YearBook) -> Iterator[RecipeMade]:
    for recipe in sorted({one.recipe for one in kept.made}, key=str.casefold):
        own = [one for one in kept.made if one.recipe == recipe]
        cost = kept.paid(line for one in own for line in one.used)
        yield RecipeMade(recipe, len(own), sum(one.baits for one in own), cost)


def _planned(kept: YearBook) -> int:
    """Batches of the year that still wait to be made."""
    bodies = (one.body or {} for one in kept.batches)
    return sum(
        body["state"] == State.PLANNED and body["day"].startswith(f"{kept.year}-")
        for body in bodies
    )
