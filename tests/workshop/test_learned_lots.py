"""What lots, bottle tests, cores and bottles teach, and that plans go by the lot they take."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from baitwright.batch.plan import plan
from baitwright.learning.history import Seen
from baitwright.ledger.movements import Amount, Counted
from baitwright.materials.factors import prior_factors
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.workshop.batches.batch_made import Making, made
from baitwright.workshop.batches.batches import plan_into
from baitwright.workshop.factors.batches_seen import batches_seen, together
from baitwright.workshop.factors.factors_ahead import with_kept_factors
from baitwright.workshop.factors.kept_moments import (
    WorkingOut,
    keep_what_was_worked_out,
    kept_moments,
)
from baitwright.workshop.factors.learning_book import accept, learning
from baitwright.workshop.factors.learning_cover import cover
from baitwright.workshop.factors.learning_words import learning_text
from baitwright.workshop.forms.attached import Beside
from baitwright.workshop.forms.forms import form_of
from baitwright.workshop.recipe_files.factors_file import read_factors, write_factors
from baitwright.workshop.records.record_forms import Told, record
from baitwright.workshop.season.demo_writer import always
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.strip.batch_file import BatchTable
from tests.workshop.batching import NOW
from tests.workshop.batching import PLAN as FILES
from tests.workshop.shelf import path, planned

SIZES = [0.0152, 0.0149, 0.0155, 0.0146, 0.0158, 0.0150, 0.0147, 0.0153, 0.0151, 0.0149]
TEST = {
    "water": "18 C",
    "look": [{"on": "alone", "floated": 6, "hung": 1, "sank": 1}],
    "cores_weighed": {"count": 20, "weight": "1.9 g"},
    "soaked": [{"after": "8 h", "count": 6, "weight_before": "8.7 g", "weight": "11.3 g"}],
}


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Notebook]:
    """Two batches: eggs of one farm and then of another, a bottle test of the first."""
    opened = open_notebook(tmp_path_factory.mktemp("lots") / "notebook.sqlite", now=NOW)
    thing = {"cork-ball 9 mm": 700, "Eggs": 3}
    for day, (farm, lot, egg) in enumerate(
        (("Osier Farm", "C-9", 0.180), ("Reed Farm", "C-10", 0.165))
    ):
        now = NOW + timedelta(days=day)
        for item, pieces in thing.items():
            supplier = farm if item == "Eggs" else "Withybed Supplies"
            came = Delivery(
                item, Amount(pieces, Counted.PIECES), Decimal(3), date(2027, 1, 9), supplier, lot
            )
            bring_in(opened, came, now=now)
        of_files = planned(*FILES)
        told_of = kept_moments(of_files)
        name = plan_into(opened, path(FILES[0]), of_files, now=now, told=told_of).name
        told = {
            "baits_made": 300,
            "egg_in_bowl": egg,
            "cut_open": 80.0,
            "base_sieved": 1.0,
            "coarse_left": 0.2,
            "diameter_fresh": SIZES,
        }
        made(opened, name, Making(BatchTable.model_construct(**told)), now=now)
    write(opened, "test", {**TEST, "batch": "2026-11-27/B1"})
    core = {"lot": "C-9", "diameter": "9 mm", "weighed": {"count": 20, "weight": "1.9 g"}}
    write(opened, "core", core, name="cork-ball 9 mm")
    write(opened, "liquid", {"lot": "F-1", "times_as_strong": 1.4}, name="Malt")
    yield opened
    opened.close()


def write(book: Notebook, kind: str, told: dict[str, object], *, name: str = "") -> None:
    nowhere = Beside(Path(), Path())
    record(book, form_of(kind), Told(always(told), nowhere, name), now=NOW)


def test_everything_that_is_written_down_teaches_its_factor(book: Notebook) -> None:
    grown = {(one.now.key, one.now.about): one for one in learning(book, now=NOW).history.grown}
    assert {
        ("egg_volume", "EU L, Osier Farm"),
        ("egg_volume", "EU L, Reed Farm"),
        ("core_density", "cork-ball, C-9"),
        ("flavour_strength", "Malt, F-1"),
        ("diameter_spread", ""),
        ("diameter", ""),
        ("cook", ""),
        ("soak", ""),
        ("paste_density", "Copper"),
    } <= set(grown)
    (coarse,) = (one for (key, _), one in grown.items() if key == "coarse_fraction")
    assert len(coarse.steps) == 2
    # The bottle test and the record of cores weigh the same lot: 1.9 g / 20 / (pi / 6 (9 mm)^3).
    density = 1.9e-3 / 20.0 / (math.pi / 6.0 * 0.009**3) / 200.0
    core = grown["core_density", "cork-ball, C-9"]
    assert [step.seen.batch for step in core.steps] == ["2026-11-27/B1", "core cork-ball 9 mm"]
    assert all(
        math.exp(step.seen.log_ratio) == pytest.approx(density, rel=0.1) for step in core.steps
    )
    assert (
        grown["egg_volume", "EU L, Reed Farm"].now.mu
        < grown["egg_volume", "EU L, Osier Farm"].now.mu
    )


def test_what_was_worked_out_of_a_test_is_kept_beside_its_plan(book: Notebook) -> None:
    with book.reading() as page:
        told = [seen for _, seen in batches_seen(page, work_out=WorkingOut())]
        without = [seen for _, seen in batches_seen(page)]
    keep_what_was_worked_out(book, now=NOW)
    again = WorkingOut()
    with book.reading() as page:
        kept = [seen for _, seen in batches_seen(page, work_out=again)]
    assert again.count == 0
    assert kept == told
    assert keep_what_was_worked_out(book, now=NOW) == 0
    assert len(kept[0]) >= len(without[0])
    assert cover(book).score is not None


def test_a_plan_goes_by_the_lots_that_it_will_take(book: Notebook) -> None:
    """Of the corks there are some of C-9 left, which go first."""
    accept(book, now=NOW)
    request = planned(*FILES).request
    own = with_kept_factors(book, request).factors
    lots = {one.about: one for one in own.factors if one.key == "core_density"}
    assert lots["cork-ball"].mu == lots["cork-ball, C-9"].mu
    asked = replace(request, factors=own)
    (said,) = (note.text for note in plan(asked).notes if "by your own nose" in note.text)
    assert "Malt" in said
    assert "times as strong" in said
    assert prior_factors().find("core_density").mu != lots["cork-ball"].mu


def test_lots_and_defaults_stand_in_a_factors_file(book: Notebook, tmp_path: Path) -> None:
    proposed = learning(book, now=NOW, with_plan=False).proposed
    again = read_factors(write_factors(tmp_path / "mine.toml", proposed))
    for key, about in (
        ("flavour_strength", "Malt, F-1"),
        ("core_density", "cork-ball, C-9"),
        ("diameter_spread", ""),
    ):
        assert again.find(key, about).mu == pytest.approx(proposed.find(key, about).mu, abs=1e-5)


def test_the_command_says_whose_and_which(book: Notebook) -> None:
    said = learning_text(learning(book, now=NOW, with_plan=False))
    assert "egg contents, EU L, Osier Farm" in said
    assert "core density, cork-ball, C-9" in said
    assert "spread of bait diameter in the tray" in said


def test_readings_and_tests_of_one_batch_are_one_sight_of_a_factor() -> None:
    """1 / blur weighs them: 0.1 with 0.01 and 0.4 with 0.02 come to 0.2 with 1 / 150."""
    two = (Seen("B", "cook", "", 0.1, 0.01), Seen("B", "cook", "", 0.4, 0.02))
    (one,) = together(two)
    assert one.log_ratio == pytest.approx(0.2)
    assert one.blur == pytest.approx(1.0 / 150.0)
