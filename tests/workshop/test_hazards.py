"""Sheets, cautions, blends and waters out of the notebook, asked as their doors ask."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import pytest

from baitwright.advice.hazards import Doing, cards_of
from baitwright.advice.venue_rules import Verdict
from baitwright.materials.care import Sheet
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.sheets.bench_steps import stages
from baitwright.terms.errors import InputError
from baitwright.workshop.care.blend_screening import screen_blend, screen_parts
from baitwright.workshop.care.hazard_questions import BlendQuestion, CautionsQuestion, PackQuestion
from baitwright.workshop.care.hazards_asked import (
    blend_answered,
    cautions_answered,
    pack_answered,
    venue_parts,
)
from baitwright.workshop.care.hazards_json import hazards_json
from baitwright.workshop.care.packs_shown import packs_checked, packs_json
from baitwright.workshop.care.premises import of_recipe, premises
from baitwright.workshop.care.premises_sheet import premises_sheet
from baitwright.workshop.care.screening_shown import screening_json, screening_shown
from baitwright.workshop.care.venue_asked import (
    Outing,
    batch_held,
    names_told,
    night_held,
    outing_held,
    plan_held,
)
from baitwright.workshop.nights.night_doubts import doubts_text
from baitwright.workshop.plans.liquid_sheets import sheets_of, with_sheets
from baitwright.workshop.plans.plan_json import plan_as_json, request_from_json
from baitwright.workshop.plans.plan_stages import stages as plan_stages
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.recipe_files.demo import demo_file
from baitwright.workshop.recipe_files.recipe_file import read_recipe
from baitwright.workshop.told.answer_text import answer_text
from baitwright.workshop.waters.venue_words import headline, venue_json, venue_lines
from tests.batch.kitchen import BENCH, MALT, RECIPE, planned
from tests.cli.test_commands import run
from tests.web.rooms import Shown, filled
from tests.workshop.records import body, write

NOW = datetime(2026, 11, 28, 10, 0)


@pytest.fixture(scope="module")
def season(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Notebook, Shown]]:
    """The demonstration; what a test adds here no other test counts."""
    shown = filled(tmp_path_factory.mktemp("hazards") / "notebook.sqlite")
    book = open_notebook(shown.place, now=datetime.now().astimezone())
    yield book, shown
    book.close()


def test_a_recipe_takes_the_sheets_of_its_liquids_records(
    season: tuple[Notebook, Shown],
) -> None:
    book, _ = season
    recipe = with_sheets(read_recipe(demo_file("copper-wafter.toml")), sheets_of(book))
    oil = next(one for one in recipe.liquids if one.name == "Caraway oil")
    assert oil.hazards == ("H226", "H304", "H315", "H317", "H411")
    assert oil.flash_point == pytest.approx(273.15 + 58)
    own = replace(recipe, liquids=(replace(oil, hazards=("H319",), flash_point=350.0),))
    assert with_sheets(own, sheets_of(book)) == own  # what the recipe says wins


def test_a_sheet_reaches_plan_bench_page_and_data() -> None:
    bottle = replace(MALT, hazards=("H304", "H317"), flash_point=273.15 + 40)
    made = planned(replace(RECIPE, liquids=(bottle,)), replace(BENCH, country="GB"))
    steps = {one.name: one.caution for one in stages(made)}
    assert "Deadly in the lungs" in steps["Dose"]
    assert "away from the hob" in steps["Boil"]
    page = {one.title: " ".join(one.cautions) for one in plan_stages(made)}
    assert "get into the lungs" in page["Doses"].replace("gets", "get")
    assert "(Malt)" in page["Doses"]
    told = plan_as_json(made)
    aspiration = next(one for one in told["cautions"] if one["id"] == "aspiration")
    assert aspiration["liquids"] == ["Malt"]
    assert request_from_json(told) == made.request
    plain = planned(replace(RECIPE, liquids=(MALT,)), replace(BENCH, country="GB"))
    assert "aspiration" not in {one.id for one in plain.care.cautions}


def test_the_shelf_tells_bottles_allergens_and_what_nobody_knows(
    season: tuple[Notebook, Shown],
) -> None:
    book, _ = season
    found = premises(book)
    by_name = {one.name: one for one in found.at_hand}
    assert by_name["Caraway oil"].sheet == Sheet(
        ("H226", "H304", "H315", "H317", "H411"), pytest.approx(331.15)
    )
    assert "milk" in by_name["Chalk sinker baits"].holds
    assert "raw-egg" in by_name["Eggs"].triggers
    assert {"bag", "label", "cork-ball 9 mm"} <= {*found.left_aside}
    assert not by_name["Malt"].is_known
    text = answer_text(cautions_answered(book, CautionsQuestion(country="GB")))
    assert "H304 may be deadly" in text
    assert "Not known what is in: Caraway oil; Malt" in text
    assert "No country" not in text
    assert "No country was told" in answer_text(cautions_answered(book, CautionsQuestion()))
    data = hazards_json(found.at_hand, doings=(), country="GB")
    assert len(data["allergens"]) == 14
    flash = {one["name"]: one["flash_point_C"] for one in data["bottles"]}
    assert flash["Caraway oil"] == pytest.approx(58.0)
    sheet = premises_sheet(found, country="GB", now=NOW)
    assert [one.heading for one in sheet.tables] == ["Bottles", "Allergens", "Cautions"]
    assert len(sheet.tables[1].groups[0].rows) == 14


def test_a_recipe_is_told_step_by_step(season: tuple[Notebook, Shown]) -> None:
    book, _ = season
    told = CautionsQuestion(country="DE", recipe="Copper wafter", selling=True)
    text = answer_text(cautions_answered(book, told))
    for step in ("BREAKING EGGS", "DOSING", "BOILING", "SELLING", "POSTING"):
        assert step in text
    assert "- GB:" not in text
    assert "(Caraway oil" in text
    parts = of_recipe(read_recipe(demo_file("copper-wafter.toml")))
    making = {one.caution.id for one in cards_of(parts, doings=(Doing.MAKING,)).cards}
    assert {"scald", "eggs-hands", "dust-mask", "meal-mould"} <= making


def test_a_blend_is_screened_by_its_parts_records(season: tuple[Notebook, Shown]) -> None:
    book, _ = season
    parts = ("part[1].liquid=Malt", "part[1].parts=3", "part[2].liquid=Caraway oil")
    write(book, "blend", *parts, "part[2].parts=1", name="Winter blend")
    found = screen_blend(book, "winter blend")
    (oral,) = found.routes
    assert oral.route == "oral"
    assert oral.estimate == pytest.approx(1 / (0.75 / 9000 + 0.25 / 3500))
    assert found.routes[0].category is None
    assert "screening, not a classification" in answer_text(screening_shown(found)).lower()
    assert screening_json(found)["routes"][0]["parts"][0]["share"] == 0.75
    write(book, "liquid", "hazards=H302", name="Dark acid")
    more = ("part[3].liquid=Dark acid", "part[3].parts=4", "part[4].liquid=Nobody's")
    write(book, "blend", *parts, "part[2].parts=1", *more, "part[4].parts=8", name="Winter blend")
    (oral,) = (found := screen_blend(book, "Winter blend")).routes
    assert found.by_phrase == ("Dark acid",)
    assert oral.is_corrected
    assert oral.unknown == pytest.approx(0.5)
    load = 3 / 16 / 9000 + 1 / 16 / 3500 + 4 / 16 / 500  # H302 stands for 500 mg/kg
    assert oral.estimate == pytest.approx(0.5 / load)
    assert blend_answered(book, BlendQuestion(blend="Winter blend"))


def test_parts_are_typed() -> None:
    found = screen_parts(
        [
            "26 % a: oral 2737 mg/kg",
            "23 % b: oral 4500",
            "40% c: oral 400",
            "11 % w: oral not relevant",
        ]
    )
    (oral,) = found.routes
    assert oral.estimate == pytest.approx(872.52, abs=0.01)
    assert oral.not_relevant == pytest.approx(0.11)


@pytest.mark.parametrize(
    ("parts", "said"),
    [
        ([], "part"),
        (["Clove"], "part 1"),
        (["20 % Clove: throat 3 mg/kg"], "toxicity"),
        (["20 % Clove: oral 3 mg/l"], "oral in mg/kg"),
        (["80 % a: oral 5", "30 % b: oral 5"], "100 % at most"),
    ],
)
def test_parts_that_cannot_be_are_asked_back(parts: list[str], said: str) -> None:
    with pytest.raises(InputError, match=said):
        screen_parts(parts)


def test_a_pack_is_checked() -> None:
    text = answer_text(pack_answered(PackQuestion(stated="150 g", weighed="151 g, 149 g; 142 g")))
    assert "143.2 g" in text
    assert "breaks the three rules" in text.lower()
    limits, found = packs_checked("150 g", ("151 g", "150 g"))
    told = packs_json(limits, found)
    assert told["none_below_g"] == pytest.approx(136.4)
    assert told["sample"]["keeps_the_three_rules"]
    with pytest.raises(InputError, match="25 kg"):
        packs_checked("30 kg", ())


def test_a_plan_tells_the_rule_it_breaks_before_it_is_made(
    season: tuple[Notebook, Shown],
) -> None:
    book, shown = season
    held = batch_held(book, shown.planned)
    assert held is not None
    (free,) = held.broken
    assert (free.about, free.verdict) == ("free bait", Verdict.BREAKS)
    assert "3 kg at most" in free.rule
    assert "Nothing is blocked" in "\n".join(venue_lines(held))
    verdicts = {one.about: one.verdict for one in held.findings}
    assert verdicts["nuts"] is Verdict.KEEPS
    assert verdicts["rods"] is Verdict.LOOK
    data = venue_json(held)
    assert data["source"] == "board at the gate"
    assert data["rules"][0]["verdict"] == "breaks"


def test_a_bag_and_an_outing_are_held_against_the_rules(season: tuple[Notebook, Shown]) -> None:
    book, shown = season
    outing = Outing((f"{shown.bagged}/1",), rods=3, night=False, lead=True, day=date(2026, 11, 28))
    held = outing_held(book, "long reedpool", outing)
    assert [one.about for one in held.broken] == ["lead", "rods"]
    assert "breaks 2 rules: lead, rods" in headline(held)
    titles = [part.title for part in venue_parts(held)]
    assert titles[1] == "Breaks"
    write(book, "water", "banned=liver powder; oil", "nuts=allowed", name="Alder Pit")
    held = outing_held(book, "Alder Pit", Outing((f"{shown.bagged}/1",)))
    hit = [one.found.lower() for one in held.broken]
    assert any("liver" in one for one in hit)
    assert any("caraway oil" in one for one in hit)
    assert "not known: " in headline(held)


def test_a_water_without_rules_says_so(season: tuple[Notebook, Shown]) -> None:
    book, shown = season
    held = outing_held(book, "Elsewhere", Outing((shown.made,)))
    assert held.rules is None
    assert "ask its owner" in headline(held)
    assert {one.verdict for one in held.findings} == {Verdict.UNKNOWN}
    there = planned(RECIPE, replace(BENCH, at_water="Elsewhere"))
    alone = plan_held(None, there)
    assert alone is not None
    assert alone.rules is None
    assert plan_held(None, planned()) is None


def test_a_bag_nobody_knows_is_asked_back(season: tuple[Notebook, Shown]) -> None:
    with pytest.raises(InputError, match="the last are"):
        outing_held(season[0], "Long Reedpool", Outing(("2020-01-01/B9",)))


def test_a_night_that_broke_a_rule_says_so_when_it_is_written_down(
    season: tuple[Notebook, Shown],
) -> None:
    book, shown = season
    rods = [f"rod[{at}].bag={shown.bagged}/1" for at in (1, 2, 3)]
    made = write(book, "night", "water=Long Reedpool", *rods)
    held = night_held(book, made)
    assert held is not None
    assert [one.about for one in held.broken] == ["rods"]
    assert "breaks a rule: rods" in doubts_text(book, made)
    quiet = write(book, "night", "water=Long Reedpool", *rods[:2])
    assert "breaks" not in doubts_text(book, quiet)


def test_what_a_water_is_told_by(season: tuple[Notebook, Shown]) -> None:
    book, _ = season
    told = body(write(book, "water", "free-bait-most=2 kg", "rods_most=2", name="Sallow Mere"))
    assert told["free_bait_most"] == pytest.approx(2.0)
    with pytest.raises(InputError, match="banned, the fishery's own only, allowed"):
        write(book, "water", "nuts=some", name="Sallow Mere")
    assert names_told(("a, b; c", "a")) == ("a", "b", "c")


def test_the_same_request_with_sheets_is_planned_the_same() -> None:
    bottle = replace(MALT, hazards=("H226",), flash_point=300.0)
    made = planned(replace(RECIPE, liquids=(bottle,)))
    again = worked_out(request_from_json(plan_as_json(made)))
    assert plan_as_json(again) == plan_as_json(made)


def test_a_file_of_a_recipe_tells_its_sheet(tmp_path: Path) -> None:
    text = demo_file("copper-wafter.toml").read_text(encoding="utf-8")
    told = text.replace(
        'carrier = "propylene glycol"\n',
        'carrier = "propylene glycol"\nhazards = "H317; H319"\nflash_point = "131 F"\n',
    )
    path = tmp_path / "recipe.toml"
    path.write_text(told, encoding="utf-8")
    malt = read_recipe(path).liquids[0]
    assert malt.hazards == ("H317", "H319")
    assert malt.flash_point == pytest.approx(273.15 + 55.0, abs=1e-6)
    path.write_text(told.replace("131 F", "131"), encoding="utf-8")
    with pytest.raises(InputError, match="flash_point"):
        read_recipe(path)
    path.write_text(told.replace("H319", "H9"), encoding="utf-8")
    with pytest.raises(InputError, match="hazards"):
        read_recipe(path)


def test_a_batch_planned_and_bagged_tells_the_rules_of_its_water(tmp_path: Path) -> None:
    shown = filled(tmp_path / "notebook.sqlite")
    place = ("--notebook", str(shown.place))
    bench = str(demo_file("bench-three-large-eggs.toml"))
    told = run("batch", *place, "plan", str(demo_file("copper-wafter.toml")), bench)
    assert told.exit_code == 0
    assert "breaks a rule: free bait" in told.output
    bagged = run("batch", *place, "bag", shown.made, "5", "--water", "Long Reedpool")
    assert bagged.exit_code == 0
    said, filled_one = bagged.output.splitlines()[0], bagged.output.splitlines()[-1]
    assert f"{shown.made} at Long Reedpool: no rule that is written down is broken" in said
    assert filled_one.startswith("bag ")  # it is told, and filled all the same
    unknown = run("batch", *place, "bag", shown.made, "5", "--water", "Elsewhere")
    assert "No rules of Elsewhere are written down" in unknown.output
