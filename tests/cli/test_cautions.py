"""What the commands of cautions and waters print, refuse, and tell programs."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.test_commands import RECIPE, process
from tests.cli.test_notebook import done, refused


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    made = tmp_path / "notebook.sqlite"
    monkeypatch.setenv("BAITWRIGHT_NOTEBOOK", str(made))
    return made


def test_a_recipe_with_its_sheets_and_a_country() -> None:
    told = json.loads(done("cautions", "recipe", str(RECIPE), "--country", "GB", "--json"))
    before = {one["id"] for one in told["cautions"]}
    assert "dust-limit" in before
    assert "dust-advice" not in before
    assert "aspiration" not in before
    done("record", "liquid", "Malt", "hazards=H304", "flash_point=45 C")
    told = json.loads(done("cautions", "recipe", str(RECIPE), "--country", "GB", "--json"))
    after = {one["id"]: one["because"] for one in told["cautions"]}
    assert after["aspiration"] == ["Malt"]
    assert before <= after.keys()
    assert "No rules of JP" in done("cautions", "recipe", str(RECIPE), "--country", "JP")


def test_the_shelf_and_its_sheet_on_paper(tmp_path: Path) -> None:
    done("shelf", "in", "semolina", "5 kg")
    done("shelf", "in", "Plum", "100 ml")
    said = done("cautions", "shelf", "--country", "GB")
    assert "semolina" in said
    assert "Not known what is in: Plum" in said
    written = done("cautions", "shelf", "--pdf", str(tmp_path / "here.pdf"))
    assert "here.pdf" in written
    assert (tmp_path / "here.pdf").read_bytes().startswith(b"%PDF")


def test_a_blend_and_a_pack() -> None:
    parts = ("--part", "50 % a: oral 400 mg/kg", "--part", "50 % b: oral not relevant")
    told = json.loads(done("cautions", "blend", *parts, "--json"))
    assert told["mark"] == "screening, not a classification"
    assert told["routes"][0]["estimate"] == pytest.approx(800.0)
    assert "a share, a name" in refused("cautions", "blend", "--part", "50 a").stderr
    told = json.loads(done("cautions", "pack", "100 g", "101 g", "99 g", "--json"))
    assert told["few_below_g"] == pytest.approx(95.5)
    assert told["sample"]["mean_holds"]
    assert "5 g to 25 kg" in refused("cautions", "pack", "26 kg").stderr


def test_a_water_its_rules_and_a_plan_that_breaks_one(tmp_path: Path) -> None:
    done("record", "water", "Long Reedpool", "free_bait_most=3 kg", "nuts=banned", "rods_most=2")
    assert done("water").strip() == "Long Reedpool"
    said = done("water", "Long Reedpool", "--rods", "3", "--free-bait", "2.5 kg")
    assert "! breaks: rods: 2 at most. Found: 3" in said
    told = json.loads(done("water", "Long Reedpool", "--rods", "3", "--json"))
    assert told["is_written_down"]
    assert told["rules"][0] == {
        "about": "rods",
        "verdict": "breaks",
        "rule": "2 at most",
        "found": "3",
    }
    bench = tmp_path / "bench.toml"
    bench.write_text('water = "Long Reedpool"\n[[eggs]]\ngrade = "EU L"\ncount = 3\n', "utf-8")
    plan = ("plan", str(RECIPE), str(bench), "--draws", "64")
    assert "breaks a rule: free bait" in done(*plan).splitlines()[0]
    told = json.loads(done(*plan, "--json"))
    assert told["water_rules"]["water"] == "Long Reedpool"
    assert told["request"]["bench"]["at_water"] == "Long Reedpool"


def test_a_water_nobody_wrote_down_is_said_to_be_not_known(place: Path) -> None:
    done("shelf", "in", "semolina", "5 kg")
    assert "ask its owner" in done("water", "Elsewhere")
    assert process("water", "Elsewhere", "--bag", "none").returncode == 2
    assert "No rules are written down yet" in done("water")
