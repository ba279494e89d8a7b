"""The doors from outside: exit codes, one clear message, nothing written on bad input."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from inspect import signature
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from baitwright import __version__
from baitwright.cli.main import ENVIRONMENT, cli
from tests.architecture.tree import ROOT

EXAMPLES = ROOT / "examples"
RECIPE, BENCH = EXAMPLES / "copper-wafter.toml", EXAMPLES / "bench-three-large-eggs.toml"
PLAN = ["plan", str(RECIPE), str(BENCH), "--draws", "64"]
LEVELS = ["levels", "0.2 ml per egg of 50 ml", "--eggs", "3 x 40 ml"]
TUB = 'tub_used = "310 g"\n'


# Click before 8.2 mixes the two streams unless told otherwise.
_APART: dict[str, Any] = {"mix_stderr": False}
RUNNER = CliRunner(**(_APART if _APART.keys() <= signature(CliRunner).parameters.keys() else {}))


def run(*arguments: str, **how: Any) -> Result:
    return RUNNER.invoke(cli, arguments, auto_envvar_prefix=ENVIRONMENT, **how)


def process(*arguments: str, **more: str) -> subprocess.CompletedProcess[str]:
    """The command as a process of its own, as a shell starts it."""
    code = "from baitwright.cli.main import main; main()"
    return subprocess.run(
        [sys.executable, "-c", code, *arguments],
        capture_output=True,
        text=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONUTF8": "1", **more},
        check=False,
    )


def test_help_names_every_command() -> None:
    done = run("--help")
    assert done.exit_code == 0
    for command in ("plan", "levels", "record"):
        assert f"\n  {command} " in done.output
        assert run(command, "--help").exit_code == 0


def test_the_version() -> None:
    assert run("--version").output == f"baitwright, version {__version__}\n"


def test_a_plan_is_printed_and_nothing_is_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    done = run(*PLAN)
    assert not list(tmp_path.iterdir())
    assert done.exit_code == 0, done.output
    assert "Copper" in done.stdout
    assert not done.stderr


def test_a_plan_with_its_files(tmp_path: Path) -> None:
    out = tmp_path / "build" / "today"
    done = run(*PLAN, "--out", str(out))
    assert done.exit_code == 0, done.output
    drawn = ("day", "set", "drying", "bait", "lift", "flavour", "water")
    pictures = {f"{name}.svg" for name in drawn}
    names = {"plan.json", "bench-sheet.pdf", "day.ics", "figures.html", *pictures}
    assert {path.name for path in out.iterdir()} == names
    for name in names:
        assert f"written: {out / name}\n" in done.stdout
    assert (out / "bench-sheet.pdf").read_bytes().startswith(b"%PDF")
    for name in pictures:
        assert (out / name).read_text(encoding="utf-8").startswith("<svg")
    assert (out / "day.ics").read_bytes().startswith(b"BEGIN:VCALENDAR\r\n")
    assert "request" in json.loads((out / "plan.json").read_text(encoding="utf-8"))


def test_json_stands_alone_on_its_stream(tmp_path: Path) -> None:
    done = run(*PLAN, "--json", "--out", str(tmp_path))
    data = json.loads(done.stdout)
    assert data == json.loads((tmp_path / "plan.json").read_text(encoding="utf-8"))
    assert data["request"]["draws"]["batches"] == 64
    assert "written:" in done.stderr


def test_numbers_are_opened() -> None:
    every = run(*PLAN, "--explain")
    one = run(*PLAN, "--explain", "tub-used")
    assert every.exit_code == one.exit_code == 0
    assert one.stdout.startswith("tub before less tub after: ")
    assert "used = dry mix in the bowl + dusting mix" in one.stdout
    assert len(one.stdout) < len(every.stdout)
    by_label = run(*PLAN, "--explain", "Tub before less tub after")
    assert by_label.stdout == one.stdout


def test_the_headlines_end_with_the_names_that_open() -> None:
    text = run(*PLAN, "--explain").stdout
    _, _, names = text.partition("Names that --explain opens\n")
    listed = names.replace("\n", " ").split(",")
    assert {"tub_used", "pot_seconds", "dry_mix"} <= {name.strip() for name in listed}
    assert run(*PLAN, "--explain", listed[-1].strip()).exit_code == 0


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("tub usd", "'tub used'"),
        ("boil_time", "'boil'"),
        ("lift_dried", "'lift of the bait alone dried'"),
        ("xyzzy", "'tub used' or 'baits'"),
    ],
)
def test_a_number_the_plan_has_not(typed: str, offered: str) -> None:
    done = run(*PLAN, "--explain", typed)
    assert done.exit_code == 2
    assert offered in done.stderr
    assert "A bare --explain ends with all names." in done.stderr


def test_a_name_opens_no_hour_unless_it_is_asked_for() -> None:
    lifts = run(*PLAN, "--explain", "lift").stdout
    assert "lift of the bait alone, dried" in lifts
    assert not re.search(r"^lift of the bait alone after", lifts, re.MULTILINE)
    night = run(*PLAN, "--explain", "lift of the bait alone after 14 h").stdout
    assert re.match(r"lift of the bait alone after 14 h: .* mN\n", night)


def test_a_number_opened_for_programs() -> None:
    data = json.loads(run(*PLAN, "--json", "--explain", "tub_used").stdout)
    (tub,) = data["explained"]
    assert tub["label"] == "tub before less tub after"
    assert tub["equation"].startswith("used = ")
    assert tub["band80"][0] < tub["median"] < tub["band80"][1]
    assert tub["moved_by"][0]["share"] <= 1.0
    assert tub["inputs"][0]["inputs"], "what it was made from is opened as well"
    every = json.loads(run(*PLAN, "--explain", "", "--json").stdout)
    assert "tub_used" in every["names"]
    assert len(every["explained"]) > 10


BAD = [
    (["plan", "nowhere.toml", str(BENCH)], "nowhere.toml"),
    (["plan", str(RECIPE), str(RECIPE)], "a key known there"),
    (["plan", str(RECIPE)], "Missing argument 'BENCH'"),
    ([*PLAN[:3], "--draws", "3"], "32<=x<=65536"),
    ([*PLAN, "--factors", "nowhere.toml"], "a factors file that can be read"),
    ([*PLAN, "--out", str(RECIPE)], "a folder that can be written to"),
    (["levels", "0.2 ml per egg", "--eggs", "3 x 40 ml"], "its egg too"),
    (["levels", "0.2 ml per egg of 50 ml"], "eggs: got nothing"),
    (["levels", "--eggs", "3 x 40 ml"], "levels: got nothing"),
    ([*LEVELS, "--drops-per-ml", "nan"], "5 to 200"),
    ([*LEVELS, "--use", "bread"], "'hookbait'"),
    (["record", "nowhere.json", "nowhere.toml"], "a plan.json that can be read"),
    (["record", str(RECIPE), "nowhere.toml"], "a plan as JSON"),
    (["paln"], "No such command"),
]


@pytest.mark.parametrize(("arguments", "says"), BAD, ids=lambda value: str(value)[-30:])
def test_wrong_input_is_two_and_one_message(
    arguments: list[str], says: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    wants_out = arguments[0] == "plan" and "--out" not in arguments
    done = run(*arguments, *(["--out", "out"] if wants_out else []))
    assert done.exit_code == 2
    assert says in done.stderr
    assert "Traceback" not in done.output
    assert not done.stdout
    assert not list(tmp_path.iterdir())


def test_our_fault_is_one_and_says_how_to_report(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(_: object) -> None:
        raise ZeroDivisionError("a slip")

    monkeypatch.setattr("baitwright.workshop.levels.levels.levels", broken)
    done = run(*LEVELS)
    assert done.exit_code == 1
    assert "our fault, not yours: ZeroDivisionError: a slip" in done.stderr
    assert "Report it with" in done.stderr
    assert __version__ in done.stderr
    assert "Traceback" not in done.stderr
    told = run(*LEVELS, env={"BAITWRIGHT_DEBUG": "1"})
    assert "Traceback" in told.stderr


def test_options_come_from_the_environment_too() -> None:
    here = run(*LEVELS, "--table", "--dry-mix", "86 g per egg")
    there = run(
        *LEVELS[:2],
        env={
            "BAITWRIGHT_LEVELS_EGGS": "3 x 40 ml",
            "BAITWRIGHT_LEVELS_TABLE": "1",
            "BAITWRIGHT_LEVELS_DRY_MIX": "86 g per egg",
        },
    )
    assert there.exit_code == 0, there.output
    assert there.stdout == here.stdout


def test_levels_for_programs() -> None:
    data = json.loads(run(*LEVELS, "--json").stdout)
    assert data["levels"][0]["dose"]["volume_ml"] == pytest.approx(0.48)


def test_the_loop_sharpens_the_next_plan(tmp_path: Path) -> None:
    """Plan, weigh the tub, record, accept, plan again: narrower, and nearer to what was weighed."""
    readings, factors = tmp_path / "readings.toml", tmp_path / "mine.toml"
    readings.write_text(TUB, encoding="utf-8")
    before = _planned(tmp_path / "before")
    plan = str(tmp_path / "before" / "plan.json")
    done = run("record", plan, str(readings), "--accept", str(factors))
    assert done.exit_code == 0, done.output
    assert "dry mix per egg for Copper: 1.00 becomes 1.0" in done.stdout
    assert f"Accepted: {factors}" in done.stdout
    after = _planned(tmp_path / "after", "--factors", str(factors))
    assert before["median"] < after["median"] < 310.0
    width, narrower = (b["band80"][1] - b["band80"][0] for b in (before, after))
    assert narrower < width
    told = json.loads(run("record", plan, str(readings), "--json").stdout)
    assert told["proposals"][0]["key"] == "dry_mix_per_egg"
    again = run("record", plan, str(readings), "--accept", str(factors))
    assert again.exit_code == 2
    assert "not there yet" in again.stderr


def _planned(out: Path, *more: str) -> dict[str, Any]:
    """The tub's prediction in the plan written to a folder."""
    done = run(*PLAN, "--out", str(out), *more)
    assert done.exit_code == 0, done.output
    data = json.loads((out / "plan.json").read_text(encoding="utf-8"))
    found: dict[str, Any] = data["stages"]["tub_used"]
    return found


def test_levels_load_no_more_of_us_than_they_use() -> None:
    code = (
        "import sys\nfrom baitwright.cli.main import main\n"
        "try:\n    main()\nexcept SystemExit:\n    print('LOADED', *sys.modules)\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, *LEVELS], capture_output=True, text=True, check=True
    )
    loaded = set(done.stdout.splitlines()[-1].split())
    assert {"LOADED", "baitwright.cli.levels", "baitwright.recipe.liquid"} <= loaded
    assert not loaded & {
        "baitwright.cli.plan",
        "baitwright.recipe.bench",
        "baitwright.recipe.model",
        "baitwright.terms.quantity",
    }


def test_as_a_process_of_its_own(tmp_path: Path) -> None:
    good = process(*LEVELS)
    assert (good.returncode, good.stderr) == (0, "")
    assert "draw to" in good.stdout
    bad = process("plan", str(tmp_path / "nowhere.toml"), str(BENCH), "--out", str(tmp_path / "o"))
    assert (bad.returncode, bad.stdout) == (2, "")
    assert bad.stderr.startswith("baitwright: ")
    assert bad.stderr.count("\n") == 1
    assert not (tmp_path / "o").exists()


def test_a_terminal_without_our_characters_does_not_break_it() -> None:
    how = {"PYTHONUTF8": "0", "PYTHONIOENCODING": "latin-1"}
    done = process("levels", "\u0141ubin: 0.2 ml per egg of 50 ml", "--eggs", "40 ml", **how)
    assert done.returncode == 0, done.stderr
    assert "?ubin: 0.2 ml" in done.stdout


def test_a_reader_that_stops_early_is_no_fault() -> None:
    code = "from baitwright.cli.main import main; main()"
    command = [sys.executable, "-c", code, *PLAN, "--json"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as door:
        assert door.stdout is not None
        assert door.stderr is not None
        door.stdout.close()
        said = door.stderr.read()
    assert b"our fault" not in said
    assert b"Traceback" not in said


def test_a_glugged_and_coated_bait_is_planned_with_both() -> None:
    recipe = EXAMPLES / "copper-wafter-glugged.toml"
    done = run("plan", str(recipe), str(BENCH), "--draws", "64")
    assert done.exit_code == 0, done.output
    assert "GLUG AND COAT" in done.output
    assert "Sweet malt glug" in done.output
