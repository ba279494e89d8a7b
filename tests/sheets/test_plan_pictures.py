"""Figures of a plan: what is drawn is what the tables tell, and what the plan says."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta
from functools import cache
from typing import Any

import pytest

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.curves import drying_curve, front_curve
from baitwright.batch.day import Doing
from baitwright.sheets.charts import second_ticks
from baitwright.sheets.dark import DARK, dark_rules
from baitwright.sheets.pictures import plan_page
from baitwright.sheets.svg import Picture
from baitwright.sheets.wording import clock, figure
from baitwright.uncertainty.bands import band_of, median_of
from baitwright.workshop.plans.figures import baits_beside, plan_figures
from tests.batch.kitchen import BENCH, NOW, RECIPE, planned
from tests.sheets.drawn import (
    NAMESPACE,
    check_well_made,
    inverted,
    number,
    parts,
    points,
    read,
    words_of,
)
from tests.sheets.kitchen import PLANS

NAMES = ("day", "set", "drying", "bait", "lift", "flavour", "water")
HOUR = 3600.0
ENDS = ("median", "low50", "high50", "low80", "high80", "low95", "high95")


@cache
def figures(name: str = "usual") -> dict[str, Picture]:
    return {one.name: one for one in plan_figures(planned(*PLANS[name]))}


def plan_of(name: str = "usual") -> BatchPlan:
    return planned(*PLANS[name])


@pytest.mark.parametrize("name", PLANS)
def test_every_figure_is_well_made(name: str) -> None:
    assert tuple(figures(name)) == NAMES
    for picture in figures(name).values():
        check_well_made(picture)
        assert set(re.findall(r"#[0-9a-f]{6}", picture.svg)) <= set(DARK)


def shown(told: str) -> tuple[float, float]:
    """A number of a table, and half of its last digit."""
    found = re.match(r"[+-]?[\d.]+", told)
    assert found, told
    decimals = len(found[0].partition(".")[2])
    return float(found[0]), 0.5 * 10.0**-decimals


def ends_told(row: tuple[str, ...]) -> dict[str, str]:
    """Middle and ends of the bands that a row of a table tells."""
    told = {"median": row[1]}
    for held, band in zip((50, 80, 95), row[2:5], strict=True):
        low, _, high = (band or f"{row[1]} to {row[1]}").partition(" to ")
        told |= {f"low{held}": low, f"high{held}": high}
    return told


@pytest.mark.parametrize(
    ("kind", "plot", "last"), [("set", 0, None), ("drying", 0, None), ("water", 0, 14.0)]
)
@pytest.mark.parametrize("name", ["usual", "bare"])
def test_the_table_tells_what_is_drawn(name: str, kind: str, plot: int, last: Any) -> None:
    """Every dot is a row, and every row's bands lie where the edges pass."""
    picture = figures(name)[kind]
    drawing, rows = read(picture), picture.tables[0].rows
    end = last or shown(rows[-1][0])[0]
    back = inverted(drawing, plot=plot)
    dots = [back((number(one, "cx"), number(one, "cy")), end) for one in parts(drawing, "dot")]
    for (at, value), row in zip(dots, rows, strict=False):
        hour, near = shown(row[0])
        assert at == pytest.approx(hour, abs=near + 0.002 * end)
        told, near = shown(row[1])
        assert value == pytest.approx(told, abs=near + 0.005)
    assert len(dots) == len(rows) * (2 if kind == "water" else 1)
    for key in ENDS:
        edge = [back(point, end) for point in points(parts(drawing, key)[plot])]
        for row in rows:
            hour, _ = shown(row[0])
            found = min(edge, key=lambda one: abs(one[0] - hour))
            told, near = shown(ends_told(row)[key])
            assert found[1] == pytest.approx(told, abs=near + 0.005), (key, row)


def test_set_and_water_are_drawn_where_the_curves_say() -> None:
    plan = plan_of()
    for kind, curve in (
        ("set", lambda times: front_curve(plan.boil, times)),
        ("drying", lambda times: drying_curve(plan.dry, times)),
    ):
        drawing = read(figures()[kind])
        (row, *_, last) = figures()[kind].tables[0].rows
        assert row[0].startswith("0 ")
        end, unit = shown(last[0])[0], 1.0 if kind == "set" else HOUR
        back = inverted(drawing)
        line = [back(point, end) for point in points(parts(drawing, "low95")[0])]
        told = curve([unit * at for at, _ in line])
        scale = 1e3
        for (_, value), point in zip(line, told, strict=True):
            quantity = point.depth if kind == "set" else point.left
            assert value == pytest.approx(scale * band_of(quantity).low95, abs=0.02)


def test_the_timer_and_the_tray_are_marked() -> None:
    plan = plan_of()
    drawing = read(figures()["set"])
    (timer,) = parts(drawing, "mark")
    end = shown(figures()["set"].tables[0].rows[-1][0])[0]
    at, _ = inverted(drawing)((number(timer, "x1"), number(timer, "y2")), end)
    assert at == pytest.approx(median_of(plan.boil.seconds), abs=0.1)
    assert f"timer {figure(plan.boil.seconds).text}" in words_of(drawing)
    assert f"{figure(plan.boil.set_share).text} set through" in words_of(drawing)
    drawing = read(figures()["drying"])
    end = shown(figures()["drying"].tables[0].rows[-1][0])[0]
    back = inverted(drawing)
    found = [back((number(one, "x1"), 0.0), end)[0] for one in parts(drawing, "mark")]
    wanted = [median_of(one) / HOUR for one in (plan.dry.ready, plan.dry.time)]
    assert found == pytest.approx(wanted, abs=0.02)
    assert f"ready at {figure(plan.dry.ready).with_band}" in words_of(drawing)


def test_air_in_which_they_never_dry_marks_nothing() -> None:
    assert not plan_of("damp").day.dries
    drawing = read(figures("damp")["drying"])
    assert not parts(drawing, "mark")
    assert "not ready within four days" in figures("damp")["drying"].description
    assert "16:00" not in words_of(read(figures("damp")["day"]))  # four days: days and no hours


def test_a_bait_that_only_takes_up_water_on_the_tray_has_no_crust_drawn() -> None:
    assert not parts(read(figures("damp")["bait"]), "crust")
    assert parts(read(figures()["bait"]), "crust")


def test_the_day_is_to_scale_and_in_its_hours() -> None:
    day = plan_of().day
    drawing = read(figures()["day"])
    bars = [one for kind in Doing for one in parts(drawing, kind.value)]
    bars.sort(key=lambda one: number(one, "y"))
    whole = (day.steps[-1].end - day.steps[0].start).total_seconds()
    scale = sum(number(bar, "height") for bar in bars) / whole
    for bar, step in zip(bars, day.steps, strict=True):
        long = (step.end - step.start).total_seconds()
        assert number(bar, "height") == pytest.approx(scale * long, abs=0.03)
        assert bar.get("class") == step.doing.value
        assert bar.get("fill") == f"url(#day-{step.doing.value})"
        said = " ".join(words_of(drawing).split())
        assert clock(step.start) in said
        assert f"{clock(step.end)} {step.name}" in said
    assert {step.name: step.doing for step in day.steps}["dry"] is Doing.DRYING


def test_the_paste_s_working_time_stands_beside_the_hands() -> None:
    plan = plan_of()
    drawing = read(figures()["day"])
    bracket, *_ = parts(drawing, "paste")
    mixed = next(step for step in plan.day.steps if step.name == "mix")
    working = median_of(dict(plan.day.lots.inputs)["working"])
    bars = parts(drawing, "hands")
    scale = number(bars[0], "height") / (mixed.end - mixed.start).total_seconds()
    assert number(bracket, "y2") - number(bracket, "y1") == pytest.approx(scale * working, abs=0.05)
    until = clock(mixed.end + timedelta(seconds=working))
    assert f"paste stiffens at {until}" in words_of(drawing)
    row = figures()["day"].tables[0].rows[-1]
    assert (row[0], row[2]) == ("paste workable", until)


def test_a_day_that_crosses_midnight_names_the_new_one() -> None:
    late = replace(BENCH, leaving=NOW + timedelta(hours=23))
    day = next(one for one in plan_figures(planned(RECIPE, late)) if one.name == "day")
    words = [one.text for one in read(day).iter(f"{NAMESPACE}text")]
    assert "Fri" in words
    assert any(one.startswith("Fri ") and one.endswith(" bag") for one in words)
    check_well_made(day)


def test_two_plans_stand_on_one_page() -> None:
    both = [*plan_figures(plan_of(), prefix="a-"), *plan_figures(plan_of("six"), prefix="b-")]
    ids = [part.get("id") for one in both for part in read(one).iter() if part.get("id")]
    assert len(ids) == len(set(ids)) > 40
    for one in both:
        drawing = read(one)
        own = {part.get("id") for part in drawing.iter()}
        assert set(drawing.get("aria-labelledby").split()) <= own
        assert set(re.findall(r"url\(#([^)]*)\)", one.svg)) <= own
        assert (
            one.description == figures("six" if "b-" in one.svg else "usual")[one.name].description
        )


def test_the_page_holds_every_figure_with_its_tables() -> None:
    made = tuple(figures().values())
    page = plan_page(plan_of(), made)
    assert page.count("<svg") == len(NAMES)
    assert page.count("<table") == sum(len(one.tables) for one in made)
    assert "Invented demo" in page
    ids = re.findall(r' id="([^"]*)"', page)
    assert len(ids) == len(set(ids))


def test_a_dark_page_has_a_rule_for_every_colour() -> None:
    rules = dark_rules("svg.figure")
    for light, dark in DARK.items():
        for part in ("fill", "stroke"):
            assert f'svg.figure [{part}="{light}"]' in rules
            assert f"{{ {part}: {dark}; }}" in rules
    assert len(set(DARK.values())) == len(DARK)


@pytest.mark.parametrize("last", [45.0, 90.0, 120.0, 240.0, 800.0])
def test_seconds_are_few_and_round(last: float) -> None:
    found = second_ticks(last)
    assert 3 <= len(found) <= 8
    assert all(one % 5.0 == 0.0 for one in found)
    assert found[-1] <= last


def test_two_baits_stand_at_one_scale() -> None:
    names = ("usual", next(one for one in PLANS if one != "usual"))
    first, second = (plan_of(one) for one in names)
    picture = baits_beside((first, second), names)
    check_well_made(picture)
    drawn = read(picture)
    outer: dict[bool, float] = {}
    for one in drawn.iter(f"{NAMESPACE}circle"):
        if one.get("fill", "").startswith("url("):
            outer.setdefault(number(one, "cx") > 240.0, number(one, "r"))
    rolled = [plan.request.recipe.bait.diameter for plan in (first, second)]
    assert outer[True] / outer[False] == pytest.approx(rolled[1] / rolled[0], rel=0.01)
