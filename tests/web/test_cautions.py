"""What pages tell of cautions and of a water's rules before anything is made."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from fastapi.testclient import TestClient

from baitwright.web.app import make_app
from baitwright.web.guard import HEADER, token_of
from tests.web.conftest import HOST, house_at
from tests.web.rooms import Shown, filled


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> Shown:
    return filled(tmp_path_factory.mktemp("cautions") / "notebook.sqlite")


@pytest.fixture(scope="module")
def looking(shown: Shown) -> Iterator[TestClient]:
    house = house_at(shown.place, HOST)
    with TestClient(make_app(house), headers={HEADER: token_of(house)}) as made:
        yield made


def test_plan_batch_and_bag_tell_the_rule_that_is_broken(looking: TestClient, shown: Shown) -> None:
    plan = looking.get("/plan?start=last").text
    assert "Rules of Long Reedpool" in plan
    assert "breaks a rule: free bait" in plan
    assert "No country was told" in plan
    assert "Save this plan" in plan  # nothing is blocked
    batch = looking.get(f"/batches/{shown.planned}").text
    assert "breaks a rule: free bait" in batch
    made = looking.get(f"/batches/{shown.made}").text
    assert "no rule that is written down is broken" in made


def test_the_shelf_by_country(looking: TestClient) -> None:
    every = looking.get("/cautions").text
    assert "No country was told" in every
    assert "NL: " in every
    british = looking.get("/cautions?country=GB").text
    assert "NL: " not in british
    assert "H304 may be deadly" in british
    assert looking.get("/cautions?country=England").status_code == 422
    recipe = looking.get("/cautions?country=GB&recipe=Copper wafter").text
    assert "Scald" in recipe


def test_blend_pack_and_water_are_answered_or_asked_back(looking: TestClient) -> None:
    blend = "/cautions/blend?part[1].part="
    answer = looking.get(f"{blend}50 %25 a: oral 400 mg/kg&part[2].part=50 %25 b").text
    assert "screening, not a classification" in answer
    assert looking.get(f"{blend}fifty").status_code == 422
    assert "6.8" in looking.get("/cautions/pack?stated=150 g").text
    assert looking.get("/cautions/pack?stated=150").status_code == 422
    water = looking.get("/water?water=Long Reedpool&rods=3").text
    assert "rods: 2 at most. Found: 3" in water
    assert "ask its owner" in looking.get("/water?water=Elsewhere").text
