"""What stands about: drying since when, off when, ready and not bagged, and what is ahead."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from baitwright.notebook.store import Notebook, open_notebook
from baitwright.workshop.batches.bags import Bagging, bag
from baitwright.workshop.batches.batch_made import Making, made
from baitwright.workshop.batches.batch_view import batch_view
from baitwright.workshop.bench.bench_book import tap
from baitwright.workshop.bench.trays import trays
from baitwright.workshop.forms.both_told import merged
from baitwright.workshop.shelf.deliveries import bring_in
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.strip.bench_tap import Tap, Tapped
from tests.workshop.batching import DELIVERIES, NOW, make_one, plan_one


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    made = open_notebook(tmp_path / "notebook.sqlite", now=NOW)
    for one in DELIVERIES:
        bring_in(made, one, now=NOW)
    yield made
    made.close()


def test_a_batch_dries_and_is_ready_by_the_plans_own_clock(book: Notebook) -> None:
    name = make_one(book, twenty_fresh=0.0338).name
    hours = batch_view(book, name).hours
    assert hours is not None and hours.tray is not None
    off, here = NOW.replace(tzinfo=None) + hours.tray[0], NOW.replace(tzinfo=None)
    (one,) = trays(book, now=NOW).drying
    assert (one.batch, one.since, one.left) == (name, here, 264)
    assert one.off is not None and one.off[0] == off
    assert one.off[1] < one.off[2]
    assert one.passed == 0.0
    later = NOW + hours.tray[0]
    assert not trays(book, now=later).drying
    assert trays(book, now=later).ready[0].batch == name
    half = trays(book, now=NOW + hours.tray[0] / 2).drying[0]
    assert half.passed == pytest.approx(0.5)


def test_what_was_tapped_at_the_bench_tells_since_when(book: Notebook) -> None:
    name, begun = plan_one(book).name, NOW - timedelta(hours=2)
    one = Tap("tray-begun-1", Tapped.START, begun, name="tray", ends=begun + timedelta(hours=8))
    tap(book, name, [one], now=NOW)
    (lying,) = trays(book, now=NOW).drying
    assert (lying.left, lying.since) == (None, begun.replace(tzinfo=None))
    assert not trays(book, now=NOW).ahead
    made(book, name, Making(BatchTable.model_construct(baits_made=264)), now=NOW)
    (lying,) = trays(book, now=NOW).drying
    assert (lying.left, lying.since) == (264, begun.replace(tzinfo=None))
    tap(book, name, [Tap("tray-undone-1", Tapped.UNDO, NOW, name="tray-begun-1")], now=NOW)
    assert trays(book, now=NOW).drying[0].since == NOW.replace(tzinfo=None)


def test_bagged_baits_lie_on_no_tray(book: Notebook) -> None:
    name = make_one(book).name
    bag(book, name, Bagging(100, 2), now=NOW)
    assert trays(book, now=NOW).drying[0].left == 64
    bag(book, name, Bagging(64), now=NOW)
    found = trays(book, now=NOW + timedelta(days=2))
    assert not found.drying and not found.ready


def test_what_is_ahead_says_when_it_is_late(book: Notebook) -> None:
    name = plan_one(book).name
    (one,) = trays(book, now=NOW - timedelta(days=1)).ahead
    assert one.batch == name
    assert one.steps[0].name == "eggs out"
    assert one.leaving is not None and one.steps[-1].end == one.leaving
    assert not one.is_late
    assert trays(book, now=NOW).ahead[0].is_late


def test_the_score_counts_readings_inside_their_bands(book: Notebook) -> None:
    make_one(book, twenty_fresh=0.0338, cup_weight=9.0)
    score = trays(book, now=NOW).score
    assert score is not None
    assert (score.inside, score.of) == (2, 3)


def test_what_is_due_is_told_with_its_day(book: Notebook) -> None:
    soon = NOW + timedelta(days=200)
    assert [one.item for one in trays(book, now=soon).use_first] == ["Copper"]
    assert trays(book, now=soon).use_first[0].is_past


def test_a_batch_that_keeps_no_hours_has_those_of_its_plan(book: Notebook) -> None:
    name = plan_one(book).name
    kept = batch_view(book, name).hours
    with book.writing() as page:
        found = page.latest("batch", name)
        assert found is not None and found.body is not None
        body = {key: one for key, one in found.body.items() if key != "hours"}
        page.write("batch", name, body, seen=1, time=NOW)
    assert batch_view(book, name).hours == kept


def test_two_tellings_are_put_together_entry_by_entry() -> None:
    base = {"water": "Pool", "bites": 0, "weather": "frost"}
    both = merged(base, {**base, "bites": 1, "fish": 1}, {**base, "bites": 2, "weather": "thaw"})
    assert both.told == {"water": "Pool", "bites": 2, "weather": "thaw", "fish": 1}
    assert [(one.entry, one.before, one.after) for one in both.differs] == [("bites", 1, 2)]
    assert [one.entry for one in both.theirs] == ["fish"]
    gone = merged(base, {"water": "Pool", "bites": 0}, base)
    assert gone.told == {"water": "Pool", "bites": 0}
