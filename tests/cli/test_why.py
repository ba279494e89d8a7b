"""What went wrong, and complaints, from the command line."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.test_notebook import done, refused
from tests.web.rooms import Shown, filled


@pytest.fixture
def shown(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Shown:
    place = tmp_path / "notebook.sqlite"
    monkeypatch.setenv("BAITWRIGHT_NOTEBOOK", str(place))
    return filled(place)


def test_why_tells_causes_in_words_and_as_data(shown: Shown) -> None:
    every = done("why").splitlines()
    assert len(every) == 9
    assert every[0].startswith("splits off the core: ")
    told = done("why", "too strong", shown.made, "--most", "1")
    assert told.startswith(f"batch {shown.made}, Copper wafter: too strong\n")
    assert "test: " in told
    found = json.loads(done("why", "too strong", shown.made, "--json"))
    assert {"what", "way", "test", "evidence", "because"} <= found["causes"][0].keys()
    assert "one of: splits off the core" in refused("why", "too loud").stderr


def test_a_complaint_from_first_word_to_closed(shown: Shown) -> None:
    said = done("complaint")
    assert said.startswith(f"{shown.complaint}: open, of ")
    assert json.loads(done("complaint", "--json"))[0]["state"] == "open"
    assert "who else has of it:" in done("complaint", "show", shown.complaint)
    assert json.loads(done("complaint", "show", shown.complaint, "--json"))["kept_back"]
    bag = f"{shown.bagged}/4"
    assert done("complaint", "keep", bag, "fridge") == f"bag {bag}: 30 baits kept back, fridge\n"
    assert done("complaint", "keep", bag, "--free") == f"bag {bag}: free again\n"
    assert done("complaint", "answer", shown.complaint).startswith("Thank you for telling us")
    assert "written down" in done("complaint", "looked", shown.complaint, "no mould")
    assert "answered" in done("complaint", "answer", shown.complaint, "A new bag goes out.")
    assert "closed" in done("complaint", "close", shown.complaint, "bag replaced")
    assert done("complaint") == "No complaint is open.\n"
    assert shown.complaint in done("complaint", "--all")
