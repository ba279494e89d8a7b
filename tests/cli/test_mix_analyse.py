"""`baitwright mix analyse` from outside: text, data, tables, and what a customer may read."""

from __future__ import annotations

import csv
import json
from pathlib import Path

import pytest

from tests.cli.test_commands import run
from tests.workshop.shelf import path

COPPER = str(path("copper-mix"))
HOLD = "protein at least 28 % of the dry mix"


def said(*asked: str) -> str:
    done = run("mix", "analyse", *asked)
    assert done.exit_code == 0, done.output
    return str(done.stdout)


def refused(*asked: str) -> str:
    done = run("mix", "analyse", *asked)
    assert done.exit_code == 2, done.output
    return str(done.stderr)


def test_a_mix_is_told_on_its_bases() -> None:
    text = said(COPPER, "--hold", HOLD)
    assert "dry matter of the bait" in text
    assert "protein 11.5 % by its label, 12.68 % in the table" in text
    assert "dry mix costs" in text
    assert "contains cereals containing gluten, eggs, soybeans" in text
    assert HOLD in text
    assert "complete feed" not in text
    assert "A bait is not a complete feed" in said(COPPER, "--carp")


def test_a_recipe_is_a_mix_too_and_one_of_its_name_alone() -> None:
    assert "milk-protein base" in said(str(path("chalk-sinker")))
    sack = said(str(path("bought-mix")))
    assert "every figure is that of a middling mix" in sack
    assert "read their labels" in sack


def test_data_and_tables(tmp_path: Path) -> None:
    data = json.loads(said(COPPER, "--json", "--carp", "--hold", HOLD))
    dry = data["bases"]["dry mix"]["protein"]
    assert dry["unit"] == "%"
    assert dry["band80"][0] < dry["median"] < dry["band80"][1]
    assert data["parts"][0]["labelled"]["protein"]["table"] == pytest.approx(0.1268)
    assert 0.0 < data["must_hold"][0]["chance"]["median"] < 100.0
    assert data["carp"]["caveat"].startswith("A bait is not")
    out = tmp_path / "mix.csv"
    done = run("mix", "analyse", COPPER, "--out", str(out))
    assert f"written: {out}" in done.stderr
    rows = list(csv.DictReader(out.read_text(encoding="utf-8-sig").splitlines()))
    protein = next(r for r in rows if (r["about"], r["name"]) == ("dry mix", "protein"))
    assert float(protein["value"]) == pytest.approx(dry["median"], rel=1e-4)
    assert next(r for r in rows if r["name"] == "metabolisable energy")["value"] == ""


def test_a_workbook_has_numbers_in_its_cells(tmp_path: Path) -> None:
    from openpyxl import load_workbook

    out = tmp_path / "mix.xlsx"
    said(COPPER, "--out", str(out))
    page = load_workbook(out).active
    assert page is not None
    assert page["A1"].value == "about"
    assert isinstance(page["C2"].value, float)


def test_every_number_opens() -> None:
    text = said(COPPER, "--explain")
    assert "23.6 protein + 39.5 fat + 17.2 (carbohydrate + fibre) kJ/g" in text
    assert "usda-sr28: " in text


def test_a_customer_reads_no_secret(tmp_path: Path) -> None:
    out = tmp_path / "sheet.csv"
    told = [said(COPPER, "--customer", "--out", str(out)), said(COPPER, "--customer", "--json")]
    told.append(out.read_text(encoding="utf-8-sig"))
    for text in told:
        assert "liver" not in text
        assert "yeast" not in text
        assert "parts of the maker's own" in text
        assert "semolina" in text
        assert "soybeans" in text
        assert "cost" not in text
    assert "opens no number" in refused(COPPER, "--customer", "--explain")


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        (("--hold", "protein over 9000"), "protein at least 34 % of the dry mix"),
        (("--hold", "iron at least 1 %"), "one of: water"),
        (("--hold", "fat at most 10 % of the pond"), "a basis: dry mix"),
        (("--water", "70 %"), "1 % to 60 %"),
        (("--dry-mix", "8 kg"), "10 g to 300 g"),
        (("--mesh", "9 mm"), "mesh"),
        (("--eggs", "three"), "eggs"),
        (("--out", "mix.pdf"), ".csv or .xlsx"),
    ],
)
def test_what_cannot_be_is_told(asked: tuple[str, ...], said: str) -> None:
    assert said in refused(COPPER, *asked)


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        (("45 %", "40 %"), "100 %"),
        (("semolina = ", "semolna = "), "semolina"),
        (("price = 1.20", "price = -1"), "price"),
        (("brewers-yeast; liver-powder", "cocoa"), "parts of this mix"),
        (("water = ", "price = 2.0\nwater = "), "no bought one"),
    ],
)
def test_a_wrong_file_is_one_message(changed: tuple[str, str], said: str, tmp_path: Path) -> None:
    file = tmp_path / "mix.toml"
    file.write_text(Path(COPPER).read_text(encoding="utf-8").replace(*changed, 1), encoding="utf-8")
    message = refused(str(file))
    assert said in message
    assert str(file) in message


def test_prices_come_off_the_shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BAITWRIGHT_NOTEBOOK", str(tmp_path / "notebook.sqlite"))
    sack = tmp_path / "sack.toml"
    sack.write_text('name = "Grey sack"\n[analysis]\nprotein = "28 %"\n', encoding="utf-8")
    assert "no price of Grey sack" in said(str(sack))
    assert run("shelf", "in", "Grey sack", "10 kg", "--price", "45").exit_code == 0
    assert "4.50 per kg" in " ".join(said(str(sack), "--shelf").split())
    own = tmp_path / "own.toml"
    own.write_text("[ingredients.semolina]\nprice = 9\n", encoding="utf-8")
    recipe = str(path("copper-wafter"))
    assert "semolina, durum;" in said(recipe)
    assert "semolina, durum;" not in said(recipe, "--ingredients", str(own))
