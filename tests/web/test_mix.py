"""The mix's page: a recipe or typed shares in, the mix on four bases out, each number opened."""

from __future__ import annotations

import json
import re
from urllib.parse import urlencode

import pytest
from fastapi.testclient import TestClient

from tests.cli.test_commands import run
from tests.workshop.shelf import path

TYPED = {
    "name": "Two",
    "parts[1].key": "semolina",
    "parts[1].share": "70 %",
    "parts[2].key": "fishmeal-65",
    "parts[2].share": "30 %",
}


def test_the_page_tells_what_the_command_tells(client: TestClient) -> None:
    told = json.loads(run("mix", "analyse", str(path("copper-wafter")), "--json").stdout)
    page = client.get("/mix", params={"start": "demo"}).text
    protein = told["bases"]["finished bait"]["protein"]["median"]
    found = re.search(r'value="finished_holds/protein of the finished bait">([0-9.]+) %', page)
    assert found is not None
    assert float(found[1]) == pytest.approx(protein, abs=0.051)
    assert "cereals containing gluten" in page
    assert 'role="img"' in page


def test_typed_shares_are_enough(client: TestClient) -> None:
    page = client.get("/mix", params=TYPED).text
    assert "semolina, durum (binder)" in page
    assert "complete feed" not in page
    assert "no price of semolina, durum; fish meal, 65 % protein on the shelf" in page
    asked = {**TYPED, "hold": "protein at least 25 % of the paste", "carp": "yes"}
    page = client.get("/mix", params=asked).text
    assert "A bait is not a complete feed" in page
    assert "of lots hold" in page


def test_a_number_opens_down_to_its_table(client: TestClient) -> None:
    number = "mix_holds/protein of the dry mix"
    for asked in ({**TYPED, "number": number}, {"query": urlencode(TYPED), "number": number}):
        page = client.get("/mix/why", params=asked)
        assert page.status_code == 200
        assert "protein from semolina, durum" in page.text
        assert "National Nutrient Database" in page.text
    assert client.get("/mix/why", params={**TYPED, "number": "nothing"}).status_code == 422


@pytest.mark.parametrize(
    ("changed", "field", "said"),
    [
        ({"parts[2].share": "20 %"}, "parts[1].key", "sum to 100 %"),
        ({"parts[2].key": "fishmael"}, "parts[2].share", "fishmeal"),
        ({"hold": "iron at least 2 %"}, "hold", "one of: water"),
        ({"water": "59 %"}, "water", "no more than the paste holds"),
        ({"sieve": "moon"}, "sieve", "kitchen"),
    ],
)
def test_what_cannot_be_is_told_at_its_field(
    client: TestClient, changed: dict[str, str], field: str, said: str
) -> None:
    page = client.get("/mix", params={**TYPED, **changed})
    assert page.status_code == 422
    assert f'href="#{field}"' in page.text
    assert said in page.text
    for value in changed.values():
        assert f'value="{value}"' in page.text


def test_a_bought_mix_and_an_empty_page(client: TestClient) -> None:
    page = client.get("/mix", params={"name": "Grey sack", "analysis.protein": "28 %"}).text
    assert "Only its declared analysis is known" in page
    assert "read their labels" in page
    empty = client.get("/mix", params={"start": "empty"})
    assert empty.status_code == 200
    assert "Name some parts" in empty.text
    assert client.get("/mix", params={"start": "recipe:None"}).status_code == 422
