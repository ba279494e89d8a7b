"""Tables from elsewhere at the command line: looked at, taken in, refused with exit code 2."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.test_commands import run

CAME = "Ingredient,Qty (kg),Price,Lot\nsemolina,25,32.50,S-881\nsoya flour,5,£9,S-2\n"
FOODS = "name,WATER,PROCNT,FAT,CHOCDF,FIBTG,ASH\nReed meal,10.0,12.0,3.0,70.0,8.0,5.0\n"


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    made = tmp_path / "notebook.sqlite"
    monkeypatch.setenv("BAITWRIGHT_NOTEBOOK", str(made))
    return made


@pytest.fixture
def came(tmp_path: Path) -> Path:
    made = tmp_path / "came.csv"
    made.write_text(CAME, encoding="utf-8")
    return made


def done(*arguments: str) -> str:
    result = run(*arguments)
    assert result.exit_code == 0, result.output
    return result.stdout


def test_a_table_is_looked_at_taken_in_and_taken_back(place: Path, came: Path) -> None:
    told = done("shelf", "import", str(came), "--dry-run")
    assert "2 rows to go onto the shelf; nothing imported yet" in told
    assert not place.exists()
    told = done("shelf", "import", str(came), "--column", "supplier lot=Lot")
    assert "supplier lot: 'Lot' (as you said)" in told
    assert "2 lots on the shelf" in told
    assert "25 kg" in done("shelf")
    told = done("shelf", "import", str(came), "--again", "--dry-run", "--json")
    assert json.loads(told)["rows"][0]["amount"] == 25_000_000
    assert "-25 kg of semolina" in done("shelf", "undo")


def test_a_table_that_is_wrong_begins_no_notebook_and_exits_with_2(place: Path, came: Path) -> None:
    came.write_text(CAME.replace("25,", "much,"), encoding="utf-8")
    for more in ((), ("--dry-run",), ("--json",)):
        result = run("shelf", "import", str(came), *more)
        assert result.exit_code == 2
        assert "much" in result.stdout
    assert not place.exists()
    for wrong in (("--column", "amount"), ("--column", "amount=Weight"), ("--encoding", "x")):
        result = run("shelf", "import", str(came), *wrong)
        assert result.exit_code == 2
        assert result.stderr.startswith("baitwright: ")
    done("shelf", "in", "milk powder", "1 kg")
    assert run("shelf", "import", str(came)).exit_code == 2
    assert "semolina" not in done("shelf")


def test_how_a_file_reads_is_said(place: Path, came: Path) -> None:
    text = "Ware;Menge;Geld;Kam\ncrème;1.250 kg;1,5;03/04/2026\n"
    came.write_bytes(text.encode("cp1252"))
    columns = ("item=Ware", "amount=Menge", "price=Geld", "came=Kam")
    how = [part for one in columns for part in ("--column", one)]
    how += ["--encoding", "cp1252", "--days", "day-first", "--delimiter", "semicolon"]
    assert run("shelf", "import", str(came), *how).exit_code == 2
    came.write_bytes(text.replace("1.250", "1,250").encode("cp1252"))
    told = done("shelf", "import", str(came), *how, "--decimals", "comma")
    assert "1.25 kg of crème, 1.50" in told
    assert "lot 2026-04-03/1" in told


def test_foods_are_printed_kept_and_printed_again(place: Path, tmp_path: Path) -> None:
    foods = tmp_path / "foods.csv"
    foods.write_text(FOODS, encoding="utf-8")
    told = done("shelf", "foods", str(foods), "--dry-run")
    assert 'protein = "12.0 %"' in told
    assert not place.exists()
    kept = json.loads(done("shelf", "foods", str(foods), "--json"))
    assert kept["kept"] == ["Reed meal"]
    assert done("shelf", "food", "Reed meal").strip() in told
    foods.write_text(FOODS.replace("70.0", "60.0"), encoding="utf-8")
    result = run("shelf", "foods", str(foods))
    assert result.exit_code == 2
    assert "row 2, sum of its parts: got '90.0 g'" in result.stdout
