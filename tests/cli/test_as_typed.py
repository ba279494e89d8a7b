"""What a newcomer types: kinds in capitals, lists for programs, a delivery past its day, Ctrl-C."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
from datetime import timedelta
from pathlib import Path

import pytest

from baitwright.cli.main import STOPPED
from baitwright.notebook.store import open_notebook
from baitwright.workshop.opening.notebook_care import clock_with_zone
from baitwright.workshop.shelf import deliveries
from tests.cli.test_commands import RECIPE, run
from tests.cli.test_notebook import done, refused

TODAY = clock_with_zone().date()
BEFORE = TODAY - timedelta(days=40)
_WAITS = """
import signal, time
from baitwright.cli.main import main
from baitwright.workshop.forms import form_words

def wait(*_, **__):
    print("waiting", flush=True)
    time.sleep(300)

form_words.from_json = wait
signal.signal(signal.SIGINT, signal.default_int_handler)  # who began the tests may heed none
main()
"""


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    made = tmp_path / "notebook.sqlite"
    monkeypatch.setenv("BAITWRIGHT_NOTEBOOK", str(made))
    return made


def test_kinds_and_names_in_capitals() -> None:
    assert "night Late" in done("record", "Night", "Late", "water=Long Reedpool")
    assert "Late: " in done("notebook", "NIGHT")
    assert "water: Long Reedpool" in done("notebook", "Night", "late")
    assert "Late" in done("notebook", "Search", "reedpool")
    done("record", "Person", "name=Ash")
    assert "person 1" in done("notebook", "person", "Person 1")
    assert "name: Ash" in done("notebook", "Person", "1")
    assert "person 1" in done("purge", "Person", "Person 1", "--yes")


def test_a_recipe_with_the_name_of_a_kind_is_asked_about(tmp_path: Path) -> None:
    own = tmp_path / "own.toml"
    own.write_text(RECIPE.read_text(encoding="utf-8").replace("Copper wafter", "Night"))
    done("keep", str(own))
    assert "No night yet" in done("notebook", "night")
    assert "`recipe Night` for the recipe" in refused("notebook", "Night").stderr
    assert "version 1" in done("notebook", "Recipe", "NIGHT")


def test_every_list_is_told_to_programs() -> None:
    done("keep", str(RECIPE), "--reason", "first")
    done("record", "night", "Late", "water=Long Reedpool", "bites=0")
    done("record", "person", "name=Ash")
    cover = json.loads(done("notebook", "--json"))
    assert [one["name"] for one in cover["recipes"]] == ["Copper wafter"]
    assert (cover["records"]["night"], cover["records"]["person"]) == (1, 1)
    nights = json.loads(done("notebook", "night", "--json"))
    assert [(one["name"], one["body"]["bites"]) for one in nights["records"]] == [("Late", 0)]
    assert json.loads(done("notebook", "tub", "--json")) == {"kind": "tub", "records": []}
    people = json.loads(done("notebook", "person", "--json"))["people"]
    assert people == {"person 1": {"name": "Ash"}}
    found = json.loads(done("notebook", "search", "reedpool", "--json"))["records"]
    assert [(one["kind"], one["name"]) for one in found] == [("night", "Late")]
    (version,) = json.loads(done("notebook", "Copper wafter", "--json"))["versions"]
    assert version["toml"] == RECIPE.read_text(encoding="utf-8")
    away = ("--take-away", "--reason", "told twice", "--json")
    assert json.loads(done("notebook", "night", "Late", *away))["body"] is None
    gone = json.loads(done("notebook", "recipe", "Copper wafter", *away))["versions"]
    assert [(one["version"], one["toml"]) for one in gone] == [(2, None)]


def test_a_delivery_past_its_day_and_of_another_day() -> None:
    past = ("shelf", "in", "semolina", "2 kg", "--best-before", f"{TODAY - timedelta(days=1)}")
    assert "which is over', but it takes today or later. Say --why" in refused(*past).stderr
    told = done(*past, "--why", "for free bait", "--came", f"{BEFORE}")
    assert told.splitlines() == [
        f"lot {BEFORE}/1: write it on the bag",
        "  ! no price told: what it is worth is unknown",
        f"  ! past its day, {TODAY - timedelta(days=1)}: it is taken only by its lot's name",
    ]
    assert "0 g at most. Past their day" in refused("shelf", "out", "semolina", "1 kg").stderr
    assert "price unknown" in done("shelf", "out", "semolina", "1 kg", "--lot", f"{BEFORE}/1")
    ahead = ("shelf", "in", "semolina", "2 kg", "--came", f"{TODAY + timedelta(days=1)}")
    assert f"came: got '{TODAY + timedelta(days=1)}'" in refused(*ahead).stderr
    assert f"lot {TODAY}/1" in done("shelf", "in", "semolina", "2 kg", "--price", "0")
    assert "1 lot without" in done("shelf")


def test_allergens_none_is_told(place: Path) -> None:
    done("record", "ingredient", "Rice meal", "allergens=None")
    done("record", "ingredient", "Oat meal", "supplier=Mill")
    book = open_notebook(place, now=clock_with_zone())
    with book.reading() as page:
        told, not_told = (page.latest("ingredient", name) for name in ("Rice meal", "Oat meal"))
    book.close()
    assert told is not None
    assert (told.body or {})["allergens"] == ["none"]
    assert not_told is not None
    assert "allergens" not in (not_told.body or {})
    assert "allergens: None" in done("notebook", "ingredient", "Rice meal")
    for item in ("Rice meal", "Oat meal"):
        done("shelf", "in", item, "2 kg", "--price", "2")
    done("sell", "order", "Rice meal=1kg@3", "Oat meal=1kg@3")
    slip = done("sell", "send", "1")
    assert "Allergens: none of the fourteen groups" in slip
    assert "Allergens: not known of Oat meal" in slip
    mixed = refused("record", "ingredient", "Rice meal", "allergens=none; milk")
    assert "none alone, or groups" in mixed.stderr


def test_a_stop_in_the_middle_of_a_writing_takes_it_back(
    place: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    done("shelf", "in", "semolina", "2 kg", "--price", "2")
    before = done("shelf", "--json")

    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(deliveries, "place_of", stopped)
    said = run("shelf", "in", "semolina", "2 kg", "--supplier-lot", "S-1")
    assert (said.exit_code, said.stdout, said.stderr.strip()) == (STOPPED, "", "")
    assert done("shelf", "--json") == before
    assert {one.name for one in place.parent.rglob("*.part*")} == set()


@pytest.mark.skipif(sys.platform == "win32", reason="Ctrl-C is no signal there")
def test_ctrl_c_ends_a_process_quietly(place: Path) -> None:
    """A real process in the middle of its work, which gets the signal."""
    command = [sys.executable, "-c", _WAITS, "record", "night", "Late", "-"]
    pipe = subprocess.PIPE
    with subprocess.Popen(
        command, stdin=subprocess.DEVNULL, stdout=pipe, stderr=pipe, text=True
    ) as process:
        assert process.stdout is not None
        assert process.stdout.readline() == "waiting\n"
        process.send_signal(signal.SIGINT)
        out, err = process.communicate(timeout=60)
    assert (process.returncode, out, err.strip()) == (STOPPED, "", "")
    assert not place.exists()
