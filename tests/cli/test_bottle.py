"""`baitwright bottle` from the shell's side."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.test_commands import run
from tests.workshop.shelf import path as example

PLAN = ("plan", str(example("copper-wafter")), str(example("bench-three-large-eggs")))


@pytest.fixture(scope="module")
def plan_json(tmp_path_factory: pytest.TempPathFactory) -> str:
    out = tmp_path_factory.mktemp("today")
    assert run(*PLAN, "--out", str(out)).exit_code == 0
    return str(out / "plan.json")


def test_text_and_json(plan_json: str) -> None:
    done = run("bottle", plan_json, str(example("bottle-test")))
    assert done.exit_code == 0, done.output
    assert "What the sample proves, with 95 % confidence" in done.stdout
    told = json.loads(run("bottle", plan_json, str(example("bottle-test")), "--json").stdout)
    assert told["plan"] == "Copper wafter"


def test_accepted_factors_plan_the_next_batch(plan_json: str, tmp_path: Path) -> None:
    mine = str(tmp_path / "mine.toml")
    kept = run("bottle", plan_json, str(example("bottle-test")), "--accept", mine)
    assert f"Accepted: {mine}" in kept.stdout
    assert run(*PLAN, "--factors", mine).exit_code == 0


def test_accepted_factors_narrow_the_next_soak(plan_json: str, tmp_path: Path) -> None:
    mine = str(tmp_path / "mine.toml")
    run("bottle", plan_json, str(example("bottle-test")), "--accept", mine)
    widths = []
    for more in ((), ("--factors", mine)):
        told = json.loads(run("soak", *PLAN[1:], "--hours", "4", *more, "--json").stdout)
        low, high = told["cases"][0]["curve"][-1]["taken"]["band95"]
        widths.append(high - low)
    assert widths[1] < 0.97 * widths[0]


def test_wrong_input_is_one_message(plan_json: str, tmp_path: Path) -> None:
    hot = tmp_path / "hot.toml"
    hot.write_text('water = "60 C"\n[[look]]\nfloated = 8\n', encoding="utf-8")
    done = run("bottle", plan_json, str(hot))
    assert done.exit_code == 2
    assert "water: got '60 C'" in done.stderr
