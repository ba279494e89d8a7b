"""Out of the notebook and into another from the command line, by zip and by plain pages."""

from __future__ import annotations

import json
from pathlib import Path
from zipfile import ZipFile

import pytest

from tests.cli.test_commands import RECIPE, run
from tests.cli.test_notebook import done, refused


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    made = tmp_path / "notebook.sqlite"
    monkeypatch.setenv("BAITWRIGHT_NOTEBOOK", str(made))
    done("keep", str(RECIPE), "--reason", "first")
    done("shelf", "in", "malt", "1 kg", "--price", "2.50")
    return made


def changed(tmp_path: Path, level: str) -> str:
    own = tmp_path / "own.toml"
    own.write_text(RECIPE.read_text("utf-8").replace("0.8 ml", level), "utf-8")
    return str(own)


def test_everything_moves_to_another_machine(place: Path, tmp_path: Path) -> None:
    file, other = tmp_path / "all.zip", str(tmp_path / "far" / "notebook.sqlite")
    said = done("export", str(file))  # with the note of where it went
    assert said.startswith(f"written: {file}\n  1 lines of the shelf's book, 4 versions of records")
    looked = done("import", str(file), "--dry-run", "--notebook", other)
    assert "would be put in: 1 lines of the shelf's book, 4 versions of records" in looked
    assert not Path(other).parent.exists()
    said = done("import", str(file), "--notebook", other)
    assert "put in: 1 lines of the shelf's book, 4 versions of records\ndone\n" in said
    assert "first" in done("notebook", "Copper wafter", "--notebook", other)
    told = json.loads(done("export", str(file), "--json", "--notebook", other))
    assert told["rows"]["revisions"] == 5  # and of its own
    told = json.loads(done("import", str(file), "--json"))
    assert (told["done"], told["same"], told["records"], told["entries"]) == (True, 3, [], 0)


def test_what_differs_is_told_and_decided(place: Path, tmp_path: Path) -> None:
    file, other = str(tmp_path / "all.zip"), str(tmp_path / "far" / "notebook.sqlite")
    done("export", file)
    done("import", file, "--notebook", other)
    done("keep", changed(tmp_path, "0.9 ml"), "--notebook", other)
    done("keep", changed(tmp_path, "0.7 ml"))
    done("export", file, "--notebook", other)
    result = run("import", file)
    assert result.exit_code == 2
    assert "differs: recipe Copper wafter, version 2 here, 2 in the file" in result.stdout
    assert "Nothing was imported: say --keep mine" in result.stdout
    told = done("import", file, "--keep", "theirs", "--dry-run")
    assert "it was a dry run" in told
    assert "version 3" not in done("notebook", "Copper wafter")
    told = done("import", file, "--keep", "theirs")
    assert "copied before: " in told
    assert "as in all.zip" in done("notebook", "Copper wafter")
    assert "0.9 ml" in done("notebook", "Copper wafter", "--version", "3")


def test_a_bad_file_is_one_message(place: Path, tmp_path: Path) -> None:
    bad = tmp_path / "bad.zip"
    with ZipFile(bad, "w") as zipped:
        zipped.writestr("../../evil", "x")
    for arguments in (["import", str(bad)], ["export", str(place)], ["rebuild", str(tmp_path)]):
        said = refused(*arguments).stderr
        assert said.startswith("baitwright: ")
        assert said.count("\n") == 1
    assert "no export, and stays" in refused("export", str(place)).stderr


def test_a_lost_notebook_is_made_anew_from_its_pages(place: Path, tmp_path: Path) -> None:
    before, pages = done("notebook", "Copper wafter"), tmp_path / "notebook-pages"
    for path in tmp_path.glob("notebook.sqlite*"):
        path.unlink()
    (page,) = pages.glob("recipe/*.txt")
    text = page.read_text("utf-8")
    page.write_text(text.replace("0.8 ml", "8 ml"), "utf-8")
    assert "it was changed, or is not whole" in refused("rebuild", str(pages)).stderr
    page.write_text(text, "utf-8")
    said = done("rebuild", str(pages))
    assert said == (f"made anew: {place}\n  1 lines of the shelf's book, 3 versions of records\n")
    assert done("notebook", "Copper wafter") == before
    assert "writes over none" in refused("rebuild", str(pages)).stderr
    assert not list(tmp_path.glob("notebook-pages-until*"))
