"""`baitwright mix match` from outside: one run told as data and as a table, and what is refused."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from tests.cli.test_commands import run
from tests.workshop.shelf import path

COPPER = str(path("copper-wafter"))


def test_a_free_bait_is_told_as_data_and_as_a_table(tmp_path: Path) -> None:
    out = tmp_path / "free.csv"
    typed = (
        "--kilos",
        "4",
        "--level",
        "40 %",
        "--coarse",
        "200 g",
        "--mixer",
        "2 kg",
        "--at",
        "5 C",
    )
    done = run("mix", "match", COPPER, *typed, "--json", "--out", str(out))
    assert done.exit_code == 0, done.output
    assert f"written: {out}" in done.stderr
    data = json.loads(done.stdout)
    assert data["free_bait"]["left_out"] == ["sieve", "hardener", "core"]
    assert data["batch"]["raw"]["median"] == pytest.approx(3.8)
    assert data["batch"]["lots"]["median"] == 4.0
    beside = {(one["about"], one["name"]): one for one in data["beside"]}
    level = beside["level", "Malt in the paste"]
    share = level["free_bait"]["median"] / level["hookbait"]["median"]
    assert share == pytest.approx(0.4, rel=0.05)
    night = beside["after 14 h at 5 °C", "Malt left"]
    assert night["hookbait"]["median"] < night["free_bait"]["median"]
    rows = list(csv.DictReader(out.read_text(encoding="utf-8-sig").splitlines()))
    told = next(one for one in rows if one["name"] == "unsieved base to weigh")
    assert (float(told["value"]), told["unit"]) == (3.8, "kg")
    assert {one["bait"] for one in rows} == {"hookbait", "free bait"}


def test_a_recipe_without_a_free_bait_asks_how_much() -> None:
    done = run("mix", "match", str(path("bought-mix")))
    assert done.exit_code == 2
    assert "kilos" in done.stderr


@pytest.mark.parametrize(
    ("option", "typed"),
    [
        ("--kilos", "5 t"),
        ("--kilos", "1 g"),
        ("--level", "300 %"),
        ("--diameter", "50 mm"),
        ("--boil", "soft"),
        ("--mixer", "0 kg"),
        ("--coarse", "a cup"),
        ("--hours", "soon"),
    ],
)
def test_what_cannot_be_is_refused_by_its_name(option: str, typed: str) -> None:
    done = run("mix", "match", COPPER, option, typed)
    assert done.exit_code == 2
    assert option.removeprefix("--") in done.stderr
