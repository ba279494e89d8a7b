"""The installation looked over: as it stands here, and with something gone or broken."""

from __future__ import annotations

import json
from importlib.metadata import PackageNotFoundError
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from baitwright.cli.main import cli
from baitwright.workshop.checks import installation, trial_runs


def check(place: Path, *more: str) -> Result:
    return CliRunner().invoke(cli, ["check", "--notebook", str(place), *more])


def test_all_is_there_and_nothing_is_written(tmp_path: Path) -> None:
    place = tmp_path / "notebook.sqlite"
    found = check(place)
    assert found.exit_code == 0
    assert "!!" not in found.output
    for what in ("Python: 3.", "a batch on trial: planned", "KiB of PDF", "none yet at"):
        assert what in found.output
    assert list(tmp_path.iterdir()) == []


def test_what_is_lacking_is_named_with_what_helps(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    known = installation.version

    def version(name: str) -> str:
        if name == "argon2-cffi":
            raise PackageNotFoundError(name)
        return "1.0" if name == "numpy" else known(name)

    monkeypatch.setattr(installation, "version", version)
    found = check(tmp_path / "notebook.sqlite", "--json")
    assert found.exit_code == 1
    told = {one["what"].partition(":")[0]: one for one in json.loads(found.output)}
    assert told["extra lan"]["stands"] == "left out"
    assert told["extra lan"]["helps"] == 'pip install "baitwright[lan]"'
    assert told["extra shop"]["stands"] == "well"
    assert told["what it stands on"]["stands"] == "broken"
    assert "numpy is 1.0, and 1.26 is wanted" in told["what it stands on"]["found"]
    assert "a batch on trial" not in told, "nothing runs on what is broken"


def test_what_breaks_is_told_and_the_next_is_looked_at(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(trial_runs, "_design", lambda: 1 / 0)
    damaged = tmp_path / "notebook.sqlite"
    damaged.write_bytes(b"not a notebook at all" * 99)
    found = check(damaged)
    assert found.exit_code == 1
    assert "ok  a batch on trial" in found.output
    assert "!!  a mix on trial: ZeroDivisionError" in found.output
    assert "!!  the notebook" in found.output


def test_every_extra_of_the_package_says_what_it_is_for() -> None:
    declared = {
        found[3]
        for line in installation.requires("baitwright") or []
        if (found := installation._NEEDS.match(line)) and found[3]
    }
    assert declared == set(installation.EXTRAS)


def test_a_place_that_cannot_be_written_to_is_told_before_anything_is_lost(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (tmp_path / "taken").write_text("a file where the folder should be")
    found = check(tmp_path / "taken" / "notebook.sqlite")
    assert found.exit_code == 1
    assert "taken is no folder" in found.output
    monkeypatch.setattr(trial_runs.os, "access", lambda *_: False)
    found = check(tmp_path / "shut" / "notebook.sqlite")
    assert f"nothing may be written in {tmp_path}" in found.output
    kept = tmp_path / "notebook.sqlite"
    kept.touch()
    assert "this file may be read only" in check(kept).output


def test_without_a_browser_the_address_is_typed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def none(*_: object) -> None:
        raise trial_runs.webbrowser.Error

    monkeypatch.setattr(trial_runs.webbrowser, "get", none)
    found = check(tmp_path / "notebook.sqlite")
    assert found.exit_code == 0, "the program does without"
    assert "--  a browser for the pages: none that can be called up from here" in found.output
    assert "type it into any browser" in found.output


def test_a_package_that_will_not_load_is_to_be_installed_anew(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken() -> str:
        raise ImportError("libhighs.so: cannot open shared object file")

    monkeypatch.setattr(trial_runs, "_design", broken)
    found = check(tmp_path / "notebook.sqlite")
    assert found.exit_code == 1
    assert "cannot open shared object file (Install the program anew.)" in found.output
