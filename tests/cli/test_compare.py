"""Baits compared and trials planned from the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.test_notebook import done, place, refused

__all__ = ["place"]


@pytest.fixture
def fished(place: Path) -> Path:
    """Two nights of two rods."""
    for day, malt, fish in ((1, 2, 0), (2, 0, 1)):
        rods = [
            *("rod[1].bait=Malt", f"rod[1].bites={malt}", "rod[1].hours=12 h"),
            *("rod[2].bait=Fish", f"rod[2].bites={fish}", "rod[2].hours=12 h"),
        ]
        done("record", "night", "water=Reed", f"day=2026-10-0{day}", *rods)
    return place


def test_baits_are_compared_in_words_data_and_a_picture(fished: Path, tmp_path: Path) -> None:
    out = tmp_path / "out"
    said = done("compare", "Malt", "Fish", "--out", str(out))
    assert "2 nights with both out, compared within each night" in said
    assert "at least" in said
    page = (out / "compare.html").read_text(encoding="utf-8")
    assert "bites per 24 rod-hours" in page
    assert "<desc" in (out / "rates.svg").read_text(encoding="utf-8")
    told = json.loads(done("compare", "--water", "reed", "--json"))
    assert told["two"]["nights_with_both"] == 2
    assert "one that was fished: Fish, Malt" in refused("compare", "Kipper").stderr


def test_a_trial_at_the_water(fished: Path) -> None:
    assert "truly 2 times: at least 50 nights, 25 bites on it" in done(
        "trial", "nights", "--bites", "0.5"
    )
    assert json.loads(done("trial", "nights", "--json"))["bites_a_night"] == pytest.approx(0.75)
    nights = json.loads(done("trial", "swap", "A", "B", "--nights", "6", "--json"))["nights"]
    assert sum(one["left"] == "A" for one in nights) == 3
    assert done("trial", "square", "A", "B", "C").count("rod 3") == 3
    assert "Stop at 2.773: it is. Stop at -1.558" in done("trial", "rule", "A", "B")
    assert "2 on Malt" not in done("trial", "look", "Malt", "Fish")
    assert json.loads(done("trial", "look", "Malt", "Fish", "--json"))["bites"] == [2, 1]
    assert "an even number" in refused("trial", "swap", "A", "B", "--nights", "3").stderr
    assert "1.01 to 100" in refused("trial", "rule", "A", "B", "--ratio", "1").stderr


def test_a_trial_of_a_recipe(place: Path) -> None:
    factors = ("hardener=5 %:8 %", "boil=90 s:110 s")
    said = done("trial", "recipe", *factors)
    assert "run 4: hardener 8 %, boil 110 s" in said
    readings = [word for one in ("30", "36", "40", "48") for word in ("--read", one)]
    assert "  hardener: +7" in done("trial", "recipe", *factors, *readings)
    told = json.loads(done("trial", "recipe", *factors, "--json"))
    assert told["runs"][3] == {"hardener": "8 %", "boil": "110 s"}
    assert sorted(told["order"]) == [1, 2, 3, 4]
    for wrong in (("boil=90 s",), ("boil", "a=1:2"), (*factors, "--read", "nan"), ("boil=1:2",)):
        refused("trial", "recipe", *wrong)


def test_a_gauge_study(place: Path) -> None:
    rows = ("1.02 g, 1.03 g", "1.21 g, 1.20 g", "0.95 g, 0.96 g")
    said = done("trial", "gauge", *rows)
    assert "Two readings of one thing differ by up to 0.02 g in 19 cases of 20." in said
    assert json.loads(done("trial", "gauge", *rows, "--json"))["unit"] == "g"
    assert "It has the unit 'ml'" in refused("trial", "gauge", "1 g, 1 ml", "1 g, 2 g").stderr


def test_batches_that_there_are_not(fished: Path) -> None:
    said = refused("batch", "steady", "Copper").stderr
    assert "one of which batches were made: none yet" in said
    said = refused("trial", "nights", "--water", "Long Pool").stderr
    assert "it takes nights that tell bait, hours and bites of each rod" in said


def test_a_year_in_words_data_and_on_paper(fished: Path, tmp_path: Path) -> None:
    file = tmp_path / "year.pdf"
    said = done("year", "2026", "--pdf", str(file), "--paper", "a5")
    assert "Malt: 2 bites in 2 nights, 24 rod-hours" in said
    assert said.endswith(f"written: {file}\n")
    assert b"/MarkInfo" in file.read_bytes()
    assert json.loads(done("year", "2026", "--json"))["learned"]["nights"] == 2
    assert "a year such as" in refused("year", "soon").stderr


def test_a_night_again_is_told_as_it_is_written(fished: Path) -> None:
    rods = ("rod[1].bait=Malt", "rod[1].bites=2", "rod[1].hours=12 h")
    said = done("record", "night", "water=Reed", "day=2026-10-01", *rods)
    assert "doubtful: is of the day and water of" in said
    told = json.loads(done("record", "night", "water=Reed", "day=2026-10-01", *rods, "--json"))
    (doubt,) = told["doubtful"]
    assert doubt["night"] == told["name"]
    assert not doubt["counted"]
    assert doubt["said"].startswith("says the same as ")


def test_doubtful_nights_that_come_from_elsewhere_are_told(fished: Path, tmp_path: Path) -> None:
    file, other = str(tmp_path / "all.zip"), str(tmp_path / "far" / "notebook.sqlite")
    done("export", file)
    done("import", file, "--notebook", other)
    rods = ("rod[1].bites=1", "rod[1].hours=12 h")
    night = json.loads(done("record", "night", "water=Reed", "day=2026-10-02", *rods, "--json"))
    done("export", file)
    said = done("import", file, "--notebook", other)
    assert f"night {night['name']} is doubtful: rod 1 has no bait" in said
    told = json.loads(done("import", file, "--notebook", str(tmp_path / "new.sqlite"), "--json"))
    assert [one["night"] for one in told["doubtful"]] == [night["name"]]
