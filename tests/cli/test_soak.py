"""`baitwright soak` from outside."""

from __future__ import annotations

import json

import pytest

from tests.cli.test_commands import BENCH, RECIPE, run

ASKED = ["soak", str(RECIPE), str(BENCH), "--hours", "14"]


def test_a_soak_is_printed() -> None:
    done = run(*ASKED, "--at", "5 C, 18 C")
    assert done.exit_code == 0, done.output
    assert "in the lake for 14 h" in done.stdout
    assert not done.stderr


def test_as_data() -> None:
    done = run(*ASKED, "--at", "5 C", "--json")
    assert done.exit_code == 0, done.output
    made = json.loads(done.stdout)
    assert [case["core_mm"] for case in made["cases"]] == [9.0, 0.0]
    first = made["cases"][0]
    assert (first["lake_c"], first["curve"][-1]["time"]) == (5.0, 14.0)
    assert first["curve"][0]["flavours"][0]["left"]["median"] == 100.0
    assert first["recast"]["unit"] == "h"


@pytest.mark.parametrize(
    ("more", "said"),
    [
        (["--at", "60 C"], "0 °C to 35 °C"),
        (["--at", "warm"], "a temperature such as"),
        (["--at", "1 C, 2 C, 3 C, 4 C, 5 C"], "at most 4"),
        (["--hours", "60"], "1 h to 48 h"),
        (["--hours", "long"], "a time such as"),
    ],
)
def test_wrong_input_is_one_message(more: list[str], said: str) -> None:
    done = run(*ASKED, *more)
    assert done.exit_code == 2
    assert said in done.stderr
    assert not done.stdout


def test_help() -> None:
    assert "\n  soak " in run("--help").output
    assert run("soak", "--help").exit_code == 0
