"""`baitwright ask` from outside: answered, asked back, found, sent, copied, handed over."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from baitwright.workshop.recipe_files.demo import demo_file
from tests.cli.test_notebook import done, refused

MALT = ("question=how much malt?", "eggs=3 x 50 ml", "levels=Malt: 12 ml per kg dry mix")


@pytest.fixture(autouse=True)
def notebook(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    place = tmp_path / "notebook.sqlite"
    monkeypatch.setenv("BAITWRIGHT_NOTEBOOK", str(place))
    return place


def test_a_question_from_asking_to_sending(tmp_path: Path) -> None:
    done("record", "template", "usual", "opening=Good day.", "closing=Tight lines.")
    said = done("ask", "put", "Malt", *MALT, "answer=Begin low.", "--template", "usual")
    for one in ("Good day.", "Begin low.", "2.52 to 3.42 ml in all", "Tight lines.", "Malt: read"):
        assert one in said
    assert "[common practice: dry mix an egg takes up]" in said
    assert "Nothing changed: version 1 stands." in done("ask", "answer", "Malt")
    again = done("ask", "put", "Malt", "dry_mix=86 g per egg")
    assert "3.1 ml in all" in again
    assert "dry mix: nothing becomes 86 g per egg" in " ".join(again.split())
    assert "version 1: " in done("ask", "show", "Malt", "--version", "1")
    assert "2.52 to 3.42 ml in all" in done("ask", "show", "Malt", "--version", "1")
    assert done("ask", "find", "malt").startswith("Malt  ")
    for name in ("a.pdf", "a.html", "a.txt"):
        assert "written" in done("ask", "sheet", "Malt", str(tmp_path / name), "--paper", "a5")
        assert b"Answer Malt, version 2" in (tmp_path / name).read_bytes()
    assert ".pdf, .html, .txt" in refused("ask", "sheet", "Malt", str(tmp_path / "a.doc")).stderr
    told = json.loads(done("ask", "show", "Malt", "--json"))
    assert (told["version"], told["changed"][0]["entry"]) == (2, "dry mix")
    assert json.loads(done("ask", "find", "--json"))["questions"][0]["name"] == "Malt"
    gone = done("purge", "question", "Malt", "--yes")
    assert str(tmp_path / "a.html") in gone
    assert not (tmp_path / "a.html").exists()


def test_what_is_missing_is_asked_back() -> None:
    for level, says in (("5 ml", "Per what?"), ("2 oz per kg dry mix", "Which ounce?")):
        asked = ("question=?", "eggs=3 x 50 ml", f"levels=Malt: {level}")
        assert says in refused("ask", "put", *asked).stderr
    assert "no question" in done("ask", "find")


def test_a_person_and_all_they_asked() -> None:
    done("record", "person", "name=Ada Quillfeather")
    done("ask", "put", "Malt", *MALT, "customer=1")
    held = json.loads(done("ask", "held", "person 1"))
    assert {one["kind"] for one in held["records"]} == {"question", "answer"}
    assert "their question Malt" in done("purge", "person", "1", "--questions", "--yes")
    assert json.loads(done("ask", "held", "person 1"))["records"] == []


def test_a_travelling_copy(tmp_path: Path) -> None:
    done("keep", str(demo_file("copper-wafter.toml")))
    file = tmp_path / "copy.html"
    said = done("ask", "copy", str(file), "--recipe", "Copper wafter", "--hide", "liver powder")
    assert "leave 10 % for what is hidden" in said
    assert b"liver" not in file.read_bytes().lower()
    slip = ("--recipe", "Copper wafter", "--hide", "livr powder")
    assert "livr powder" in refused("ask", "copy", str(file), *slip).stderr
