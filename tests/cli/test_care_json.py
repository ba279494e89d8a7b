"""What looking after the notebook, the shelf and batches tells programs, and when it was copied."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from baitwright.notebook.copies import FOLDER
from baitwright.workshop.opening.notebook_care import clock_with_zone
from tests.cli.test_commands import RECIPE
from tests.cli.test_notebook import done, refused
from tests.workshop.shelf import path

TODAY = f"{clock_with_zone().date()}"


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    made = tmp_path / "notebook.sqlite"
    monkeypatch.setenv("BAITWRIGHT_NOTEBOOK", str(made))
    return made


def data(*arguments: str) -> Any:
    return json.loads(done(*arguments, "--json"))


def test_copied_put_back_and_made_anew(place: Path, tmp_path: Path) -> None:
    done("keep", str(RECIPE))
    copy = data("backup")["written"]
    assert Path(copy).is_file()
    told = data("restore", copy)
    assert told["put_back"] == copy
    assert Path(told["replaced"]).parent.name == FOLDER
    done("keep", str(RECIPE))
    other = tmp_path / "far" / "notebook.sqlite"
    told = data("rebuild", str(tmp_path / "notebook-pages"), "--notebook", str(other))
    assert told == {"notebook": str(other), "rows": told["rows"], "not_there": []}
    assert told["rows"]["revisions"] == 1


def test_a_tub_and_the_shelf() -> None:
    mill = ("--price", "4", "--best-before", "2099-05-01", "--supplier-lot", "S-1")
    done("shelf", "in", "semolina", "5 kg", *mill)
    assert "It is lot" in refused("shelf", "in", "semolina", "1 kg", "--supplier-lot", "s-1").stderr
    done("shelf", "in", "salt", "1 kg", "--supplier-lot", "S-1", "--again")
    made = data("mix", str(path("copper-wafter")), "2 kg")
    (used,) = made["used"]
    assert (made["item"], used["item"], used["counted"]) == ("Copper", "semolina", "mg")
    assert "maize-meal-fine" in made["missing"]
    items = {one["item"]: one for one in data("shelf")["items"]}
    (lot,) = items["semolina"]["lots"]
    assert lot == {
        "lot": used["lot"],
        "came": TODAY,
        "best_before": "2099-05-01",
        "held": 5_000_000 - used["amount"],
        "reserved": 0,
        "quarantined": False,
        "is_mixed": False,
        "priced": True,
    }
    assert items["semolina"]["amount"] == lot["held"]
    assert items["Copper"]["value"] == used["value"]


def test_batches() -> None:
    done("batch", "plan", str(path("copper-wafter")), str(path("bench-three-large-eggs")))
    (batch,) = data("batch")["batches"]
    assert batch == {
        "name": f"{TODAY}/B1",
        "about": "Copper wafter",
        "day": TODAY,
        "recipe_version": 1,
        "state": "planned",
        "baits": None,
    }


def test_a_purge_by_a_program_is_told_first_and_asks_nothing() -> None:
    done("record", "person", "name=Ada Quillfeather")
    done("record", "complaint", "what=mould, says Quillfeather", "customer=1")
    asked = refused("purge", "person", "1", "--json")
    told = json.loads(asked.stdout)
    assert (told["done"], told["versions"], told["not_reached"]) == (False, 1, [])
    assert told["named_in"] == [{"kind": "complaint", "name": f"{TODAY}/1"}]
    assert "Ada" in done("notebook", "person")
    assert data("purge", "person", "1", "--yes")["done"]
    assert "erased" in done("notebook", "person")


def test_every_list_ends_with_the_last_backup() -> None:
    done("record", "night", "water=Long Reedpool")
    lists = (["shelf"], ["batch"], ["notebook"], ["notebook", "night"], ["notebook", "person"])
    for one in (*lists, ["notebook", "search", "Reedpool"]):
        assert done(*one).endswith("\n\nno backup yet: baitwright backup\n")
    copy = data("backup")["written"]
    for one in lists:
        assert done(*one).splitlines()[-1].startswith("last backup: ")
        assert done(*one).endswith(f"baitwright restore {copy}\n")
    assert "last backup" not in done("notebook", "night", f"{TODAY}/1")
