"""The winter version of a recipe: a file of its own that says what was worked out, side by side."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from baitwright.batch.batch_plan import PlanRequest
from baitwright.materials.factors import prior_factors
from baitwright.recipe.bench import Bench
from baitwright.terms.errors import InputError
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.draws import Draws
from baitwright.workshop.baits.winter_bait import WinterAsked, Wintered, wintered
from baitwright.workshop.baits.winter_told import winter_text, write_winter
from baitwright.workshop.baits.winter_words import winter_words
from baitwright.workshop.mixes.mix_analysis import usual_egg
from baitwright.workshop.recipe_files.recipe_file import recipe_from
from baitwright.workshop.typed.toml_reading import in_toml
from tests.batch.kitchen import NOW

RED = """
name = "Red"
[bait]
kind = "sinker"
diameter = "20 mm"
[base]
name = "Red"
[base.parts]
fishmeal-65 = "40 %"
"salmon oil" = "4 %"
semolina = "31 %"
"soya flour, full fat" = "25 %"
[[liquid]]
name = "Plum"
level = "6 ml per kg dry mix"
carrier = "vegetable oil"
density = "0.93 g/ml"
[[liquid]]
name = "Malt"
level = "0.8 ml per egg of 50 ml"
carrier = "propylene glycol"
strength = "quality"
[[liquid]]
name = "Red"
level = "2 g per 500 g egg"
carrier = "water"
powder = true
purpose = "dye"
[free_bait]
diameter = "18 mm"
level = "50 %"
dry_mix = "5 kg"
"""


def made_of(keep: frozenset[str] = frozenset()) -> tuple[dict[str, Any], Wintered]:
    data = in_toml(RED, where="")
    bench = Bench(NOW, eggs=(usual_egg(),))
    few = Draws(batches=16, baits=2)
    request = PlanRequest(recipe_from(data, where=""), bench, prior_factors(), few)
    return data, wintered(request, WinterAsked(keep=keep))


@pytest.fixture(scope="module")
def red() -> tuple[dict[str, Any], Wintered]:
    return made_of()


def test_its_file_is_the_recipe_that_was_worked_out(red: tuple[dict[str, Any], Wintered]) -> None:
    data, made = red
    text = winter_text(data, made)
    again = recipe_from(in_toml(text, where=""), where="")
    shares = {one.ingredient: one.share for one in made.recipe.base.parts}
    assert {one.ingredient: one.share for one in again.base.parts} == pytest.approx(shares)
    whole = replace(again, base=made.recipe.base)
    assert whole == made.recipe
    assert '"soya flour, full fat" = ' in text  # as its maker calls it
    for one in made.turns:
        assert f"# - {one.about}: {one.before} -> {one.after}" in text


def test_every_change_is_told_and_nothing_else_differs(
    red: tuple[dict[str, Any], Wintered],
) -> None:
    _, made = red
    assert [one.about for one in made.turns] == [
        *("oil", "fish meals", "soluble part", "fat", "carrier of Plum"),
        *("diameter", "diameter of its free bait"),
    ]
    told = winter_words(made)
    for one in made.turns:
        assert f"{one.about}: {one.after} instead of {one.before}." in " ".join(told.split())
    assert "a dye goes by its label" in told
    assert made.recipe.liquids[2] == made.before.liquids[2]


def test_cold_water_is_given_more_of_a_flavour_that_was_in_oil(
    red: tuple[dict[str, Any], Wintered],
) -> None:
    rows = {(one.about, one.label): one for one in red[1].rows}
    first, second = (
        rows["after 14 h at 5 °C", "Plum left"],
        rows["after 14 h at 18 °C", "Plum left"],
    )
    for row in (first, second):
        assert row.first is not None
        assert row.second is not None
        assert median_of(row.second) < median_of(row.first)
    assert first.second is not None
    assert second.second is not None
    assert median_of(first.second) > median_of(second.second)  # cold holds back


def test_what_is_to_stay_stays() -> None:
    _, made = made_of(frozenset(("oil", "soluble", "carrier", "level", "size")))
    assert made.turns == ()
    assert replace(made.recipe, name="Red") == made.before
    assert len([one for one in made.left if "as you asked" in one]) == 5
    assert "Nothing: it is a bait for cold water as it is." in winter_words(made)


@pytest.mark.parametrize(
    ("field", "asked"),
    [
        ("keep", {"keep": frozenset(("colour",))}),
        ("at", {"lakes": (278.15,)}),
        ("at", {"lakes": (291.15, 278.15)}),
    ],
)
def test_what_no_winter_version_is_is_refused(field: str, asked: dict[str, Any]) -> None:
    with pytest.raises(InputError) as refused:
        WinterAsked(**asked)
    assert refused.value.field == field


def test_a_file_that_is_there_is_not_written_over(tmp_path: Path) -> None:
    path = tmp_path / "red.toml"
    assert write_winter(RED, path) == path
    with pytest.raises(InputError, match="there already"):
        write_winter("", path)
    with pytest.raises(InputError, match="toml"):
        write_winter("", tmp_path / "red.csv")
    assert path.read_text("utf-8") == RED
