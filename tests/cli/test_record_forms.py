"""Records from the command line: told by words, files or answers, read again, purged."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from baitwright.cli import purge as purge_door
from baitwright.cli import record_form
from baitwright.cli.main import cli
from baitwright.workshop.forms.forms import FORMS
from tests.cli.test_commands import run
from tests.cli.test_notebook import done, refused


@pytest.fixture(autouse=True)
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    made = tmp_path / "notebook.sqlite"
    monkeypatch.setenv("BAITWRIGHT_NOTEBOOK", str(made))
    return made


def answered(monkeypatch: pytest.MonkeyPatch, answers: str, *arguments: str) -> Result:
    """What is said when somebody sits there and answers."""
    for door in (record_form, purge_door):
        monkeypatch.setattr(door, "somebody_is_there", lambda: True)
    return CliRunner().invoke(cli, list(arguments), input=answers)


def test_the_door_knows_every_form() -> None:
    assert tuple(FORMS) == record_form.KINDS


def test_a_night_from_words_to_taken_away() -> None:
    done("record", "night", "Late", "water=Long Reedpool", "bites=0", "rod[1].position=left")
    done("record", "night", "Late", "bites=1", "--reason", "forgot one")
    told = done("notebook", "night", "Late")
    assert "bites: 0 becomes 1" in told
    assert "forgot one" in told
    assert done("notebook", "night").startswith("Late: ")
    assert "night: 1" in done("notebook")
    assert "night Late" in done("notebook", "search", "reedpool")
    assert "Nothing found" in done("notebook", "search", "chalk")
    assert "version 3" in done("notebook", "night", "Late", "--undo")
    assert "why it is taken away" in refused("notebook", "night", "Late", "--take-away").stderr
    gone = done("notebook", "night", "Late", "--take-away", "--reason", "told twice")
    assert "its versions stay" in gone
    assert "No night yet" in done("notebook", "night")
    late = refused("record", "night", "Late", "water=X", "--version", "2").stderr
    assert "version 4, the newest" in late
    assert "Someone wrote in it meanwhile" in late


def test_data_in_and_out(tmp_path: Path) -> None:
    told = {"water": "Long Reedpool", "water_temperature": "6 C", "rod": [{"bites": 2}]}
    result = run("record", "night", "Late", "-", "--json", input=json.dumps(told))
    assert result.exit_code == 0, result.output
    made = json.loads(result.stdout)
    assert (made["version"], made["body"]["water_temperature"]) == (1, 279.15)
    path = tmp_path / "again.json"
    path.write_text(json.dumps(made["body"]["written"]), encoding="utf-8")
    done("record", "night", "Late", str(path))
    again = json.loads(done("notebook", "night", "Late", "--json"))
    assert again["body"] == made["body"]
    assert [one["version"] for one in again["versions"]] == [1, 2]
    (tmp_path / "night.toml").write_text('water = "Chalk Lake"\nday = 2026-11-20\n')
    assert "written down as version 1" in done("record", "night", str(tmp_path / "night.toml"))


def test_answers_fill_a_record(monkeypatch: pytest.MonkeyPatch) -> None:
    lines = ["Reedmill", "1 l", "free", "12,50", "", "gold", "milk", "H9", "H317"]
    said = answered(monkeypatch, "\n".join(lines) + "\n" * 11, "record", "liquid", "Malt")
    assert said.exit_code == 0, said.output
    assert said.output.count("  ! it takes") == 3
    told = done("notebook", "liquid", "Malt")
    assert "supplier: Reedmill" in told
    assert "hazards: H317" in told


def test_an_empty_answer_keeps_what_stands(monkeypatch: pytest.MonkeyPatch) -> None:
    done("record", "night", "Late", "water=Long Reedpool", "bites=1", "rod[1].bites=1")
    fields = ["", "", "", "2", *[""] * 6, "", "n", "", ""]
    said = answered(monkeypatch, "\n".join(fields) + "\n\n", "record", "night", "Late")
    assert said.exit_code == 0, said.output
    told = done("notebook", "night", "Late")
    assert "water: Long Reedpool" in told
    assert "bites: 1 becomes 2" in told
    assert "rod 1: bites 1" in told


def test_what_is_needed_is_asked_until_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    answers = "\n\nLong Reedpool\n" + "\n" * 10 + "y\nleft\n" + "\n" * 10
    said = answered(monkeypatch, answers, "record", "night")
    assert said.exit_code == 0, said.output
    assert said.output.count("! it takes a name") == 2
    assert "rod 1: position left" in done("notebook", "night", done("notebook", "night")[:12])


def test_nobody_is_asked_where_nobody_sits() -> None:
    said = refused("record", "night", "Late")
    assert "key=value" in said.stderr
    assert "water_temperature" in said.stderr
    mistyped = refused("record", "nights", "x").stderr
    assert "a plan.json that can be read, or a kind of record: ingredient, core" in mistyped


def test_breaking_off_writes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    said = answered(monkeypatch, "Long Reedpool\n", "record", "night", "Late")
    assert said.exit_code == 130
    assert "No night yet" in done("notebook", "night")


def test_people_and_their_purge(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    assert done("record", "person", "name=Ada Quillfeather").startswith("person 1:")
    done("record", "person", "1", "phone=01632 960000")
    done("record", "question", "Malt", "question=how much?", "customer=1")
    assert "customer: person 1 (Ada Quillfeather)" in done("notebook", "question", "Malt")
    assert done("notebook", "person").startswith("person 1: Ada Quillfeather\n\nlast backup: ")
    assert "01632 960000" in done("notebook", "person", "person 1")
    assert "purge person CODE" in refused("notebook", "person", "1", "--undo").stderr
    done("backup")
    asked = refused("purge", "person", "1")
    assert "lost for good" in asked.stdout
    assert "--yes" in asked.stderr
    no = answered(monkeypatch, "no\n", "purge", "person", "1")
    assert "nothing was changed" in no.output
    assert "Ada" in done("notebook", "person")
    yes = answered(monkeypatch, "yes\n", "purge", "person", "1")
    assert "person 1: purged" in yes.output
    files = [path for path in place.parent.rglob("*") if path.is_file()]
    assert not [path for path in files if b"Quillfeather" in path.read_bytes()]
    assert "customer: person 1 (erased)" in done("notebook", "question", "Malt")
    assert "purged" in done("purge", "question", "Malt", "--yes")
    assert "taken away or purged" in done("notebook", "question", "Malt")


def test_words_are_overwritten_and_an_older_copy_is_purged_again(place: Path) -> None:
    done("record", "person", "name=Ada Quillfeather")
    done("record", "night", "Late", "water=Reed", "remark=with Ada Quillfeather")
    stick = place.with_name("stick.sqlite")
    made = json.loads(done("backup", "--json"))["written"]
    stick.write_bytes(Path(made).read_bytes())
    done("record", "person", "name=Birch")
    assert "--overwrite SURNAME" in refused("purge", "person", "1").stdout
    words = ("--overwrite", "Ada Quillfeather", "--overwrite", "quillfeather")
    asked = refused("purge", "person", "1", *words).stdout
    assert "overwritten in night Late, remark: with person 1" in asked
    assert "own words of night" not in asked
    told = json.loads(done("purge", "person", "1", *words, "--json", "--yes"))
    assert told["changed"] == [{"where": "night Late, remark", "text": "with person 1"}]
    assert "remark: with person 1" in done("notebook", "night", "Late")
    back = done("restore", str(stick))
    assert f"purged again: person 1; {stick} still tells it: delete it yourself" in back
    assert f"purged again: night Late; {stick}" in back
    assert "remark: with person 1" in done("notebook", "night", "Late")
    assert "person 2: given after the copy that was put back" in done("notebook", "person")
    assert done("record", "person", "name=Cedar").startswith("person 3:")
    assert "given after the copy" in done("notebook", "person", "2")


def test_two_files_are_readings_against_a_plan_as_ever() -> None:
    assert "a plan.json that can be read" in refused("record", "none.json", "none.toml").stderr
    assert "a plan.json that can be read" in refused("record", "--json", "a.json", "b.toml").stderr
    assert "record PLAN READINGS" in run("record", "--help").stdout.replace("[OPTIONS] ", "")
    assert "record night --help" in " ".join(run("record", "--help").stdout.split())
    assert "KEY=VALUE" in run("record", "night", "--help").stdout


def test_a_tub_and_a_blend_are_lots_of_the_shelf() -> None:
    lots = [
        done("shelf", "in", *told, "--best-before", "2099-05-01").removeprefix("lot ").split(":")[0]
        for told in (("Copper", "5 kg"), ("egg albumen", "1 kg"), ("Malt", "200 ml"))
    ]
    note = done("record", "tub", "T1", "base=Copper", "left=2 kg")
    assert "not on the shelf: name base_lot=LOT" in note
    named = (f"base_lot={lots[0]}", f"hardener_lot={lots[1]}", "hardener=10 %")
    told = done("record", "tub", "T1", *named, "left=1100 g")
    assert f"{lots[1]}: -100 g of egg albumen" in told
    assert "on the shelf: lot T1, 1.1 kg of Copper, best before 2099-05-01" in told
    assert "T1: -268 g of Copper" in done("record", "tub", "T1", "left=832 g", "weighed=after")
    assert "lot T1, 832 g of Copper" in done("notebook", "tub", "T1")
    assert f"ingredient lot {lots[1]}, egg albumen" in done("trace", "T1")
    assert "baitwright shelf undo" in refused("notebook", "tub", "T1", "--undo").stderr
    done("shelf", "undo")
    assert "lot T1, 1.1 kg of Copper" in done("notebook", "tub", "T1")
    part = ("part[1].liquid=Malt", "part[1].parts=1", f"part[1].lot={lots[2]}")
    assert "or say --why" in refused("record", "blend", "Sweet", *part, "left=900 ml").stderr
    told = done("record", "blend", "Sweet", *part, "left=80 ml", "lot=B-4")
    assert "on the shelf: lot B-4, 80 ml of Sweet" in told
