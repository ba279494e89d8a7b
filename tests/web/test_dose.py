"""Dosing quickly: a weight in, the mark of one's own syringe out."""

from __future__ import annotations

import re

import pytest
from fastapi.testclient import TestClient

from baitwright.workshop.levels.levels import levels
from baitwright.workshop.levels.levels_request import Asked, understand


def number(page: str) -> tuple[str, str]:
    found = re.search(r'number-now">([^<]+)</span> <span class="unit">([^<]+)<', page)
    assert found is not None
    return found[1], found[2]


@pytest.mark.parametrize("eggs", ["171", "171 g", "0,171 kg", "171 g in the bowl", "6 oz"])
def test_the_mark_is_that_of_the_levels_answer(client: TestClient, eggs: str) -> None:
    page = client.get("/dose", params={"eggs": eggs, "liquid": "Malt, Copper wafter"})
    bowl = "171 g in the bowl" if "oz" not in eggs else "6 oz weight in the bowl"
    asked = Asked(("Malt: 0.8 ml per egg of 50 ml",), bowl, carriers=("propylene glycol",))
    fill = levels(understand(asked)).answers[0].dose.fill
    assert fill is not None
    assert number(page.text) == (f"{fill.volume * 1e6:.1f}", "ml")
    assert fill.tool.name in page.text


def test_one_s_own_syringe_is_taken(client: TestClient) -> None:
    asked = {"eggs": "171", "liquid": "Malt, Copper wafter", "syringe": "10 ml"}
    assert "in the 10 ml syringe" in client.get("/dose", params=asked).text
    small = client.get("/dose", params={**asked, "syringe": "1 ml"}).text
    assert number(small)[1] == "g"
    assert "No such syringe takes it in one fill." in small


def test_eggs_weighed_in_the_shell_give_less(client: TestClient) -> None:
    asked = {"eggs": "197", "liquid": "Malt, Copper wafter"}
    bowl, shell = (
        float(number(client.get("/dose", params={**asked, "where": where}).text)[0])
        for where in ("in the bowl", "in the shell")
    )
    assert shell < bowl


def test_what_cannot_be_is_told_at_the_field(client: TestClient) -> None:
    page = client.get("/dose", params={"eggs": "a few"})
    assert page.status_code == 422
    assert 'value="a few"' in page.text
    assert 'href="#eggs"' in page.text
    assert client.get("/dose").status_code == 200
