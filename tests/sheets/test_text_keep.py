"""The keeping of a batch as a maker reads it: cautious days, bands, lines, and no promise."""

from __future__ import annotations

from dataclasses import replace

import pytest

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.keep import PlaceLife
from baitwright.recipe.bench import ReadyMark, Room
from baitwright.sheets.text_keep import cautious, days, keep
from baitwright.sources import key_said
from tests.batch.kitchen import planned
from tests.sheets.kitchen import USUAL_BENCH, USUAL_RECIPE


def flat(plan: BatchPlan) -> str:
    return " ".join(" ".join(keep(plan)).split())


def lasting(plan: BatchPlan, value: float) -> PlaceLife:
    place = plan.keep.places[0]
    return replace(place, cautious=replace(place.cautious, value=value))


def test_each_place_has_its_days_and_its_band(plan: BatchPlan) -> None:
    text = flat(plan)
    for place in plan.keep.places:
        assert cautious(place) in text
        assert days(place.life).band in text
    assert "mould first" in text


def test_water_activity_has_the_decimals_of_a_meter(plan: BatchPlan) -> None:
    (line,) = (line for line in keep(plan) if "water activity, evened out" in line)
    assert "0.9" in line
    assert len(line.split("(")[0].split()[-1]) == 4


def test_every_line_bears_country_date_and_source(plan: BatchPlan) -> None:
    text = flat(plan)
    for line in (*plan.keep.lines, *(line for one in plan.keep.places for line in one.lines)):
        assert f"{line.text} [{line.country}, {line.checked_on}, {key_said(line.source)}]" in text
    assert "Check with your local authority" in text


def test_no_promise(any_plan: BatchPlan) -> None:
    text = flat(any_plan).lower()
    assert "no promise" in text
    assert "safe" not in text
    assert "water activity" in text.partition("hang most on")[2]


def test_less_than_a_day_is_said_in_words(plan: BatchPlan) -> None:
    assert cautious(lasting(plan, 0.0)) == "less than a day"
    assert cautious(lasting(plan, 3 * 86_400.0)) == "3 d"


def test_baits_too_dry_for_ice_have_no_minutes() -> None:
    room = Room(humidity=0.4, ready=ReadyMark(time=90 * 3600.0))
    text = flat(planned(USUAL_RECIPE, replace(USUAL_BENCH, room=room)))
    assert "baits in which ice forms at all" in text
    assert "frozen in still air" not in text


@pytest.mark.parametrize("word", ["Pseudomonas", "growth_models", "None"])
def test_nothing_of_the_machinery_shows(plan: BatchPlan, word: str) -> None:
    assert word not in flat(plan)
