"""`mix mend` as typed: text, data, tables and files, and what it says to what cannot be."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from baitwright.cli.main import cli
from baitwright.workshop.recipe_files.factors_file import read_factors
from baitwright.workshop.recipe_files.mix_file import read_mix
from tests.architecture.tree import ROOT

MIX, RECIPE = ROOT / "examples" / "copper-mix.toml", ROOT / "examples" / "copper-wafter.toml"
WISHES = ROOT / "examples" / "copper-wishes.toml"
OWN = """name = "mine"
[[factors]]
key = "dry_mix_per_egg"
about = "Copper"
mu = 0.1
kappa = 9
nu = 12
sigma2 = 0.001
batches = 8
"""


def typed(*words: object) -> Result:
    return CliRunner().invoke(cli, ["mix", "mend", *map(str, words)])


def told(*words: object) -> dict[str, object]:
    done = typed(*words, "--json")
    assert done.exit_code == 0, done.stderr
    data: dict[str, object] = json.loads(done.stdout)
    return data


def written(path: Path, text: str) -> Path:
    path.write_text(text, encoding="utf-8")
    return path


def test_what_stands_in_what_changes_and_how_to_prove_it() -> None:
    done = typed(MIX, "--without", "liver-powder")
    assert done.exit_code == 0
    said = " ".join(done.stdout.split())
    assert "COPPER 2: COPPER WITHOUT BEEF LIVER POWDER" in said
    assert "10 % of the mix is exchanged" in said
    assert "Its cost is not known: no price of spirulina" in said
    assert "Eggs for the test 4 eggs" in said
    assert "From the first batch of Copper 2 on." in said
    assert "no batch of yours begins anew at 1.00" in said


def test_old_mix_is_rolled_only_where_some_is_left() -> None:
    rolls = told(MIX, "--without", "liver-powder", "--old-left", "60 g")["rolls"]
    assert isinstance(rolls, list)
    assert [one["mix"] for one in rolls] == ["Copper 2"] * 3
    amounts = [one["dry_mix"]["median"] for one in rolls]
    assert amounts[1] < amounts[0] < amounts[2]
    said = typed(MIX, "--without", "liver-powder", "--old-left", "60 g").stdout
    assert "No old mix is left to roll" in said


def test_a_poorer_bag(tmp_path: Path) -> None:
    text = '[ingredients.soya-flour-roasted]\nprotein = "20 %"\nallergens = "fish"\n'
    bag = written(tmp_path / "bag.toml", text)
    data = told(MIX, "--changed", bag, "--with", "soya-flour")
    changed = data["changed"]
    assert isinstance(changed, dict)
    assert changed["soya-flour-roasted"]["protein"] == {
        "before": pytest.approx(0.3809),
        "after": 0.2,
    }
    assert data["was"] != data["shares"]
    weaker = written(tmp_path / "albumen.toml", '[ingredients.egg-albumen]\nprotein = "70 %"\n')
    hard = told(MIX, "--changed", weaker)
    assert list(hard["changed"]) == ["egg-albumen"]  # type: ignore[call-overload]
    assert hard["was"] == hard["shares"]
    said = typed(MIX, "--changed", bag).stdout
    assert "IF NOTHING WERE DONE" in said
    assert "it now contains fish" in said


def test_the_set_that_begins_anew_and_the_file_with_the_new_mix(tmp_path: Path) -> None:
    own = written(tmp_path / "mine.toml", OWN)
    new, mix = tmp_path / "mine-2.toml", tmp_path / "copper-2.toml"
    done = typed(
        MIX, "--without", "liver-powder", "--factors", own, "--accept", new, "--write", mix
    )  # fmt: skip
    assert done.exit_code == 0, done.stderr
    factors = read_factors(new)
    assert factors.find("dry_mix_per_egg", "Copper").batches == 8
    begun = factors.find("dry_mix_per_egg", "Copper 2")
    assert begun.batches == 0
    assert begun.median == pytest.approx(1.0, abs=0.02), "80 g are weighed, and 80 g a table's egg"
    made = read_mix(mix)
    assert made.told.base.name == "Copper 2"
    assert made.dry_mix_per_egg is None
    assert made.secret == {"brewers-yeast"}
    assert "liver-powder" not in {one.ingredient for one in made.told.base.parts}
    again = typed(MIX, "--without", "liver-powder", "--write", mix)
    assert again.exit_code == 2
    assert "a file that is not there yet" in again.stderr


def test_a_recipe_is_written_as_a_recipe(tmp_path: Path) -> None:
    own, new = written(tmp_path / "mine.toml", OWN), tmp_path / "wafter-2.toml"
    data = told(
        RECIPE, "--without", "maize meal, coarse", "--factors", own, "--write", new,
        "--name", "Copper B", "--with", "breadcrumb", "--restart", "drying",
    )  # fmt: skip
    assert data["shares"] == pytest.approx({**_present(data), "breadcrumb": 0.05}, abs=0.011)
    fates = {one["key"]: one for one in data["factors"]}  # type: ignore[attr-defined]
    assert fates["dry_mix_per_egg"]["before"]["batches"] == 8
    assert fates["dry_mix_per_egg"]["after"]["median"] == pytest.approx(1.105, abs=0.001)
    assert fates["drying"]["fate"] == "begins anew"
    assert 'name = "Copper B"' in new.read_text(encoding="utf-8")
    assert typed(new, "--without", "semolina", "--name", "Copper C").exit_code == 0


def _present(data: dict[str, object]) -> dict[str, float]:
    was = data["was"]
    assert isinstance(was, dict)
    return {name: share for name, share in was.items() if name != "maize-meal-coarse"}


def test_tables(tmp_path: Path) -> None:
    openpyxl = pytest.importorskip("openpyxl")
    for name in ("mend.csv", "mend.xlsx"):
        assert typed(MIX, "--without", "liver-powder", "--out", tmp_path / name).exit_code == 0
    lines = list(csv.DictReader((tmp_path / "mend.csv").read_text("utf-8-sig").splitlines()))
    parts = [one for one in lines if one["about"] == "part"]
    for column in ("before", "after"):
        assert sum(float(one[column]) for one in parts) == pytest.approx(100.0)
    cost = next(one for one in lines if one["name"] == "a kilogram costs")
    assert (cost["after"], cost["unit"]) == ("", "per kg")
    page = openpyxl.load_workbook(tmp_path / "mend.xlsx").active
    assert page.max_row == len(lines) + 1


class TestWishes:
    """A file of wishes with a present mix."""

    PRESENT = """
[present]
semolina = "43 %"
soya-flour-roasted = "12 %"
fishmeal-65 = "25 %"
krill-meal = "2 %"
milk-powder-skimmed = "5 %"
egg-albumen = "5 %"
maize-meal-coarse = "8 %"
"""

    def test_its_rows_still_hold(self, tmp_path: Path) -> None:
        text = WISHES.read_text(encoding="utf-8") + self.PRESENT
        path = written(tmp_path / "w.toml", text)
        new = tmp_path / "w2.toml"
        data = told(path, "--without", "fishmeal-65", "--write", new)
        shares = data["shares"]
        assert isinstance(shares, dict)
        assert "fishmeal-65" not in shares
        assert shares["soya-flour-roasted"] <= 0.25
        assert 0.05 <= shares["egg-albumen"] <= 0.10
        numbers = {one["figure"]: one["after"] for one in data["changes"]}  # type: ignore[attr-defined]
        assert numbers["protein of the dry mix"]["median"] >= 33.9
        assert "fishmeal-65" not in new.read_text(encoding="utf-8")

    def test_a_clash_is_told(self, tmp_path: Path) -> None:
        text = WISHES.read_text(encoding="utf-8").replace('at_least = "34 %"', 'at_least = "46 %"')
        path = written(tmp_path / "w.toml", text + self.PRESENT)
        done = typed(path, *(one for name in ("fishmeal-65", "whey-protein-80", "acid-casein",
                     "fish-hydrolysate-powder") for one in ("--without", name)))  # fmt: skip
        assert done.exit_code == 0
        assert "NO MIX KEEPS EVERY WISH ANY LONGER" in done.stdout
        assert "46 % protein" in done.stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "an ingredient that is gone"),
        (("--without", "livr-powder"), "liver-powder"),
        (("--without", "egg-albumen"), "a hardener lies on top"),
        (("--without", "liver-powder", "--with", "unicorn"), "with"),
        (("--without", "liver-powder", "--restart", "egg_volume"), "cook, drying"),
        (("--without", "liver-powder", "--round-to", "0.3 %"), "a step that makes up 100 %"),
        (("--changed", MIX.parent / "bench-white.toml"), "[ingredients.fishmeal-65]"),
    ],
)
def test_one_clear_message(words: tuple[object, ...], said: str) -> None:
    done = typed(MIX, *words)
    assert done.exit_code == 2
    assert said in " ".join(done.stderr.split())


def test_a_bought_base_cannot_be_taken_apart() -> None:
    done = typed(ROOT / "examples" / "bought-mix.toml", "--without", "semolina")
    assert done.exit_code == 2
    assert "of a bought one nobody can take a part out" in " ".join(done.stderr.split())
