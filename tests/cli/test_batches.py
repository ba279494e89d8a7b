"""`baitwright batch`, `mix` and `trace`: from a delivery to a bag in quarantine, as it is typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from baitwright.workshop.opening.notebook_care import clock_with_zone
from tests.cli.test_notebook import done, refused
from tests.workshop.shelf import path

TODAY = f"{clock_with_zone().date()}"
BATCH = f"{TODAY}/B1"
DEMO = (str(path("copper-wafter")), str(path("bench-three-large-eggs")))


@pytest.fixture(autouse=True)
def notebook(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BAITWRIGHT_NOTEBOOK", str(tmp_path / "notebook.sqlite"))


def test_a_batch_from_the_delivery_to_the_recall(tmp_path: Path) -> None:
    mill = ("--supplier", "Mill", "--supplier-lot", "S-881")
    done("shelf", "in", "semolina", "5 kg", "--price", "4", *mill)
    tub = done("mix", DEMO[0], "2 kg", "--raw", "2.1 kg")
    assert f"tub of Copper: lot {TODAY}/2, write it on the lid" in tub
    assert "not on the shelf, so not in the trace or the cost: maize-meal-fine" in tub
    planned = done("batch", "plan", *DEMO)
    assert f"batch {BATCH}: write it on the bench sheet" in planned
    assert f"of Copper, lot {TODAY}/2" in planned
    assert "of it spoken for" in done("shelf")
    told = tmp_path / "batch.toml"
    told.write_text('baits_made = 264\nbaits_good = 258\ntub_used = "282 g"\n')
    assert "-282 g of Copper" in done("batch", "made", BATCH, str(told))
    told.write_text('twenty_at_8h = "29.4 g"\n')
    assert done("batch", "measured", BATCH, str(told)) == f"batch {BATCH}: written down\n"
    bagged = done("batch", "bag", BATCH, "50", "--bags", "2", "--kept", "freezer")
    assert bagged.count("write it on the bag") == 2
    shown = done("batch", "show", BATCH)
    assert "was 29.4 g" in shown
    assert f"bag {BATCH}/2: 50 baits, freezer" in shown
    assert json.loads(done("batch", "show", BATCH, "--json"))["baits"] == 258
    assert "Copper wafter, made, 258 baits" in done("batch")
    followed = json.loads(done("trace", "S-881", "--json"))
    assert [one["stop"] for one in followed["onward"]] == [
        *("ingredient lot", "tub of mix", "batch", "bag", "bag")
    ]
    assert done("trace", f"{BATCH}/1").splitlines()[-2].strip() == "supplier's lot Mill S-881"
    aside = done("shelf", "quarantine", f"{TODAY}/1", "--why", "musty")
    assert f"bag {BATCH}/1" in aside
    assert done("trace", "S-881", "--recall") in aside
    assert "in quarantine" in done("shelf")
    out = done("shelf", "quarantine", f"{TODAY}/1", "--why", "the cupboard", "--release")
    assert out.startswith(f"out of quarantine: {TODAY}/1\nstill in quarantine: {TODAY}/2, musty\n")
    ways = ("shelf", "quarantine", "S-881")
    out = done(*ways, "--why", "the cupboard", "--release", "--all")
    assert f"{BATCH}/1" in out
    assert "still" not in out
    assert "a lot in quarantine" in refused(*ways, "--why", "again", "--release").stderr
    done(*ways, "--why", "musty")
    assert done(*ways, "--undo").startswith("out of quarantine: ")
    assert "last change was a quarantine" in refused(*ways, "--undo").stderr
    for wrong in (("--undo", "--why", "both"), ("--all", "--why", "musty")):
        assert "--undo alone" in refused(*ways, *wrong).stderr


def test_a_batch_cancelled_and_planned_again(tmp_path: Path) -> None:
    done("shelf", "in", "Copper", "300 g")
    done("batch", "plan", *DEMO, "--out", str(tmp_path))
    assert (tmp_path / "bench-sheet.pdf").exists()
    assert "cancelled" in done("batch", "cancel", BATCH, "--why", "no eggs")
    assert "spoken for" not in done("shelf")
    assert done("batch", "undo", BATCH) == f"batch {BATCH}: planned, as before\n"
    assert "spoken for" in done("shelf")
    assert "one that is made" in refused("batch", "undo", BATCH).stderr
