"""Baits for a trip: counted by hand, and the laws that any count keeps."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from baitwright.batch.trip import (
    Outing,
    bags_of,
    baits_a_night,
    casts_a_night,
    hookbaits_to_make,
    hookbaits_to_take,
    trip_of,
)
from baitwright.cli.main import cli
from baitwright.terms.errors import InputError
from baitwright.uncertainty.bands import median_of
from tests.batch.kitchen import planned

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
HOUR = 3600.0
casts = casts_a_night.function
take, make, bag = hookbaits_to_take.function, hookbaits_to_make.function, baits_a_night.function


def test_casts_by_hand() -> None:
    """Twelve hours at five hours a cast are three casts, whatever works longer."""
    assert casts(night_time=12 * HOUR, recast=5 * HOUR, lasts=np.inf) == 3.0
    assert casts(night_time=12 * HOUR, recast=np.inf, lasts=4 * HOUR) == 3.0
    assert casts(night_time=12 * HOUR, recast=np.inf, lasts=np.inf) == 1.0
    tray = np.array([[5.0, 12.0, 20.0], [3.0, 3.0, 3.0]]) * HOUR
    found = casts(night_time=12 * HOUR, recast=tray, lasts=np.inf)
    assert found.ravel() == pytest.approx([5.0 / 3.0, 4.0])


def test_a_bait_that_never_did_is_not_cast_for_ever() -> None:
    """It fails the bottle test at home: what is to be made covers it, not the casts."""
    assert casts(night_time=12 * HOUR, recast=6 * HOUR, lasts=0.0) == 2.0


def test_counts_by_hand() -> None:
    assert take(rods=2, nights=1, casts=3.0, spares=0.3) == 8.0
    assert make(take=8.0, wish=0.75) == 11.0
    assert bag(take=8.0, nights=3) == 3.0


@given(st.integers(1, 6), st.integers(1, 6), st.floats(1.0, 20.0), st.floats(0.0, 2.0))
def test_more_of_anything_never_takes_fewer(
    rods: int, nights: int, often: float, spares: float
) -> None:
    usual = take(rods=rods, nights=nights, casts=often, spares=spares)
    assert take(rods=rods + 1, nights=nights, casts=often, spares=spares) > usual
    assert take(rods=rods, nights=nights + 1, casts=often, spares=spares) > usual
    assert take(rods=rods, nights=nights, casts=often, spares=spares + 0.1) >= usual
    assert bag(take=usual, nights=nights) * nights >= usual


def test_a_longer_night_and_a_plan_of_our_own() -> None:
    plan = planned()
    short = trip_of(plan, Outing(2, 2, 6 * HOUR))
    long = trip_of(plan, Outing(2, 2, 36 * HOUR, free_bait=0.5))
    assert median_of(long.casts) >= median_of(short.casts)
    assert median_of(long.make) >= median_of(long.take) >= median_of(short.take)
    assert long.free_bait is not None
    assert long.free_bait.value == 1.0
    assert short.free_bait is None


@pytest.mark.parametrize(
    ("outing", "told"),
    [
        (Outing(0, 1, HOUR), "rods"),
        (Outing(1, 31, HOUR), "nights"),
        (Outing(1, 1, 0.0), "hours"),
        (Outing(1, 1, HOUR, spares=-0.1), "spares"),
    ],
)
def test_an_outing_that_is_none_is_told(outing: Outing, told: str) -> None:
    with pytest.raises(InputError, match=told):
        trip_of(planned(), outing)


def test_a_bait_that_does_not_do_what_is_wanted_is_told() -> None:
    plan = planned()
    none = replace(plan.water.wish, value=0.01)
    with pytest.raises(InputError, match=r"1 % do what is wanted.*balance"):
        trip_of(replace(plan, water=replace(plan.water, wish=none)), Outing(2, 1, 12 * HOUR))


def test_the_command() -> None:
    files = [str(EXAMPLES / name) for name in ("copper-wafter.toml", "bench-one-egg.toml")]
    shown = CliRunner().invoke(cli, ["trip", *files, "--rods", "12", "--nights", "30"])
    assert shown.exit_code == 0
    said = " ".join(shown.output.split())
    assert "too few: crack more" in said
    assert "12 rods x 30 nights x the casts, and spares" in said
    assert "The batch does not fill one" in said


def test_one_bag_is_one_sessions_and_the_rest_is_told() -> None:
    """Rods x nights x casts and spares to a bag; a batch fills so many, and the rest is over."""
    files = [str(EXAMPLES / name) for name in ("copper-wafter.toml", "bench-three-large-eggs.toml")]
    asked = ["trip", *files, "--rods", "2", "--nights", "2", "--json"]
    told = json.loads(CliRunner().invoke(cli, asked).output)
    bags, text = told["bags"], " ".join(CliRunner().invoke(cli, asked[:-1]).output.split())
    assert bags["bags"] > 1
    assert bags["over"] < bags["each"]
    assert f"batch bag NAME {bags['each']} --bags {bags['bags']}" in text
    assert bags["bags"] * bags["each"] + bags["over"] <= told["given_by_the_eggs"]


@given(st.integers(0, 2000), st.integers(1, 300))
def test_nothing_is_lost_in_bagging(baits: int, each: int) -> None:
    made = bags_of(baits, each)
    assert made.bags * made.each + made.over == baits
    assert 0 <= made.over < each
    assert bags_of(baits + each, each).bags == made.bags + 1


def test_a_bag_of_none_is_refused() -> None:
    with pytest.raises(InputError, match="hookbaits in a bag"):
        bags_of(10, 0)
