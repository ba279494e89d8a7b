"""Bottle tests as files: what one may hold, what is refused, what is said and what is kept."""

from __future__ import annotations

import json
from datetime import datetime
from pathlib import Path

import pytest

from baitwright.terms.errors import InputError
from baitwright.terms.records import Look, PushedUnder, Soaked, WeighedTogether
from baitwright.workshop.forms.bottle_file import read_bottle_test
from baitwright.workshop.plans.show_plan import document
from baitwright.workshop.readings.bottle_json import bottle_as_json
from baitwright.workshop.readings.bottle_test import Bottled, bottle_test
from baitwright.workshop.readings.bottle_words import bottle_text
from baitwright.workshop.readings.record_batch import RecordFiles
from baitwright.workshop.recipe_files.factors_file import read_factors
from tests.batch.kitchen import BENCH, RECIPE, planned
from tests.workshop.shelf import path as example

NOW = datetime(2026, 11, 27, 9, 0)
EIGHT_UP = 'water = "17 C"\ntray = 50\n[[look]]\nfloated = 8\n'
SOAKED = (
    EIGHT_UP + '[[soaked]]\nafter = "4 h"\ncount = 6\nweight_before = "8.72 g"\nweight = "12.0 g"\n'
)
WEIGHED = EIGHT_UP + '[[pushed_under]]\nweight = "1.46 g"\nrise = "1.50 g"\n'


@pytest.fixture(scope="module")
def plan_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("plan") / "plan.json"
    path.write_text(document(planned(RECIPE, BENCH)), encoding="utf-8")
    return path


def written(folder: Path, text: str) -> Path:
    path = folder / "test.toml"
    path.write_text(text, encoding="utf-8")
    return path


def tried(plan_file: Path, folder: Path, text: str, **files: Path) -> Bottled:
    return bottle_test(RecordFiles(plan_file, written(folder, text), **files), clock=lambda: NOW)


def test_everything_a_bottle_test_may_hold(tmp_path: Path) -> None:
    path = written(
        tmp_path,
        'made = "2026-11-26"\nwater = "17 C"\ntray = 50\nlake_depth = "3,5 m"\n'
        'remark = " one lay on its side "\n'
        "[[look]]\nfloated = 6\nhung = 1\nsank = 1\n"
        '[[look]]\non = "rig"\nafter = "12 h"\nsank = 8\nstill_firm = 7\noff_core = 0\n'
        '[[pushed_under]]\nweight = "1.46 g"\nrise = "1.50 g"\n'
        '[baits_weighed]\ncount = 12\nweight = "17.6 g"\n'
        '[cores_weighed]\ncount = 20\nweight = "1.6 g"\n'
        '[[soaked]]\nafter = "12 h"\ncount = 6\nweight_before = "8.72 g"\nweight = "12.6 g"\n',
    )
    test = read_bottle_test(path, plan_name="Copper wafter")
    assert (test.plan_name, test.made_on) == ("Copper wafter", datetime(2026, 11, 26))
    assert test.water_temperature == pytest.approx(290.15)
    assert (test.tray, test.lake_depth) == (50, 3.5)
    assert test.looks == (
        Look(0.0, 6, 1, 1),
        Look(43_200.0, 0, 0, 8, on_rig=True, still_firm=7, off_core=0),
    )
    assert test.pushed_under == (PushedUnder(1.46e-3, 1.50e-3),)
    assert test.baits == WeighedTogether(12, 17.6e-3)
    assert test.cores == WeighedTogether(20, 1.6e-3)
    assert test.soaked == (Soaked(43_200.0, 6, 8.72e-3, 12.6e-3),)
    assert test.remark == "one lay on its side"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (EIGHT_UP.replace("50", "7"), r"look\[1\]: got '8 baits', but it takes no more than the 7"),
        (EIGHT_UP.replace("17", "60"), "water: got '60 C', but it takes a temperature"),
        (EIGHT_UP.replace("17", "-1"), "water: got '-1 C', but it takes a temperature"),
        ('lake_depth = "-2 m"\n' + EIGHT_UP, "lake_depth: got '-2 m', but it takes a length"),
        (EIGHT_UP + "still_firm = 9\n", r"look\[1\]\.still_firm: got 9, .* no more than the 8"),
        (EIGHT_UP + "off_core = 9\n", r"look\[1\]\.off_core: got 9, .* no more than the 8"),
        (EIGHT_UP.replace("= 8", "= -8"), r"look\[1\]\.floated: got -8, .* a whole number"),
        (EIGHT_UP.replace("= 8", "= 7.5"), r"look\[1\]\.floated: got 7.5, .* a whole number"),
        (EIGHT_UP.replace("= 8", "= 0"), r"look\[1\]: got 'no bait'"),
        (EIGHT_UP + 'on = "hook"\n', r"look\[1\]\.on: got 'hook', .* alone, rig"),
        (EIGHT_UP + "drowned = 1\n", r"look\[1\]\.drowned: got 1, but it takes a key known there"),
        ('water = "17 C"\n', "look: got nothing, but it takes at least one look or weighing"),
        ("[[look]]\nfloated = 8\n", "water: got nothing, but it takes a temperature"),
        (EIGHT_UP + '[baits_weighed]\ncount = 51\nweight = "75 g"\n', "baits_weighed.count: got"),
        (
            EIGHT_UP + '[[pushed_under]]\nweight = "1.4 g"\n',
            r"\[1\]\.rise: got nothing",
        ),
        (EIGHT_UP.replace("floated = 8", 'after = "5 h"\nsank = 8'), "look within the first hour"),
        (WEIGHED.replace("1.46 g", "146 g"), r"pushed_under\[1\]\.weight: got '146 g'.* the unit"),
        (SOAKED.replace("4 h", "0 h"), r"soaked\[1\]\.after: got '0 h', .* from 1 h to 48 h"),
        (SOAKED.replace("4 h", "49 h"), r"soaked\[1\]\.after: got '49 h', .* from 1 h to 48 h"),
        (SOAKED.replace("= 6", "= 0"), r"soaked\[1\]\.count: got 0, .* a whole number"),
        (SOAKED.replace("= 6", "= 51"), r"soaked\[1\]\.count: got '51 baits', .* the 50"),
        (SOAKED.replace("12.0 g", "4 g"), r"soaked\[1\]\.weight: got '4 g', .* for baits of"),
        (SOAKED.replace("12.0 g", "12.0 oz"), r"soaked\[1\]\.weight: .* Check the unit"),
        (SOAKED.replace("8.72 g", "8.72 oz"), r"soaked\[1\]\.weight_before: .* Check the unit"),
        (SOAKED.replace('weight = "12.0 g"\n', ""), r"soaked\[1\]\.weight: got nothing"),
        (SOAKED.replace("17 C", "38 C"), "water: got '38 .*C', .* for baits weighed soaked"),
        ('made = "2026-11-01"\n' + EIGHT_UP, "made: got '2026-11-01', but it takes a day from"),
        ('made = "2026-12-24"\n' + EIGHT_UP, "made: got '2026-12-24', but it takes a day from"),
    ],
)
def test_what_is_refused_is_told_with_its_place(
    plan_file: Path, tmp_path: Path, text: str, said: str
) -> None:
    with pytest.raises(InputError, match=said) as refused:
        tried(plan_file, tmp_path, text)
    assert str(refused.value).startswith(str(tmp_path / "test.toml"))


def test_eight_of_eight_in_words(plan_file: Path, tmp_path: Path) -> None:
    said = bottle_text(tried(plan_file, tmp_path, EIGHT_UP))
    assert (
        "8 of 8 floated: at most 28 % of this tray of 50 will not (14), 31 % of all such baits."
    ) in said
    assert "21 more, all of them good, would bring all such baits to 10 % at most." in said
    assert "All did alike: that only bounds the lift." in said
    assert "not whether core or paste gives it: weigh twenty cores" in said
    alone = bottle_text(tried(plan_file, tmp_path, EIGHT_UP.replace("tray = 50\n", "")))
    assert "8 of 8 floated: at most 31 % of all such baits will not." in alone


def test_the_example_says_what_it_proves_and_moves(plan_file: Path) -> None:
    files = RecordFiles(plan_file, example("bottle-test"))
    said = bottle_text(bottle_test(files, clock=lambda: NOW))
    assert "7 of 8 were still firm on the rig after 12 h" in said
    assert "8 of 8 hung or sank on the rig after 10 min" in said
    assert "lift of its middle bait, after the test: +0.0" in said
    assert "core density for cork-ball:" in said
    assert "gained 44 % of their weight in 12 h" in said
    assert "lift of the tray's mean bait" in said
    assert "narrower" in said
    assert "Looks after the first hour prove only" in said
    assert "Nothing is kept yet" in said


def test_the_same_for_programs(plan_file: Path, tmp_path: Path) -> None:
    told = json.loads(json.dumps(bottle_as_json(tried(plan_file, tmp_path, WEIGHED))))
    assert told["proved"][0]["most_bad_in_tray"] == 14
    assert told["effective_draws"] >= 1000
    assert told["core_and_paste_told_apart"] is False
    low, high = told["after"]["lift_g"]["band80"]
    assert low < told["after"]["lift_g"]["median"] < high
    was_low, was_high = told["before"]["lift_g"]["band80"]
    assert high - low < 0.6 * (was_high - was_low)
    assert {one["key"] for one in told["proposals"]} >= {"paste_density"}
    assert told["factors"]["written"] is None


def test_soaked_baits_in_words_and_for_programs(plan_file: Path, tmp_path: Path) -> None:
    found = tried(plan_file, tmp_path, SOAKED)
    said = bottle_text(found)
    assert "6 baits weighed together gained 38 % of their weight in 4 h (planned: " in said
    assert "how fast water moves in the bait, beside the table: 1." in said
    assert "soak: 1.00 becomes 1." in said
    (night,) = (one for one in found.changes if "in 14 h in the lake" in one.label)
    assert night.after.median > night.before.median  # faster than the table
    told = json.loads(json.dumps(bottle_as_json(found)))["soaked"]
    assert told["effective_draws"] >= 1000
    assert told["gained"][0]["share"] == pytest.approx(12.0 / 8.72 - 1.0)
    low, high = told["factor_after"]["band80"]
    was_low, was_high = told["factor_before"]["band80"]
    assert high - low < 0.75 * (was_high - was_low)


def test_soaked_baits_alone_tell_nothing_of_the_lift(plan_file: Path, tmp_path: Path) -> None:
    found = tried(plan_file, tmp_path, SOAKED.replace("[[look]]\nfloated = 8\n", ""))
    said = bottle_text(found)
    assert ["in 14 h in the lake" in one.label for one in found.changes] == [True]
    assert "Nothing here tells of the lift" in said
    assert "All did alike" not in said
    assert "soak: 1.00 becomes 1." in said


def test_another_weight_soaked_is_another_test(plan_file: Path, tmp_path: Path) -> None:
    tried(plan_file, tmp_path, SOAKED, accept=tmp_path / "mine.toml")
    mine = tmp_path / "mine.toml"
    assert read_factors(mine).find("soak").batches == 1
    assert tried(plan_file, tmp_path, SOAKED, factors=mine).again
    assert not tried(plan_file, tmp_path, SOAKED.replace("12.0", "12.1"), factors=mine).again


def test_what_is_accepted_is_kept_once(plan_file: Path, tmp_path: Path) -> None:
    kept = tried(plan_file, tmp_path, WEIGHED, accept=tmp_path / "mine.toml")
    assert kept.written == tmp_path / "mine.toml"
    mine = read_factors(tmp_path / "mine.toml")
    assert mine.find("paste_density", "Copper").batches == 1
    assert len(mine.learned) == 1
    again = tried(plan_file, tmp_path, WEIGHED, factors=tmp_path / "mine.toml")
    assert again.again
    assert "have learned from this test already" in bottle_text(again)
    with pytest.raises(InputError, match="counted twice"):
        tried(
            plan_file,
            tmp_path,
            WEIGHED,
            factors=tmp_path / "mine.toml",
            accept=tmp_path / "more.toml",
        )
    assert not (tmp_path / "more.toml").exists()


def test_the_accepted_set_narrows_the_next_plan(plan_file: Path, tmp_path: Path) -> None:
    """Mean lift of the tray, by the whole plan and not by the test's own model."""
    found = tried(plan_file, tmp_path, WEIGHED)
    change = next(one for one in found.changes if one.label == "lift of the tray's mean bait")
    assert change.width < 0.95
    assert change.after.median < change.before.median  # one weighed lighter than planned


def test_nothing_moved_is_nothing_to_accept(plan_file: Path, tmp_path: Path) -> None:
    all_down = 'water = "17 C"\n[[look]]\nsank = 50\n'
    with pytest.raises(InputError, match="a test that moves a factor"):
        tried(plan_file, tmp_path, all_down, accept=tmp_path / "mine.toml")
    assert "No factor moves." in bottle_text(tried(plan_file, tmp_path, all_down))
