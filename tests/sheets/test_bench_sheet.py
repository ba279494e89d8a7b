"""The sheet over the bench: one page whatever the batch, every number on it, the same bytes."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from datetime import timedelta
from functools import cache

import pytest
from pypdf import PdfReader

from baitwright.batch.batch_plan import BatchPlan
from baitwright.materials.cautions import cautions
from baitwright.quantities import show
from baitwright.recipe.model import Core, Filler
from baitwright.sheets.bench_sheet import bench_sheet, bench_sheet_picture, sheet_data
from baitwright.sheets.bench_steps import short_cautions, stages
from baitwright.sheets.text import plan_text
from baitwright.sheets.text_made import bridge, dose_figure, tool_words
from baitwright.sheets.wording import figure
from tests.architecture.tree import ROOT
from tests.batch.kitchen import NOW, planned
from tests.sheets.kitchen import (
    DAMP_BENCH,
    EGG_FREE_BENCH,
    MANY_RECIPE,
    SIX_RECIPE,
    USUAL_BENCH,
    USUAL_RECIPE,
)
from tests.sheets.on_paper import MM, needs_poppler, words_on

A4 = (595.3, 841.9)  # points


def read_back(pdf: bytes) -> PdfReader:
    return PdfReader(io.BytesIO(pdf))


@cache
def words(pdf: bytes) -> str:
    """The page's text, folded to single spaces; break marks inside long words taken out."""
    text = "\n".join(page.extract_text() for page in read_back(pdf).pages)
    return " ".join(text.replace("\u200b", "").split())


def test_it_is_one_page_of_a4(any_plan: BatchPlan) -> None:
    pages = read_back(bench_sheet(any_plan)).pages
    assert len(pages) == 1
    size = (float(pages[0].mediabox.width), float(pages[0].mediabox.height))
    assert size == pytest.approx(A4, abs=0.5)


@cache
def printed(pdf: bytes) -> tuple[str, list[float]]:
    """All text of the sheet without spaces, and the size in points of every letter of it."""
    letters: list[str] = []
    sizes: list[float] = []

    def visit(text: str, _cm: object, matrix: list[float], _font: object, size: float) -> None:
        held = "".join(text.replace("\u200b", "").split())
        letters.append(held)
        sizes.extend([abs(size * matrix[3])] * len(held))

    for page in read_back(pdf).pages:
        page.extract_text(visitor_text=visit)
    return "".join(letters), sizes


def size_of(words: str, pdf: bytes) -> float:
    """The smallest print, in points, that words which stand on the sheet are set in."""
    text, sizes = printed(pdf)
    held = "".join(words.split())
    start = text.index(held)
    return min(sizes[start : start + len(held)])


def sizes_of_print(pdf: bytes) -> dict[str, float]:
    """Every run of text on the page with the largest size it is printed in, in points."""
    found: dict[str, float] = {}

    def visit(text: str, _cm: object, matrix: list[float], _font: object, size: float) -> None:
        if text.strip():
            found[text.strip()] = max(found.get(text.strip(), 0.0), abs(size * matrix[3]))

    for page in read_back(pdf).pages:
        page.extract_text(visitor_text=visit)
    return found


def test_what_is_weighed_drawn_and_timed_is_printed_large(any_plan: BatchPlan) -> None:
    sizes = sizes_of_print(bench_sheet(any_plan))
    numbers = {step.number for stage in stages(any_plan) for step in stage.steps}
    assert len(numbers) > 5
    assert min(sizes[number] for number in numbers) >= 18.0


def test_no_step_is_cut_or_printed_smaller_than_can_be_read(any_plan: BatchPlan) -> None:
    pdf = bench_sheet(any_plan)
    for stage in stages(any_plan):
        for step in stage.steps:
            for said in filter(None, (step.do, step.how)):
                assert size_of(said, pdf) >= 8.99, said


def test_tools_and_blends_of_six_long_names_stand_on_it_whole() -> None:
    plan = planned(SIX_RECIPE, USUAL_BENCH)
    pdf = bench_sheet(plan)
    blends = 0
    for one in plan.doses.doses:
        assert one.liquid.name in words(pdf)
        assert f"{tool_words(one)}, {one.liquid.level.text}" in words(pdf)
        if one.blend is not None:
            blends += 1
            fill = one.blend.fill
            drawn = f"{show(fill.volume, 'ml')} in the {fill.tool.name}"
            assert f"1 + {one.blend.carrier_parts} in" in words(pdf)
            assert drawn in words(pdf)
            assert size_of(drawn, pdf) >= 8.99
    assert blends == 3


def test_cautions_and_sources_shrink_before_the_steps_do(plan: BatchPlan) -> None:
    long = bench_sheet(planned(SIX_RECIPE, USUAL_BENCH))
    short = bench_sheet(plan)
    assert size_of("Numbers are middles", long) < size_of("Numbers are middles", short)
    assert size_of("Balls and cores choke", long) < size_of("Balls and cores choke", short)
    assert size_of("vigorous boil", long) >= 9.5


def test_a_batch_too_long_for_one_page_takes_two_and_says_so() -> None:
    many = planned(MANY_RECIPE, USUAL_BENCH)
    pdf = bench_sheet(many)
    pages = [" ".join(page.extract_text().split()) for page in read_back(pdf).pages]
    assert len(pages) == 2
    for at, page in enumerate(pages, 1):
        assert f"{MANY_RECIPE.name} ({at} of 2)" in page
        assert "Fishing bait, not food." in page
    assert "Sources:" not in pages[0]
    assert "Sources:" in pages[1]
    last = len([step for stage in stages(many) for step in stage.steps])
    assert re.search(rf"\b{last} Count and bag", pages[1])
    assert size_of("vigorous boil", pdf) >= 9.99


def test_the_doses_stand_on_it(plan: BatchPlan) -> None:
    text = words(bench_sheet(plan))
    for one in plan.doses.doses:
        assert one.liquid.name in text
        assert dose_figure(one).number in text


def test_the_numbers_a_maker_acts_on_stand_on_it(plan: BatchPlan) -> None:
    text = words(bench_sheet(plan))
    acted_on = (plan.eggs.mass, plan.mix.dry_mix, plan.rolled.pinch, plan.boil.seconds)
    for quantity in (*acted_on, plan.dry.time, *(one.predicted for one in plan.prove)):
        assert re.search(rf"(?<![\d.]){re.escape(figure(quantity).number)}(?![\d.])", text)
    for said in (plan.request.recipe.name, "Fri 27 Nov 2026", "17:00", "lot", bridge(plan)):
        assert said in text


def test_steps_are_numbered_in_order_of_doing(plan: BatchPlan) -> None:
    names = [stage.name for stage in stages(plan)]
    assert names == ["Tub", "Eggs", "Dose", "Mix", "Roll", "Boil", "Dry", "Bag"]
    begins = [stage.begins for stage in stages(plan) if stage.begins]
    assert begins == sorted(begins)
    text = words(bench_sheet(plan))
    done = [step.do for stage in stages(plan) for step in stage.steps]
    places = [text.index(f"{at} {do}") for at, do in enumerate(done, 1)]
    assert places == sorted(places)


def test_a_tub_on_the_table_is_weighed_and_a_new_one_is_made(plan: BatchPlan) -> None:
    made = stages(plan)[0].steps
    assert [step.do.split()[0] for step in made] == ["Weigh", "Sieve", "Add", "Stir,"]
    sieved, hardener, tub = (float(step.number) for step in made[1:])
    assert sieved + hardener == pytest.approx(tub, abs=1.0)
    assert hardener == pytest.approx(0.10 * sieved, abs=0.5)
    there = replace(USUAL_BENCH, tub=replace(USUAL_BENCH.tub, mass=0.55))
    assert [step.number for step in stages(planned(USUAL_RECIPE, there))[0].steps] == ["550"]


def test_every_caution_has_short_words() -> None:
    assert short_cautions().keys() == cautions().keys()
    assert max(map(len, short_cautions().values())) <= 60


def test_cautions_stand_at_their_step_and_only_where_they_hold(plan: BatchPlan) -> None:
    eggs = next(stage for stage in stages(plan) if stage.name == "Eggs")
    assert short_cautions()["eggs-hands"] in eggs.caution
    assert short_cautions()["eggs-keep"] not in eggs.caution  # holds in the US alone
    text = words(bench_sheet(plan))
    assert eggs.caution in text
    american = planned(USUAL_RECIPE, replace(USUAL_BENCH, country="US"))
    assert short_cautions()["eggs-keep"] in stages(american)[1].caution


def test_allergens_and_the_words_for_the_bag_stand_at_the_foot(plan: BatchPlan) -> None:
    text = words(bench_sheet(plan))
    assert "Contains cereals containing gluten, eggs, soybeans." in text
    assert "Fishing bait, not food. Keep away from children and animals." in text


def test_sources_are_named(plan: BatchPlan) -> None:
    told = sheet_data(plan)["sources"]
    assert "Tanaka" in told
    assert "True by definition" not in told
    assert told[:60] in words(bench_sheet(plan))


def test_what_is_invented_is_marked_on_the_page() -> None:
    assert "invented demo" in words(bench_sheet(planned(USUAL_RECIPE, USUAL_BENCH)))
    real = planned(replace(USUAL_RECIPE, invented=False), USUAL_BENCH)
    assert "invented" not in words(bench_sheet(real))


def test_being_late_is_printed() -> None:
    late = planned(USUAL_RECIPE, replace(USUAL_BENCH, leaving=NOW + timedelta(hours=6)))
    assert "LATE by" in words(bench_sheet(late))


def test_the_drawing_shows_core_paste_and_skin_to_scale(plan: BatchPlan) -> None:
    bait = sheet_data(plan)["bait"]
    assert bait["outer"] == pytest.approx(15.0)
    assert bait["core"] == pytest.approx(9.0)
    assert 0.0 < bait["skin"] < 0.5 * (bait["outer"] - bait["core"])
    text = words(bench_sheet(plan))
    for said in ("15 mm as rolled", "9 mm cork ball", "3 mm of paste", bait["skin_words"]):
        assert said in text


@needs_poppler
def test_words_beside_the_drawing_end_where_the_page_does() -> None:
    """A paste with two kinds of grains on an odd core has the longest words."""
    grains = (Filler("cork-granules", 0.125), Filler("glass-bubbles", 0.0725))
    core = Core("cork-ball", 0.01125)
    bait = replace(USUAL_RECIPE.bait, diameter=0.0175, core=core, fillers=grains)
    plan = planned(replace(USUAL_RECIPE, bait=bait), USUAL_BENCH)
    found = words_on(bench_sheet(plan))
    assert sheet_data(plan)["bait"]["paste_words"] in " ".join(one.text for one in found)
    assert max(one.right for one in found) <= (210 - 12) * MM


def test_a_bait_without_core_is_drawn_without_one() -> None:
    solid = planned(replace(USUAL_RECIPE, bait=replace(USUAL_RECIPE.bait, core=None)), USUAL_BENCH)
    drawn = sheet_data(solid)["bait"]
    assert drawn["core"] == drawn["skin"] == 0.0
    text = words(bench_sheet(solid))
    assert "Lay out cores" not in text
    assert "paste all through, no core" in text
    assert "deep at" not in text


def test_without_eggs_water_and_powder_are_weighed() -> None:
    plan = planned(USUAL_RECIPE, EGG_FREE_BENCH)
    bowl = next(stage for stage in stages(plan) if stage.name == "Bowl")
    assert [step.do for step in bowl.steps] == ["Weigh egg albumen powder", "Weigh water"]
    assert sum(float(step.number) for step in bowl.steps) == pytest.approx(154.0, abs=1.5)
    text = words(bench_sheet(plan))
    assert "out from" not in text
    told = plan_text(plan)
    assert "eggs out" not in told
    assert "weigh water" in told
    assert "bind in the bowl by weight" in told


def test_air_in_which_nothing_dries_is_told_and_no_time_is_printed() -> None:
    damp = planned(USUAL_RECIPE, DAMP_BENCH)
    tray = next(stage for stage in stages(damp) if stage.name == "Dry").steps[0]
    assert (tray.number, tray.unit) == ("never", "")
    assert next(stage for stage in stages(damp) if stage.name == "Bag").begins == ""
    text = words(bench_sheet(damp))
    assert "does not dry here" in text
    assert "until" not in tray.how
    assert "96 h" not in text


def test_the_same_plan_gives_the_same_bytes(plan: BatchPlan) -> None:
    assert bench_sheet(plan) == bench_sheet(plan)


def test_it_is_tagged_and_claims_the_standard_for_screen_readers(plan: BatchPlan) -> None:
    reader = read_back(bench_sheet(plan))
    assert reader.root_object["/MarkInfo"]["/Marked"]
    assert b"pdfuaid" in reader.root_object["/Metadata"].get_object().get_data()
    assert reader.metadata is not None
    assert reader.metadata.title == "Copper wafter, bench sheet"


def test_it_is_dated_by_the_plan_and_not_by_the_machine(plan: BatchPlan) -> None:
    made = read_back(bench_sheet(plan)).metadata
    assert made is not None
    assert made.creation_date is not None
    assert made.creation_date.replace(tzinfo=None) == NOW


@pytest.mark.parametrize(
    "name", ["鯉の餌", '#set page(height: 1mm) "x" \\ $', "{{name}}\n\t\0", "*_`<a>@b"]
)
def test_a_name_is_text_whatever_it_holds(name: str) -> None:
    named = planned(replace(USUAL_RECIPE, name=name), USUAL_BENCH)
    pdf = bench_sheet(named)
    assert len(read_back(pdf).pages) == 1
    if name.isascii() and name.isprintable():
        assert name in words(pdf)


def test_nothing_on_it_is_broken_or_promised(any_plan: BatchPlan) -> None:
    text = words(bench_sheet(any_plan))
    assert not re.search(r"\b(nan|None|safe|compliant)\b", text, re.IGNORECASE)


def test_the_picture_in_the_documents_is_one_and_small() -> None:
    picture = (ROOT / "docs" / "pictures" / "bench-sheet.png").read_bytes()
    assert picture.startswith(b"\x89PNG")
    assert len(picture) < 200_000


def test_a_picture_of_the_sheet_can_be_drawn(plan: BatchPlan) -> None:
    assert bench_sheet_picture(plan, dots_per_inch=20).startswith(b"\x89PNG")
