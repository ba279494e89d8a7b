"""Pictures of a soak: what is drawn lies where the numbers say, and can be read without colour."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from functools import cache
from html.parser import HTMLParser
from itertools import pairwise
from typing import Any
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.batch.curves import crust
from baitwright.batch.plan import PlanRequest
from baitwright.batch.soak import NIGHT, SoakStage
from baitwright.batch.soak_table import SoakTable, first_night, soak_table
from baitwright.batch.soaking import water_depth
from baitwright.materials.factors import prior_factors
from baitwright.physics.radial import MoistBall, WaterLeg, absorb
from baitwright.recipe.bench import Bench
from baitwright.recipe.model import Recipe
from baitwright.sheets import svg
from baitwright.sheets.charts import hour_ticks, ticks
from baitwright.sheets.cut_open import cut_open
from baitwright.sheets.dark import DARK
from baitwright.sheets.pictures import soak_page, soak_pictures
from baitwright.sheets.svg import Picture, contrast, folded, printable, spread
from baitwright.sheets.wording import figure
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import band_of, median_of
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import BENCH, CARAWAY, MALT, RECIPE
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
from tests.sheets.kitchen import BARE_BENCH, BARE_RECIPE, CROWDED_RECIPE, SIX_RECIPE, USUAL_BENCH

DRAWS = Draws(batches=32, baits=2)
HOUR = 3600.0
ODD = 'A <b> & "Q"'
RECIPES = {
    "usual": RECIPE,
    "none": replace(RECIPE, liquids=()),
    "one": replace(RECIPE, liquids=(CARAWAY,)),
    "six": SIX_RECIPE,
    "crowded": CROWDED_RECIPE,
    "sinker": BARE_RECIPE,
    "odd": replace(RECIPE, name=ODD, liquids=(replace(MALT, name=f"{ODD}\0\x07"), CARAWAY)),
}


@cache
def table(recipe: Recipe = RECIPE, bench: Bench = BENCH, hours: float = 48.0) -> SoakTable:
    request = PlanRequest(recipe, bench, prior_factors(), DRAWS)
    return soak_table(request, (279.15,), time=HOUR * hours)


@cache
def pictures(name: str = "usual") -> dict[str, Picture]:
    bench = BARE_BENCH if name == "sinker" else USUAL_BENCH if name in {"six", "crowded"} else BENCH
    return {one.name: one for one in soak_pictures(table(RECIPES[name], bench))}


@pytest.mark.parametrize("name", RECIPES)
def test_every_file_is_whole_and_says_what_it_shows(name: str) -> None:
    for kind, picture in pictures(name).items():
        check_well_made(picture)
        assert f'id="{kind}-title"' in picture.svg


def test_the_cut_is_to_scale() -> None:
    made = table()
    cut, night = cut_open(made.plan), first_night(made)
    drawing = read(pictures()["bait"])
    circles = [one for one in drawing.iter(f"{NAMESPACE}circle") if one.get("class")]
    kinds = [one.get("class") for one in circles]
    assert kinds == ["set", "paste", "core", "crust", "set", "core", "wet", "set", "core"]
    dried, dry = made.plan.dry.bait, 1e3 * median_of(made.plan.dry.diameter)
    crusted = 1e3 * median_of(crust(made.plan.dry))
    soaked, core = (1e3 * median_of(one) for one in (night.bait.diameter, night.bait.core_diameter))
    depth = 1e3 * median_of(night.wet_depth)
    sizes = [cut.outer, cut.outer - 2 * cut.skin, cut.core]
    sizes += [dry, dry - 2 * crusted, 1e3 * median_of(dried.core_diameter)]
    sizes += [soaked, soaked - 2 * depth, core]
    (bar,) = parts(drawing, "scale")
    (said,) = (one for one in drawing.iter(f"{NAMESPACE}text") if one.text == "5 mm")
    assert number(said, "y") == pytest.approx(number(bar, "y1") + 5.0)
    scale = (number(bar, "x2") - number(bar, "x1")) / 5.0
    drawn = [2.0 * number(one, "r") / scale for one in circles]
    assert drawn == pytest.approx(sizes, abs=0.01)
    assert 0.0 < depth < 0.5 * (soaked - core)


def test_a_solid_bait_draws_no_core() -> None:
    drawing = read(pictures("sinker")["bait"])
    assert not parts(drawing, "core")
    assert len(parts(drawing, "paste")) == 1
    assert "no core" in words_of(drawing)


def test_the_night_is_drawn_and_a_shorter_soak_as_long_as_it_was() -> None:
    assert first_night(table()).curve[-1].time == NIGHT
    short = table(hours=5.0)
    assert first_night(short) is short.first.stage
    assert "After 5 h in the lake" in soak_pictures(short)[0].svg


def compare(part: Any, back: Any, stage: SoakStage, told: list[float], *, within: float) -> None:
    hours = stage.curve[-1].time / HOUR
    found = [back(point, hours) for point in points(part)]
    assert [hour for hour, _ in found] == pytest.approx(
        [point.time / HOUR for point in stage.curve], abs=0.01 * hours
    )
    assert [value for _, value in found] == pytest.approx(told, abs=within)


ENDS = ("median", "low50", "high50", "low80", "high80", "low95", "high95")


@pytest.mark.parametrize("name", ["usual", "sinker"])
def test_lift_lies_where_the_numbers_say(name: str) -> None:
    made = table(RECIPES[name], BARE_BENCH if name == "sinker" else BENCH)
    stage, drawing = made.first.stage, read(pictures(name)["lift"])
    back = inverted(drawing, plot=0)
    for end in ENDS:
        (part,) = parts(drawing, end)
        told = [1e3 * getattr(band_of(point.lift), end) for point in stage.curve]
        compare(part, back, stage, told, within=0.002)
    for key, value in (("hook", 1e3 * median_of(made.plan.water.hook)), ("zero", 0.0)):
        (part,) = parts(drawing, key)
        heights = [back((number(part, "x1"), number(part, y)), 48.0)[1] for y in ("y1", "y2")]
        assert heights == pytest.approx([value, value], abs=0.002)


def test_flavours_lie_where_the_numbers_say() -> None:
    stage, drawing = table().first.stage, read(pictures()["flavour"])
    assert len(parts(drawing, "median")) == 4  # two together, then each of them alone
    for at in range(2):
        told = [[100.0 * value for value in ends] for ends in ends_of(stage, at)]
        compare(parts(drawing, "median")[at], inverted(drawing, plot=0), stage, told[0], within=0.2)
        back = inverted(drawing, plot=1 + at)
        for key, values in zip(ENDS, told, strict=True):
            part = parts(drawing, key)[2 + at if key == "median" else at]
            compare(part, back, stage, values, within=0.5)


def ends_of(stage: SoakStage, liquid: int) -> list[list[float]]:
    bands = [band_of(point.flavours[liquid].left) for point in stage.curve]
    return [[getattr(band, end) for band in bands] for end in ENDS]


@pytest.mark.parametrize("name", ["usual", "six", "crowded", "sinker"])
def test_bands_hold_their_middles(name: str) -> None:
    for kind in ("lift", "flavour"):
        drawing = read(pictures(name)[kind])
        heights = {key: [points(one) for one in parts(drawing, key)] for key in ENDS}
        alone = heights["median"][-len(heights["low80"]) :] if heights["low80"] else []
        upper = [heights[f"high{held}"] for held in (95, 80, 50)]
        order = [*upper, alone, *(heights[f"low{held}"] for held in (50, 80, 95))]
        for higher, lower in pairwise(order):
            for above, below in zip(higher, lower, strict=True):
                assert all(a[1] <= b[1] for a, b in zip(above, below, strict=True))


def test_lines_of_six_liquids_differ_without_their_colour() -> None:
    drawing = read(pictures("six")["flavour"])
    together = parts(drawing, "median")[:6]
    assert len({one.get("stroke-dasharray", "") for one in together}) == 6
    assert len({one.get("stroke") for one in together}) == 6
    for liquid in SIX_RECIPE.liquids:
        first = folded(liquid.name, 150.0, lines=2)[0]
        assert first in words_of(drawing)


@pytest.mark.parametrize(("name", "plots"), [("none", 0), ("one", 1), ("usual", 3), ("six", 7)])
def test_one_plot_for_each_liquid_and_one_for_all(name: str, plots: int) -> None:
    picture = pictures(name)["flavour"]
    grids = [number(one, "y1") for one in parts(read(picture), "grid")]
    assert sum(later > earlier for earlier, later in pairwise(grids)) + bool(grids) == plots
    assert len(picture.tables) == len(RECIPES[name].liquids)
    assert ("No liquids" in picture.svg) is (plots == 0)


def test_names_survive_with_their_marks() -> None:
    for picture in pictures("odd").values():
        assert ODD in read(picture).find(f"{NAMESPACE}title").text
    assert f"{ODD} left" in words_of(read(pictures("odd")["flavour"]))
    page = soak_page(table(RECIPES["odd"]), tuple(pictures("odd").values()))
    assert "<b>" not in page
    assert Page(page).text.count(ODD) > 3


@given(st.text(max_size=60))
def test_any_name_can_be_written(name: str) -> None:
    drawing = svg.canvas("any", 100.0, title=name, said=name)
    for at, said in enumerate(folded(name, 120.0, lines=2)):
        svg.words(drawing, (0.0, 20.0 * at), said)
    back = ElementTree.fromstring(ElementTree.tostring(drawing))
    assert (back.find(f"{NAMESPACE}title").text or "") == printable(name)  # type: ignore[union-attr]


def test_a_flavour_that_outlasts_the_soak_has_no_hour_to_recast() -> None:
    said = read(pictures()["flavour"]).find(f"{NAMESPACE}desc").text
    malt, _, caraway = said.partition(" Caraway: ")
    assert f"time to recast after {figure(table().first.stage.fades[0]).text}" in malt
    assert caraway.endswith("the hour to recast does not come.")
    assert "never" not in said


def test_the_words_are_those_of_the_text() -> None:
    stage, made = table().first.stage, table()
    lift = pictures()["lift"]
    said = read(lift).find(f"{NAMESPACE}desc").text
    for quantity in (stage.curve[0].lift, stage.curve[-1].lift):
        assert figure(quantity).with_band in said
    assert f"The hook pulls {figure(made.plan.water.hook).text} down" in said
    (rows,) = lift.tables
    assert [row[0] for row in rows.rows] == [
        "0 h",
        "1 h",
        "2 h",
        "4 h",
        "8 h",
        "14 h",
        "24 h",
        "36 h",
        "48 h",
    ]
    for row, point in zip(rows.rows, stage.curve, strict=True):
        told = figure(point.lift)
        assert (row[1], row[3]) == (told.text, told.band)
        assert row[2] == figure(point.lift, holding=50).band
        assert row[4] == figure(point.lift, holding=95).band
        assert len(row) == len(rows.heads)


PAIRS_OF_WORDS = [
    (one, svg.PAPER) for one in (svg.INK, svg.EDGE, svg.HOOK, svg.MIDDLE, *svg.LIQUIDS)
]
PAIRS_OF_LINES = [
    *(
        (one, ground)
        for one in (svg.MIDDLE, svg.HOOK, svg.INK, *svg.LIQUIDS)
        for ground in (svg.PAPER, svg.WIDEST_BAND, svg.WIDE_BAND, svg.HALF_BAND)
    ),
    *((svg.EDGE, ground) for ground in (svg.PAPER, svg.WIDEST_BAND, svg.WIDE_BAND, svg.HALF_BAND)),
    *((svg.INK, ground) for ground in (svg.PASTE, svg.SET, svg.CORE, svg.WET, svg.CRUST)),
    (svg.MIDDLE, svg.WET),
    (svg.GRID, svg.PAPER),
]


@pytest.mark.parametrize(("colour", "ground"), PAIRS_OF_WORDS)
def test_words_stand_out(colour: str, ground: str) -> None:
    """4.5 to 1: success criterion 1.4.3 of the Web Content Accessibility Guidelines 2.2."""
    assert contrast(colour, ground) >= 4.5
    assert contrast(DARK[colour], DARK[ground]) >= 4.5


@pytest.mark.parametrize(("colour", "ground"), PAIRS_OF_LINES)
def test_lines_stand_out(colour: str, ground: str) -> None:
    """3 to 1: success criterion 1.4.11 of the Web Content Accessibility Guidelines 2.2."""
    assert contrast(colour, ground) >= 3.0
    assert contrast(DARK[colour], DARK[ground]) >= 3.0


def test_contrast_is_that_of_the_guidelines() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21.0)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)
    assert contrast("#ff0000", "#ffffff") == pytest.approx(4.00, abs=0.005)
    for colour, told in (("#0072b2", 5.19), ("#d55e00", 3.87), ("#e69f00", 2.25)):
        assert contrast(colour, "#ffffff") == pytest.approx(told, abs=0.01)


def test_no_picture_uses_a_colour_that_is_not_held_to_it() -> None:
    known = {one for pair in (*PAIRS_OF_WORDS, *PAIRS_OF_LINES) for one in pair}
    for name in RECIPES:
        for picture in pictures(name).values():
            used = set(re.findall(r"#[0-9a-f]{6}", picture.svg))
            assert used <= known


@given(
    low=st.floats(-5.0, 5.0).map(lambda value: round(value, 4)),
    width=st.floats(0.0, 10.0).map(lambda value: round(value, 4)),
)
def test_ticks_are_few_and_enclose_what_they_are_for(low: float, width: float) -> None:
    found = ticks(low, low + width)
    assert 2 <= len(found) <= 8
    assert found[0] <= low + 1e-6
    assert found[-1] >= low + width - 1e-6


@given(st.floats(1.0, 48.0))
def test_hours_are_few_and_within(hours: float) -> None:
    found = hour_ticks(hours)
    assert 2 <= len(found) <= 8
    assert found[-1] <= hours + 1e-6


@given(st.lists(st.tuples(st.floats(0.0, 300.0), st.sampled_from([24.0, 44.0])), max_size=6))
def test_labels_never_overlap_and_stay_in(wanted: list[tuple[float, float]]) -> None:
    wanted.sort()
    found = spread(wanted, low=-20.0, high=320.0)
    edges = [
        (middle - half[1] / 2, middle + half[1] / 2)
        for middle, half in zip(found, wanted, strict=True)
    ]
    for (_, end), (start, _) in pairwise(edges):
        assert start >= end - 1e-9
    for start, end in edges:
        assert start >= -20.0 - 1e-9
        assert end <= 320.0 + 1e-9


class Page(HTMLParser):
    """What stands in a page, tag by tag."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text = ""
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.text += data

    def all(self, tag: str) -> list[dict[str, str | None]]:
        return [how for name, how in self.tags if name == tag]


@pytest.mark.parametrize("invented", [True, False])
def test_the_page_holds_everything_and_fetches_nothing(invented: bool) -> None:
    made = table(replace(RECIPE, invented=invented))
    drawn = soak_pictures(made)
    text = soak_page(made, drawn)
    page = Page(text)
    assert text.startswith("<!doctype html>")
    assert page.all("html") == [{"lang": "en"}]
    assert len(page.all("svg")) == 4
    tables = sum(len(picture.tables) for picture in drawn)
    assert len(page.all("table")) == len(page.all("caption")) == tables == 5
    assert {how.get("scope") for how in page.all("th")} == {"col", "row"}
    assert not page.all("script") + page.all("link") + page.all("img")
    assert not re.search(r"https?://(?!www\.w3\.org/2000/svg)", text)
    ids = [how["id"] for _, how in page.tags if "id" in how]
    assert len(ids) == len(set(ids))
    named = {key for _, how in page.tags for key in (how.get("aria-labelledby") or "").split()}
    assert named <= set(ids)
    assert ("Invented demo" in page.text) is invented


PACES = np.array([8e-11, 2e-11])


def depth_of(hours: float, *, core: float = 0.0045, content: float = 0.4) -> Any:
    """Depth in a ball of two draws, the first of which takes water up four times as fast."""
    ball = MoistBall(np.full(2, 0.0075), core, content, 1400.0)
    run = absorb(
        ball,
        [WaterLeg(HOUR * hours, 279.15, 1.2)],
        diffusivity=lambda kelvin, content: PACES,
        output_times=np.array([0.0, HOUR * hours]),
    )
    return run, water_depth.function(run, 2.0 * run.outer_radius[-1], 2.0 * core)


def test_early_on_water_stands_where_a_half_space_has_it() -> None:
    """Gain beside the skin's is R/r erfc((R - r) / 2 root(D t)) while the inside is untouched.

    crank-1975: in a ball, content x radius diffuses as in a half space. Within 0.01 of a half, for
    a ball that gains so little that it hardly swells.
    """
    run, depth = depth_of(0.25, content=1.15)
    outer = run.outer_radius[-1]
    reach = depth / (2.0 * np.sqrt(PACES * 0.25 * HOUR))
    share = outer / (outer - depth) * np.array([math.erfc(one) for one in reach])
    assert share == pytest.approx(0.5, abs=0.01)


def test_water_goes_deeper_hour_by_hour_until_all_paste_is_wet() -> None:
    depths = [depth_of(hours)[1] for hours in (1.0, 4.0, 16.0, 48.0)]
    for earlier, later in pairwise(depths):
        assert np.all(later >= earlier)
    run, last = depth_of(400.0)
    assert last == pytest.approx(run.outer_radius[-1] - 0.0045)
    assert depths[0][0] > depths[0][1]


def test_a_bait_already_wetter_than_its_skin_will_be_takes_none() -> None:
    _, depth = depth_of(2.0, content=1.5)
    assert np.all(depth == 0.0)


def test_the_depth_is_a_number_that_can_be_opened() -> None:
    quantity: Quantity = table().first.stage.wet_depth
    assert (quantity.name, quantity.shown) == ("water_depth", "mm")
    assert dict(quantity.inputs).keys() == {"run", "diameter", "core_diameter"}
