"""Control charts and rates of bites: every line lies where the given numbers say."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.sheets.picture_control import ControlChart, control_picture
from baitwright.sheets.picture_rates import Rate, rates_picture
from baitwright.sheets.svg import Picture
from baitwright.terms.band import Band
from tests.sheets.drawn import NAMESPACE, check_well_made, inverted, number, parts, points, read

# Flow rates with their centre and limits, and a smoothed series with its own: NIST/SEMATECH
# e-Handbook of Statistical Methods, sections 6.3.2.2 and 6.3.2.4.
FLOW = (49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1)
SMOOTH = (50.60, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52)
SINGLES = ControlChart(
    value="flow",
    unit="g",
    names=tuple(f"batch {at}" for at in range(1, 11)),
    values=FLOW,
    centre=50.81,
    low=(45.8159,) * 10,
    high=(55.8041,) * 10,
)
SMOOTHED = ControlChart(
    value="mean weight of a bait",
    unit="g",
    names=tuple(f"batch {at}" for at in range(1, 14)),
    values=SMOOTH,
    centre=50.0,
    low=(47.4115,) * 13,
    high=(52.5884,) * 13,
    single=tuple(value + 0.7 * (-1) ** at for at, value in enumerate(SMOOTH)),
)


def drawn(chart: ControlChart) -> Picture:
    return control_picture(chart, name="chart", title="Weight of baits, batch after batch")


def on_axes(drawing: Any, place: tuple[float, float], chart: ControlChart) -> tuple[float, float]:
    found: tuple[float, float] = inverted(drawing)(place, len(chart.values) + 1.0)
    return found


@pytest.mark.parametrize("chart", [SINGLES, SMOOTHED], ids=["singles", "smoothed"])
def test_values_centre_and_limits_lie_where_they_are_given(chart: ControlChart) -> None:
    picture = drawn(chart)
    check_well_made(picture)
    drawing = read(picture)
    (line,) = parts(drawing, "values")
    found = [on_axes(drawing, point, chart) for point in points(line)]
    assert [at for at, _ in found] == pytest.approx(range(1, len(chart.values) + 1), abs=0.02)
    assert [value for _, value in found] == pytest.approx(chart.values, abs=0.02)
    for key, limits in (("high", chart.high), ("low", chart.low)):
        (step,) = parts(drawing, key)
        told = [on_axes(drawing, point, chart)[1] for point in points(step)]
        assert told == pytest.approx([limit for limit in limits for _ in range(2)], abs=0.02)
    (centre,) = parts(drawing, "centre")
    heights = [
        on_axes(drawing, (number(centre, "x1"), number(centre, y)), chart)[1] for y in ("y1", "y2")
    ]
    assert heights == pytest.approx([chart.centre] * 2, abs=0.02)
    assert not parts(drawing, "beyond")[1:]  # but the one in the key
    assert len(parts(drawing, "dot")) == len(chart.values)
    assert len(parts(drawing, "single")) == 2 * len(chart.single) + (2 if chart.single else 0)
    assert "Beyond a limit: none." in picture.description


def test_a_value_beyond_its_limit_has_another_shape_and_its_number() -> None:
    chart = replace(SINGLES, values=(*FLOW[:6], 56.2, 45.0, *FLOW[8:]))
    picture = drawn(chart)
    check_well_made(picture)
    drawing = read(picture)
    assert len(parts(drawing, "beyond")) == 2 + 1
    assert len(parts(drawing, "dot")) == 8
    words = [one.text for one in drawing.iter(f"{NAMESPACE}text")]
    assert words.count("7") == 1
    assert "batch 7 56.2 g, above; batch 8 45 g, below" in picture.description
    beyond = [row[-1] for row in picture.tables[0].rows]
    assert beyond == [""] * 6 + ["above", "below"] + [""] * 2


def test_limits_that_open_are_drawn_in_steps() -> None:
    spread = [2.5884 * math.sqrt(1.0 - 0.7 ** (2 * at)) for at in range(1, 14)]
    chart = replace(
        SMOOTHED,
        low=tuple(50.0 - one for one in spread),
        high=tuple(50.0 + one for one in spread),
    )
    drawing = read(drawn(chart))
    (step,) = parts(drawing, "high")
    found = [on_axes(drawing, point, chart) for point in points(step)]
    assert found[0][1] == pytest.approx(50.0 + spread[0], abs=0.02)
    assert found[1][0] == pytest.approx(found[2][0], abs=0.02)
    assert found[-1][1] == pytest.approx(50.0 + spread[-1], abs=0.02)


@pytest.mark.parametrize(
    "wrong",
    [
        {"values": FLOW[1:]},
        {"low": (45.0,)},
        {"single": (1.0, 2.0)},
        {"centre": math.nan},
        {"high": (math.inf,) * 10},
        {"names": (), "values": (), "low": (), "high": ()},
    ],
)
def test_a_chart_that_cannot_be_drawn_is_refused(wrong: dict[str, Any]) -> None:
    with pytest.raises(ValueError, match="a control chart takes"):
        replace(SINGLES, **wrong)


@given(st.lists(st.floats(-1e3, 1e3).map(lambda one: round(one, 2)), min_size=1, max_size=60))
def test_any_values_can_be_charted(values: list[float]) -> None:
    count = len(values)
    chart = replace(
        SINGLES,
        names=tuple(map(str, range(count))),
        values=tuple(values),
        centre=0.0,
        low=(-100.0,) * count,
        high=(100.0,) * count,
    )
    check_well_made(drawn(chart))


def band(median: float, *ends: float) -> Band:
    return Band("rate", "1", median, *ends, draws=1)


FIRST = Rate("Copper wafter", 12, 240.0, band(1.2, 0.96, 1.47, 0.78, 1.78, 0.62, 2.1))
LONG = "a bait whose name its maker liked so much that nobody dared to shorten it"
RATES = (
    FIRST,
    Rate(f"Chalk sinker, {LONG}", 1, 240.0, band(0.14, 0.08, 0.23, 0.04, 0.36, 0.01, 0.6)),
    Rate("Never out", 0, 0.0, None),
)


def test_rates_lie_where_they_are_given_from_nothing_on() -> None:
    picture = rates_picture(RATES, name="rates", title="Bites by bait")
    check_well_made(picture)
    drawing = read(picture)
    grid = [number(one, "x1") for one in parts(drawing, "grid")]
    said = [one.text for one in drawing.iter(f"{NAMESPACE}text")]
    assert "0" in said
    (none,) = parts(drawing, "none")
    assert number(none, "x1") == grid[0]
    marks = [float(one) for one in said if one.replace(".", "").isdigit()]
    scale = (marks[-1] - marks[0]) / (grid[-1] - grid[0])
    assert marks[0] == 0.0
    for held in (50, 80, 95):
        bars = parts(drawing, f"band{held}")
        for bar, rate in zip(bars, (FIRST, RATES[1]), strict=True):
            low = scale * (number(bar, "x") - grid[0])
            high = low + scale * number(bar, "width")
            ends = [getattr(rate.rate, f"{side}{held}") for side in ("low", "high")]
            assert [low, high] == pytest.approx(ends, abs=0.01)
    found = [scale * (number(one, "cx") - grid[0]) for one in parts(drawing, "median")]
    assert found == pytest.approx([1.2, 0.14], abs=0.01)


def test_the_hours_stand_under_every_rate() -> None:
    picture = rates_picture(RATES, name="rates", title="Bites by bait")
    drawing = read(picture)
    places = {one.text: number(one, "y") for one in drawing.iter(f"{NAMESPACE}text")}
    for bar, said in zip(
        parts(drawing, "median"),
        ("12 bites in 240 rod-hours", "1 bite in 240 rod-hours"),
        strict=True,
    ):
        assert 0.0 < places[said] - number(bar, "cy") < 40.0
    assert "not fished" in places
    rows = picture.tables[0].rows
    assert [row[2] for row in rows] == ["1.2", "0.14", ""]
    assert rows[0][3:] == ("0.96 to 1.5", "0.78 to 1.8", "0.62 to 2.1")
    assert "Copper wafter, 12 bites in 240 rod-hours: 1.2 (0.78 to 1.8)" in picture.description


def test_a_rate_without_an_upper_end_is_drawn_to_the_edge() -> None:
    endless = replace(FIRST, rate=replace(FIRST.rate, high95=math.inf))  # type: ignore[type-var]
    check_well_made(rates_picture((endless, FIRST), name="rates", title="Bites by bait"))
    check_well_made(rates_picture((RATES[2],), name="rates", title="Bites by bait"))
