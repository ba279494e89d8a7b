"""`baitwright mix winter` from outside: one run as data and as a file that plans."""

from __future__ import annotations

import json
from pathlib import Path

from baitwright.workshop.recipe_files.recipe_file import read_recipe
from tests.cli.test_commands import run
from tests.workshop.shelf import path

SINKER = str(path("chalk-sinker"))


def test_a_winter_version_is_written_and_told(tmp_path: Path) -> None:
    out = tmp_path / "winter.toml"
    done = run("mix", "winter", SINKER, "--keep", "level", "--json", "--out", str(out))
    assert done.exit_code == 0, done.output
    assert f"written: {out}" in done.stderr
    data = json.loads(done.stdout)
    assert data["file"] == out.read_text("utf-8")
    assert [one["about"] for one in data["changes"]] == ["diameter"]
    assert read_recipe(out).name == "Chalk sinker, winter"
    nights = {one["about"] for one in data["beside"] if one["name"] == "Malt left"}
    assert nights == {"after 14 h at 5 °C", "after 14 h at 18 °C"}


def test_words_it_does_not_know_are_refused() -> None:
    for typed in (("--keep", "colour"), ("--soluble", "nothing at all"), ("--at", "5 C")):
        done = run("mix", "winter", SINKER, *typed)
        assert done.exit_code == 2
        assert typed[0].removeprefix("--") in done.stderr
