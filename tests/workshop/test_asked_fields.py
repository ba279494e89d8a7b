"""Every field of a file can be asked on a page, and comes back as the file had it."""

from __future__ import annotations

import tomllib
from datetime import datetime
from pathlib import Path

import pytest

from baitwright.terms.errors import InputError
from baitwright.workshop.forms.asked_fields import asked
from baitwright.workshop.forms.asked_places import place_of, wrong
from baitwright.workshop.forms.form import fields_of
from baitwright.workshop.forms.form_events import NightTable
from baitwright.workshop.forms.told_fields import told_by
from baitwright.workshop.recipe_files.bench_file import bench_from
from baitwright.workshop.recipe_files.bench_tables import BenchFile
from baitwright.workshop.recipe_files.recipe_file import recipe_from
from baitwright.workshop.recipe_files.recipe_tables import RecipeFile

EXAMPLES = Path(__file__).parents[2] / "examples"
NOW = datetime(2026, 11, 27, 9, 0)
RECIPES = sorted(one for one in EXAMPLES.glob("*.toml") if "[bait]" in one.read_text("utf-8"))
BENCHES = sorted(EXAMPLES.glob("bench-*"))


@pytest.mark.parametrize("path", RECIPES, ids=lambda one: one.stem)
def test_a_recipe_comes_back_from_its_page(path: Path) -> None:
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    typed = [(one.name, one.value) for one in asked(RecipeFile, data).walk()]
    back = told_by(RecipeFile, typed)
    assert recipe_from(back, where="page") == recipe_from(data, where="file")


@pytest.mark.parametrize("path", BENCHES, ids=lambda one: one.stem)
def test_a_bench_comes_back_from_its_page(path: Path) -> None:
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    typed = [(one.name, one.value) for one in asked(BenchFile, data).walk()]
    back = told_by(BenchFile, typed)
    assert bench_from(back, where="p", now=NOW) == bench_from(data, where="p", now=NOW)


def test_every_field_is_asked_once_and_says_what_it_takes() -> None:
    fields = list(asked(RecipeFile, {}).walk())
    assert len({one.name for one in fields}) == len(fields)
    assert set(fields_of(NightTable)) <= {
        one.name.partition("[")[0].partition(".")[0] for one in asked(NightTable, {}).walk()
    }
    assert all(one.about for one in fields if not one.name.endswith((".key", ".share")))


def test_an_error_finds_its_field() -> None:
    told = {"liquid": [{"name": "Malt", "level": "1"}], "base": {"name": "C", "parts": {"s": "1"}}}
    page = asked(RecipeFile, told)
    assert place_of(page, "liquid[1].level") == "liquid[1].level"
    assert place_of(page, "base.parts.s") == "base.parts[1].share"
    assert place_of(page, "hardener") == "hardener.basis"
    assert place_of(page, "nothing of it") == ""
    assert wrong(page, InputError("name", None, "a name")).place == "name"


@pytest.mark.parametrize("name", ["", "a..b", "a[0]", "a[b]", "__class__.x y", "a" * 60])
def test_a_name_that_is_none_is_refused(name: str) -> None:
    with pytest.raises(InputError):
        told_by(RecipeFile, [(name, "1")])


def test_a_field_told_twice_is_refused() -> None:
    with pytest.raises(InputError, match="once"):
        told_by(RecipeFile, [("name", "one"), ("name", "two")])
    with pytest.raises(InputError, match="once"):
        told_by(RecipeFile, [("name", "one"), ("name.more", "two")])


def test_a_part_named_twice_is_refused() -> None:
    rows = [("base.parts[1].key", "semolina"), ("base.parts[1].share", "50 %")]
    again = [("base.parts[2].key", "semolina"), ("base.parts[2].share", "50 %")]
    with pytest.raises(InputError, match="once"):
        told_by(RecipeFile, rows + again)


def test_empty_rows_are_left_out() -> None:
    typed = [("liquid[1].name", " "), ("liquid[3].name", "Malt"), ("liquid[2].level", "")]
    assert told_by(RecipeFile, typed) == {"liquid": [{"name": "Malt"}]}
