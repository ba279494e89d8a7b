"""`mix design` as typed: text, JSON, tables and pictures, and what it says to a wrong file."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from baitwright.cli.main import cli
from tests.architecture.tree import ROOT

EXAMPLE = ROOT / "examples" / "copper-wishes.toml"


def typed(*words: object) -> Result:
    return CliRunner().invoke(cli, ["mix", "design", *map(str, words)])


def clashing(folder: Path) -> Path:
    text = EXAMPLE.read_text(encoding="utf-8")
    text = text.replace('at_least = "34 %"', 'at_least = "58 %"')
    path = folder / "clash.toml"
    path.write_text(text.replace('at_least = "45 %"', 'at_least = "60 %"'), encoding="utf-8")
    return path


def test_the_mix_and_its_reasons() -> None:
    done = typed(EXAMPLE)
    assert done.exit_code == 0
    assert "semolina, durum                                42.5 %         4.25 kg" in done.stdout
    assert "Costs 2.615 per kg, in steps 2.619." in done.stdout
    assert "every row checked again exactly: kept" in done.stdout
    assert "protein: at least 34 %; the next point costs 0.0255 per kg" in done.stdout
    assert "wheat gluten: 4.5 per kg; comes in under 2.80" in done.stdout
    assert "Invented demo" in done.stdout


def test_the_answer_as_data() -> None:
    told = json.loads(typed(EXAMPLE, "--json", "--prices", "fishmeal-65").stdout)
    assert told["best"]["cost"] == pytest.approx(2.61532573, abs=1e-8)
    assert told["weighed"]["broken"] == []
    assert {one["row"] for one in told["leaning"]} >= {"protein: at least 34 %"}
    stretches = told["prices"]["stretches"]
    assert (stretches[0]["from"], stretches[-1]["to"]) == (1.3, 5.2)


def test_a_clash_and_the_nearest_mix(tmp_path: Path) -> None:
    done = typed(clashing(tmp_path))
    assert done.exit_code == 0
    assert "58 % protein and 60 % binder clash once soya flour" in done.stdout
    assert "missed by 11.3 points" in done.stdout
    told = json.loads(typed(clashing(tmp_path), "--json").stdout)
    assert told["clash"]["wishes"][0]["reach"] == pytest.approx(0.467439, abs=1e-6)


def test_tables_and_pictures(tmp_path: Path) -> None:
    done = typed(
        EXAMPLE, "--prices", "fish meal, 65 % protein", "--low", 1, "--high", 8,
        "--pictures", tmp_path, "--out", tmp_path / "mix.csv",
    )  # fmt: skip
    assert done.exit_code == 0
    assert {one.name for one in tmp_path.iterdir()} == {"mix.csv", "prices.svg", "prices.html"}
    text = (tmp_path / "mix.csv").read_text(encoding="utf-8-sig")
    lines = list(csv.DictReader(text.splitlines()))
    parts = [float(one["value"]) for one in lines if one["what"] == "part"]
    assert sum(parts) == pytest.approx(100.0)
    assert all(one["kept"] == "yes" for one in lines if one["what"] == "row")
    assert "Between them the best mix changes 5 times." in (tmp_path / "prices.svg").read_text()


def test_a_workbook(tmp_path: Path) -> None:
    openpyxl = pytest.importorskip("openpyxl")
    assert typed(EXAMPLE, "--out", tmp_path / "mix.xlsx").exit_code == 0
    page = openpyxl.load_workbook(tmp_path / "mix.xlsx").active
    assert [cell.value for cell in page[1]][:3] == ["what", "name", "value"]


def test_what_is_wrong_is_told(tmp_path: Path) -> None:
    done = typed(tmp_path / "none.toml")
    assert (done.exit_code, done.stdout) == (2, "")
    assert "a wishes file that can be read" in done.stderr
    assert "--prices" in typed(EXAMPLE, "--pictures", tmp_path).stderr
    assert "a name that ends in" in typed(EXAMPLE, "--out", tmp_path / "mix.doc").stderr
    assert "gravel" in typed(EXAMPLE, "--prices", "gravel").stderr


def test_a_price_is_moved_under_a_budget_and_for_another_goal(tmp_path: Path) -> None:
    text = EXAMPLE.read_text(encoding="utf-8")
    held = tmp_path / "held.toml"
    held.write_text(text.replace('batch = "10 kg"', "budget = 2.9"), encoding="utf-8")
    done = typed(held, "--prices", "fishmeal-65", "--high", 8)
    assert "of it no mix keeps the budget" in done.stdout
    most = text.replace('goal = "least cost"', 'goal = "most"\nbudget = 2.9')
    held.write_text(most.replace('at_least = "34 %"', 'at_least = "20 %"'), encoding="utf-8")
    done = typed(held, "--prices", "fishmeal-65", "--high", 40)
    assert done.exit_code == 0, done.stderr
    assert "AS FISH MEAL, 65 % PROTEIN MOVES" in done.stdout
    told = json.loads(typed(held, "--prices", "fishmeal-65", "--json").stdout)
    assert len(told["looked_at"]) == 13
    assert told["looked_at"][0]["best"] > told["looked_at"][-1]["best"]
