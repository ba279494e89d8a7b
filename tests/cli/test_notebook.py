"""The notebook from the command line: kept, told, undone, copied, put back."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import Result

from baitwright.cli.place import usual_place
from tests.cli.test_commands import RECIPE, run


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    made = tmp_path / "notebook.sqlite"
    monkeypatch.setenv("BAITWRIGHT_NOTEBOOK", str(made))
    return made


def done(*arguments: str) -> str:
    result = run(*arguments)
    assert result.exit_code == 0, result.output
    return result.stdout


def refused(*arguments: str) -> Result:
    result = run(*arguments)
    assert result.exit_code == 2
    return result


def test_from_an_empty_notebook_to_a_recipe_put_back(place: Path, tmp_path: Path) -> None:
    assert "There is none yet" in refused("notebook").stderr
    assert not place.exists()
    text = RECIPE.read_text(encoding="utf-8")
    own = tmp_path / "own.toml"
    own.write_text(text, encoding="utf-8")
    assert done("keep", str(own)) == "Copper wafter: kept as version 1\n"
    copied = done("backup")
    own.write_text(text.replace("0.8 ml", "0.9 ml"), encoding="utf-8")
    assert "0.8 ml per egg of 50 ml becomes 0.9 ml" in done(
        "keep", str(own), "--reason", "faint malt"
    )
    told = done("notebook", "Copper wafter")
    assert "version 2" in told
    assert "faint malt" in told
    assert done("notebook", "Copper wafter", "--version", "1") == text
    assert "kept as version 3" in done("notebook", "Copper wafter", "--undo")
    copy = copied.removeprefix("written: ").strip()
    assert f"put back: {copy}" in done("restore", copy)
    assert "version 2" not in done("notebook", "Copper wafter")
    assert "last backup:" in done("notebook")
    assert place.exists()


def test_one_clear_message_for_what_is_wrong(place: Path, tmp_path: Path) -> None:
    place.write_text("no notebook at all, only some words " * 40)
    for arguments in (["notebook"], ["keep", str(RECIPE)]):
        said = refused(*arguments).stderr
        assert said.startswith("baitwright: ")
        assert "it takes a notebook" in said or "a sound notebook" in said
    assert refused("restore", str(tmp_path / "none")).stderr.count("\n") == 1


def test_the_option_wins_over_the_environment(place: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.sqlite"
    done("keep", str(RECIPE), "--notebook", str(other))
    assert other.exists()
    assert not place.exists()


def test_it_lies_among_ones_own_files() -> None:
    assert usual_place().name == "notebook.sqlite"
    assert usual_place().is_relative_to(Path.home())


def test_a_shelf_from_empty_to_counted(place: Path) -> None:
    for asked in ([], ["out", "salt", "1 kg"], ["count", "1", "1 kg"], ["undo"]):
        assert "There is none yet" in refused("shelf", *asked).stderr
    assert not place.exists()
    done("keep", str(RECIPE))
    assert "The shelf is empty" in done("shelf")
    told = done("shelf", "in", "semolina", "25 kg", "--price", "32.50", "--supplier-lot", "S-1")
    lot = told.removeprefix("lot ").partition(":")[0]
    assert done("shelf", "out", "semolina", "500 g") == f"{lot}: -500 g of semolina, 0.65\n"
    assert done("shelf", "undo") == f"{lot}: +500 g of semolina, 0.65\n"
    assert done("shelf", "count", lot, "24 kg") == f"{lot}: 1 kg less than in the book\n"
    assert done("shelf", "count", lot, "24 kg") == f"{lot}: as in the book\n"
    assert "semolina: 24 kg, worth 31.20" in done("shelf")
    assert "24 kg at most" in refused("shelf", "out", "semolina", "25 kg").stderr
    more = done("shelf", "out", "semolina", "25 kg", "--lot", lot, "--why", "a heavy sack")
    assert more == f"{lot}: -25 kg of semolina, 32.50\n"
    assert "it takes money" in refused("shelf", "in", "salt", "1 kg", "--price", "x").stderr
    assert "a day such as" in refused("shelf", "in", "salt", "1 kg", "--best-before", "x").stderr


def test_a_version_is_of_a_recipe(place: Path) -> None:
    for arguments in (["--undo"], ["--version", "1"]):
        assert "a recipe's name" in refused("notebook", *arguments).stderr
    assert "one of both" in refused("notebook", "Copper", "--undo", "--version", "1").stderr
