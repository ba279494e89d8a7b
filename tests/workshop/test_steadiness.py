"""Batches of a recipe held against each other: charts of what their records tell."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH, State
from baitwright.workshop.comparing.steadiness import Steadiness, steadiness
from baitwright.workshop.comparing.steadiness_words import (
    steadiness_json,
    steadiness_text,
    write_steadiness,
)
from tests.workshop.records import NOW

FLOW = (49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1)


def batches(book: Notebook, *weights: float, **more: object) -> Steadiness:
    """Batches whose twenty fresh baits weigh so many grams each; looked at."""
    with book.writing() as page:
        for at, weight in enumerate(weights, start=1):
            actual = {"twenty_fresh": 0.02 * weight, "baits_made": 80 + at, "eggs": [0.05] * 2}
            told = {"about": "Copper", "day": "2026-11-01", "state": State.MADE, "actual": actual}
            told["actual"] = {**actual, **more}
            page.write(BATCH, f"2026-11-{at:02d}/B1", told, seen=0, time=NOW)
    return steadiness(book, "copper")


def test_ten_batches_have_the_handbooks_limits(book: Notebook) -> None:
    made = batches(book, *FLOW)
    assert [one.value for one in made.series] == ["bait, fresh", "baits per egg"]
    chart = made.series[0].single
    assert chart is not None
    assert (chart.centre, chart.low[0]) == pytest.approx((50.81, 45.8159), abs=1e-4)
    assert "about 50.81, limits 45.82 to 55.8" in steadiness_text(made)


def test_one_that_stands_out_is_named(book: Notebook) -> None:
    said = steadiness_text(batches(book, *FLOW, 70.0))
    assert "  beyond a limit: 2026-11-11/B1" in said


def test_few_batches_have_no_limits(book: Notebook) -> None:
    made = batches(book, *FLOW[:9])
    assert made.series[0].single is None
    assert "53.6 g last, 9 batches; limits from 10 on" in steadiness_text(made)


def test_the_size_that_is_wanted(book: Notebook) -> None:
    batches(book, 1.0, 1.0, diameter_dried=[0.0148, 0.0150, 0.0153])
    made = steadiness(book, "Copper", wanted="15 mm", within="0.5 mm")
    assert made.fit is not None
    assert made.fit.count == 6
    assert made.fit.cpk == pytest.approx(0.0004667 / (3 * 0.00022509), rel=1e-3)
    assert "size: Cpk 0.69" in steadiness_text(made)
    with pytest.raises(InputError, match="within"):
        steadiness(book, "Copper", wanted="15 mm")


def test_charts_are_drawn_and_told_as_data(book: Notebook, tmp_path: Path) -> None:
    made = batches(book, *FLOW)
    written = write_steadiness(made, tmp_path / "out")
    assert [path.name for path in written][-1] == "steady.html"
    assert len(written) == 5
    assert json.loads(steadiness_json(made))["series"][0]["single"]["centre"] == pytest.approx(
        50.81
    )


def test_a_recipe_without_batches_is_refused(book: Notebook) -> None:
    batches(book, 1.0)
    with pytest.raises(InputError, match="were made: Copper"):
        steadiness(book, "Malt")
