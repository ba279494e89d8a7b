"""`baitwright soak` from outside."""

from __future__ import annotations

import json
import re
from pathlib import Path
from xml.etree import ElementTree

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


FILES = ("bait.svg", "lift.svg", "flavour.svg", "water.svg", "soak.html")


@pytest.mark.parametrize("more", [(), ("--json",)])
def test_with_its_pictures(tmp_path: Path, more: tuple[str, ...]) -> None:
    out = tmp_path / "build" / "night"
    done = run(*ASKED, "--at", "5 C", "--out", str(out), *more)
    assert done.exit_code == 0, done.output
    assert {path.name for path in out.iterdir()} == set(FILES)
    told = done.stderr if more else done.stdout
    for name in FILES:
        assert f"written: {out / name}\n" in told
    page = (out / "soak.html").read_text(encoding="utf-8")
    assert "Invented demo" in page
    for name in FILES[:3]:
        drawing = (out / name).read_text(encoding="utf-8")
        assert ElementTree.fromstring(drawing).get("role") == "img"
        assert re.sub(r"\s+", " ", drawing.partition("<desc")[2].partition("</desc>")[0]) in page


def test_pictures_are_written_all_or_none(tmp_path: Path) -> None:
    (tmp_path / "lift.svg").mkdir()  # a folder where a file is to be
    done = run(*ASKED, "--at", "5 C", "--out", str(tmp_path))
    assert done.exit_code == 2
    assert "a folder that can be written to" in done.stderr
    assert not done.stdout
    assert [path.name for path in tmp_path.iterdir()] == ["lift.svg"]


def test_nothing_is_written_unless_asked(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(*ASKED, "--at", "5 C").exit_code == 0
    assert not list(tmp_path.iterdir())


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
