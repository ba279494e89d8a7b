"""A year told: what was made, what it cost, what went wrong, what was learned."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import datetime, timedelta, timezone
from decimal import Decimal

import pytest

from baitwright.ledger.movements import Reason
from baitwright.ledger.sales import margins
from baitwright.notebook.store import Notebook
from baitwright.sheets.list_sheet import Paper, list_pages
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_made import measured_later
from baitwright.workshop.batches.batches import cancel_batch
from baitwright.workshop.entries.batch_unmade import unmade
from baitwright.workshop.entries.stock_moves import Taking, take_out
from baitwright.workshop.factors.running_score import Score
from baitwright.workshop.selling.ordering import Wanted, take_order
from baitwright.workshop.selling.sending import send
from baitwright.workshop.selling.takings import takings
from baitwright.workshop.shelf.deliveries import bring_in
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.traces.quarantine import quarantine
from baitwright.workshop.years.year import YearReport, year_report, year_typed
from baitwright.workshop.years.year_sheet import year_sheet
from baitwright.workshop.years.year_words import year_json, year_pictures, year_text
from tests.workshop.batching import DELIVERIES, NOW, make_one, plan_one
from tests.workshop.counter import TODAY, pieces
from tests.workshop.records import write


def told(book: Notebook, year: int = 2026, *, now: datetime = NOW) -> YearReport:
    return year_report(book, year, now=now)


def stocked(book: Notebook) -> dict[str, str]:
    """The shelf that a batch takes from; the lots by item."""
    return {one.item: bring_in(book, one, now=NOW) for one in DELIVERIES}


def test_an_empty_year(book: Notebook) -> None:
    made = told(book, 2025)
    said = year_text(made)
    assert said.startswith("2025\n")
    assert "No batch was made." in said
    assert "Nothing that was written down." in said
    assert "No reading, night, test or question was written down." in said
    assert year_pictures(made) == ()
    assert list_pages(year_sheet(made, now=NOW), Paper.A5).startswith(b"%PDF")


def test_a_year_with_one_batch(book: Notebook) -> None:
    stocked(book)
    batch = make_one(book)
    measured_later(book, batch.name, BatchTable.model_construct(boiled=95.0), now=NOW)
    plan_one(book)
    made = told(book)
    (recipe,) = made.made
    assert (recipe.recipe, recipe.batches, recipe.baits) == ("Copper wafter", 1, 264)
    assert made.cost.value == recipe.cost.value == batch.value
    assert made.cost.whole
    assert made.bought.value == 60
    assert made.months == (*[0] * 10, 264, 0)
    assert made.planned == 1
    assert made.learned.score == Score(1, 1)
    assert made.learned.before is None
    said = year_text(made)
    assert f"Copper wafter: 1 batch, 264 good baits, {batch.value:.2f}" in said
    assert f"A good bait cost {batch.value / 264:.4f} on the whole." in said
    months, readings = year_pictures(made)
    assert "Nov 264" in months.svg
    assert "1 of 1 inside" in readings.svg
    assert told(book, 2025).batches == 0


def test_a_price_that_nobody_told_is_at_least(book: Notebook) -> None:
    for one in DELIVERIES:
        bring_in(book, replace(one, value=None if one.item == "Malt" else one.value), now=NOW)
    make_one(book)
    made = told(book)
    assert (made.cost.unpriced, made.bought.unpriced) == (1, 1)
    said = year_text(made)
    assert f"Into batches went {made.cost.value:.2f} at least: 1 lot without a full price." in said
    assert f"A good bait cost {made.each:.4f} at least" in said
    (group, whole) = year_sheet(made, now=NOW).tables[0].groups
    assert group.rows[0][-2] == f"≥ {made.cost.value:.2f}"
    assert whole.head[-1] == f"≥ {made.each:.4f}"
    assert json.loads(year_json(made))["cost"]["lots_without_price"] == 1


def test_what_was_taken_back_was_never_made(book: Notebook) -> None:
    stocked(book)
    name = make_one(book).name
    unmade(book, name, now=NOW)
    made = told(book)
    assert (made.batches, made.cost.value, made.planned) == (0, 0, 1)


def test_what_went_wrong_is_named(book: Notebook) -> None:
    lots = stocked(book)
    batch = make_one(book, baits_made=150).name
    cancel_batch(book, plan_one(book).name, now=NOW, why="no time")
    write(book, "complaint", "what=mould on three baits", f"bag={batch}", "day=2026-11-20")
    take_out(book, Taking("Eggs", pieces(2), Reason.LOST), now=NOW)
    quarantine(book, lots["Malt"], "a musty smell", now=NOW)
    write(book, "night", "water=Reed", "day=2026-10-03", "rod[1].bites=1", "rod[1].hours=12 h")
    wrong = told(book).wrong
    assert not wrong.is_nothing
    said = year_text(told(book))
    for line in (
        f"{batch}, open: mould on three baits",
        "Copper wafter: no time",
        f"batch {batch}, baits made: 150, planned",
        f"in quarantine: {lots['Malt']}, Malt: a musty smell",
        "lost or not found: 2 Eggs, 0.40",
        "rod 1 has no bait or bag, left out",
    ):
        assert line in said


def test_nights_of_the_year_by_bait(book: Notebook) -> None:
    for day, bites in (("2025-10-01", 4), ("2026-10-01", 2), ("2026-10-02", 0)):
        rod = ("rod[1].bait=Malt", f"rod[1].bites={bites}", "rod[1].hours=12 h")
        write(book, "night", "water=Reed", f"day={day}", *rod)
    learned = told(book).learned
    assert (learned.nights, learned.blanks) == (2, 1)
    (malt,) = learned.baits
    assert (malt.nights, malt.bites, malt.rod_hours) == (2, 2, 24.0)
    assert "no order of merit" in year_text(told(book))


def test_a_day_is_the_makers_own(book: Notebook) -> None:
    """Half past midnight of the new year at the bench is still the old year in London."""
    east = timezone(timedelta(hours=2))
    late = datetime(2026, 1, 1, 0, 30, tzinfo=east)
    bring_in(book, DELIVERIES[0], now=late)
    assert told(book, 2026).bought.value == 0
    assert told(book, 2026, now=NOW.astimezone(east)).bought.value == 20


@pytest.mark.parametrize("typed", ["26", "2o26", "²026", "-2026", "2027", "1899"])
def test_what_is_no_year_is_refused(book: Notebook, typed: str) -> None:
    with pytest.raises(InputError, match="year: got"):
        told(book, year_typed(typed, now=NOW))


def test_what_orders_left_and_what_went_without_one(book: Notebook, lots: dict[str, str]) -> None:
    wanted = [Wanted("wafters", pieces(10), Decimal("0.60"))]
    order = take_order(book, "", wanted, now=NOW, day=TODAY).order
    send(book, order.name, now=NOW, day=TODAY)
    take_out(book, Taking("hooks", pieces(4), Reason.SOLD), now=NOW)
    made, all_time = told(book), takings(book)
    assert made.sold == margins(all_time.sales, lambda _: "all")["all"]
    assert made.unordered.value == all_time.without_order
    assert told(book, 2025).sold is None
    said = year_text(made)
    assert "Orders took" in said
    assert "Sold without an order, price unknown: stock worth" in said
