"""A year in lines: what was made, what it cost, what went wrong, what was learned."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.quantities import tidy
from baitwright.sheets.wording import count_of
from baitwright.workshop.factors.running_score import Score
from baitwright.workshop.told.worth_words import percent, worth
from baitwright.workshop.typed.amounts import in_words
from baitwright.workshop.years.year import YearReport
from baitwright.workshop.years.year_book import Paid
from baitwright.workshop.years.year_learned import Caught, Held, YearLearned
from baitwright.workshop.years.year_wrong import Complaint, Missed, Named

NOTHING_WRONG = "Nothing that was written down."
NOTHING_MADE = "No batch was made."
NOTHING_LEARNED = "No reading, night, test or question was written down."


def made_told(told: YearReport) -> Iterator[str]:
    """Batches and baits, by recipe."""
    if not told.made:
        yield NOTHING_MADE
    for one in told.made:
        made = f"{count_of(one.batches, 'batch', 'batches')}, {count_of(one.baits, 'good bait')}"
        yield f"{one.recipe}: {made}, {_paid(one.cost)}"
    if told.planned:
        yield f"{count_of(told.planned, 'batch', 'batches')} still planned"


def cost_told(told: YearReport) -> Iterator[str]:
    """What went into the batches, what was bought, and what was sold."""
    yield f"Into batches went {_paid(told.cost)}."
    if told.baits and told.cost.value:
        least = "" if told.cost.whole else " at least"
        yield f"A good bait cost {told.each:.4f}{least} on the whole."
    yield f"Bought: {_paid(told.bought)}."
    if told.sold is not None:
        most = "" if told.sold.whole else " at most"
        taken = (
            f"Orders took {told.sold.taken:.2f} without VAT and left {told.sold.money:.2f}{most}"
        )
        yield f"{taken}, {percent(told.sold.share)}{most}."
    if told.unordered.value or told.unordered.unpriced:
        yield f"Sold without an order, price unknown: stock worth {_paid(told.unordered)}."


def wrong_told(told: YearReport) -> Iterator[str]:
    """What went wrong, the customers' words first."""
    wrong = told.wrong
    if wrong.is_nothing:
        yield NOTHING_WRONG
    yield from map(_complaint, wrong.complaints)
    yield from (f"cancelled: {_named(one)}" for one in wrong.cancelled)
    yield from map(_missed, wrong.missed)
    yield from (f"in quarantine: {_named(one)}" for one in wrong.aside)
    for one in wrong.lost:
        gone = f"{in_words(one.amount, one.counted)} {one.item}"
        yield f"lost or not found: {gone}, {_paid(one.cost)}"
    for doubt in wrong.doubtful:
        still = ", counted all the same" if doubt.counted else ", left out"
        yield f"night {doubt.night} {doubt.said}{still}"


def learned_told(told: YearReport) -> Iterator[str]:
    """How well plans held, then what nights, tests and recipes told."""
    learned = told.learned
    readings = [*score_told(learned), *map(_held, learned.readings)]
    nights = [*nights_told(learned), *map(_caught, learned.baits)]
    yield from [*readings, *nights, *besides_told(learned)] or [NOTHING_LEARNED]


def score_told(learned: YearLearned) -> Iterator[str]:
    """How many readings lay in their bands, beside the years before."""
    if learned.score is not None:
        before = f"; before, {_score(learned.before)}" if learned.before else ""
        yield f"{_score(learned.score)} (four in five should be){before}"


def nights_told(learned: YearLearned) -> Iterator[str]:
    """How many nights there were, above what each bait had."""
    if learned.nights:
        nights = f"{count_of(learned.nights, 'night')}, {learned.blanks} of them blank"
        yield f"{nights}; baits in no order of merit:"


def besides_told(learned: YearLearned) -> Iterator[str]:
    """Tests, questions and recipes."""
    if learned.tests:
        yield f"{count_of(learned.tests, 'bottle test')} written down"
    if learned.questions:
        yield f"{count_of(learned.questions, 'question')} answered"
    for name, many in learned.recipes:
        yield f"recipe {name}: {count_of(many, 'version')} written"


def _missed(one: Missed) -> str:
    """A reading outside its band."""
    read = one.reading
    return f"batch {one.batch}, {read.label}: {read.was}, planned {read.planned} ({read.band})"


def _paid(told: Paid) -> str:
    """Money of a year."""
    return worth(told.value, told.unpriced)


def _complaint(one: Complaint) -> str:
    of = f", {one.bag}" if one.bag else ""
    return f"complaint {one.name}{of}, {'open' if one.is_open else 'closed'}: {one.what}"


def _named(one: Named) -> str:
    return f"{one.name}, {one.of}{f': {one.why}' if one.why else ''}"


def _score(score: Score | None) -> str:
    if score is None:
        return ""
    return f"{score.inside} of {count_of(score.of, 'reading')} in their bands"


def _held(one: Held) -> str:
    apart = 100.0 * (one.over_planned - 1.0)
    return f"{one.label}: {apart:+.1f} % of its plan on the middle, {one.inside}"


def _caught(one: Caught) -> str:
    nights = f"{count_of(one.nights, 'night')}, {tidy(one.rod_hours, 4)} rod-hours"
    return f"{one.bait}: {count_of(one.bites, 'bite')} in {nights}"
