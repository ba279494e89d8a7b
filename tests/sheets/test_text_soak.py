"""A soak as text: every hour, the bands, the marks, both bodies, within the page."""

from __future__ import annotations

from dataclasses import replace

import pytest

from baitwright.batch.plan import PlanRequest
from baitwright.batch.soak_table import soak_table
from baitwright.materials.defaults import default
from baitwright.materials.factors import prior_factors
from baitwright.recipe.model import Recipe
from baitwright.sheets.layout import WIDTH
from baitwright.sheets.text_soak import soak_text
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import BENCH, MALT, RECIPE

DRAWS = Draws(batches=32, baits=2)


def text(recipe: Recipe = RECIPE, *lakes: float, hours: float = 48.0) -> str:
    request = PlanRequest(recipe, BENCH, prior_factors(), DRAWS)
    return soak_text(soak_table(request, lakes, time=3600.0 * hours))


def test_it_fits_the_page() -> None:
    many = replace(RECIPE, liquids=tuple(replace(MALT, name=f"Flavour {at}") for at in range(7)))
    for said in (text(), text(many), text(RECIPE, 275.15, 280.15, 285.15, 290.15)):
        assert max(map(len, said.splitlines())) <= WIDTH


def test_it_tells_every_hour_and_both_bodies() -> None:
    said = text(RECIPE, 278.15, 291.15)
    for hour in (0, 1, 2, 4, 8, 14, 24, 36, 48):
        assert f" {hour} h " in said
    for word in ("Malt left", "Caraway left", "9 mm core", "solid", "5 °C", "18 °C", "lift alone"):
        assert word in said
    assert "AFTER 14 h" in said


def test_it_names_the_marks_as_the_defaults_have_them() -> None:
    said = " ".join(text().split())
    flavour, firm = (
        f"{100 * default(name).value:.0f} %" for name in ("recast_flavour", "recast_firmness")
    )
    assert f"Malt fades to {flavour}: after" in said
    assert f"The bait softens to {firm}: after" in said
    assert f"a flavour down to {flavour}, or its firmness down to {firm}" in said
    assert "up to 8 in 100 too much" in said


def test_a_short_soak_is_told_at_its_end() -> None:
    assert "AFTER 3 h" in text(hours=3.0)


@pytest.mark.parametrize("invented", [True, False])
def test_an_invented_recipe_says_so(invented: bool) -> None:
    assert ("Invented demo" in text(replace(RECIPE, invented=invented))) is invented


def test_a_recipe_without_liquids() -> None:
    said = text(replace(RECIPE, liquids=()))
    assert "left" not in said.split("SIDE BY SIDE")[0].split("Recast")[0]
    assert "Recast after" in said
