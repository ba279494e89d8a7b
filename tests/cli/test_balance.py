"""`baitwright balance` from outside."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.cli.test_commands import BENCH, RECIPE, run

ASKED = ["balance", str(RECIPE), str(BENCH)]


def test_a_rig_is_told() -> None:
    done = run(
        *ASKED,
        *("--link", "fluorocarbon 15 cm", "--parts", "bait stop", "--depth", "3.5 m"),
        *("--current", "0.1 m/s", "--hole", "1.5 mm"),
    )
    assert done.exit_code == 0, done.output
    for said in ("IN THE LAKE", "PVDF line", "bait stop", "on the bottom", "what the hole does"):
        assert said in done.stdout
    for said in ("WAYS TO A WAFTER", "MEASURE, DON'T GUESS", "±0.0058 g", "m along"):
        assert said in done.stdout
    assert max(map(len, done.stdout.splitlines())) <= 100
    assert "lead weights" not in done.stdout.lower()


def test_as_data() -> None:
    done = run(*ASKED, "--json", "--shot", "BB,2 x No 8, 0,05 g; SSG")
    assert done.exit_code == 0, done.output
    made = json.loads(done.stdout)
    assert made["rig"]["net"]["unit"] == "g"
    assert made["counterweight"] is None
    assert made["design"]["options"][0]["share"]["median"] > 50
    assert {one["id"] for one in made["protocols"]} == {"lift", "core-density", "paste-density"}


def test_lead_is_cautioned_about() -> None:
    done = run(*ASKED, "--metal", "lead")
    assert done.exit_code == 0, done.output
    assert "Lead weights between 0.06 g and 28.35 g" in " ".join(done.stdout.split())


@pytest.mark.parametrize(
    ("option", "value", "said"),
    [
        ("--depth", "-2 m", "depth: got '-2 m'"),
        ("--depth", "3", "depth"),
        ("--depth", "400 m", "from 0 m to 100 m"),
        ("--shot", "BX", "shot: got 'BX'"),
        ("--shot", "0 x BB", "at least one of each"),
        ("--shot", "0 g", "a weight above nothing"),
        ("--metal", "cheese", "metal: got 'cheese'"),
        ("--link", "15 cm", "link: got '15 cm'"),
        ("--link", "rope 15 cm", "link: got 'rope'"),
        ("--link", "braid 9 m", "up to 3 m"),
        ("--parts", "anchor", "parts: got 'anchor'"),
        ("--hole", "40 mm", "hole: got '40 mm'"),
        ("--salinity", "9 %", "salinity: got '9 %'"),
        ("--fastest", "0 m/s", "fastest: got '0 m/s'"),
        ("--slowest", "2 m/s", "slowest: got '2 m/s'"),
        ("--current", "-1 m/s", "current: got '-1 m/s'"),
        ("--carry", "80 g", "carry: got '80 g'"),
        ("--margin", "2 g", "margin: got '2 g'"),
    ],
)
def test_what_cannot_be_is_one_message(option: str, value: str, said: str) -> None:
    done = run(*ASKED, f"{option}={value}")
    assert done.exit_code == 2, done.output
    assert said in done.stderr
    assert len(done.stderr.splitlines()) == 1


def test_a_seal_needs_a_hole() -> None:
    done = run(*ASKED, "--sealed")
    assert done.exit_code == 2
    assert "a hole to seal" in done.stderr


def test_the_bench_file_tells_the_rig_and_an_option_wins() -> None:
    asked = ("balance", str(RECIPE), str(BENCH.with_name("bench-rig.toml")))
    filed = json.loads(run(*asked, "--json").stdout)
    typed = json.loads(run(*asked, "--json", "--depth", "0 m", "--parts", "bait screw").stdout)
    assert [one["label"] for one in filed["rig"]["pulls"]][-1] == "bait stop under water"
    assert [one["label"] for one in typed["rig"]["pulls"]][-1] == "bait screw under water"
    assert filed["rig"]["depth"]["median"] > 0.0 == typed["rig"]["depth"]["median"]
    assert filed["rig"]["hole"] == typed["rig"]["hole"]


def test_a_hole_too_wide_for_the_bait_is_said_where_it_stands(tmp_path: Path) -> None:
    bench = BENCH.with_name("bench-rig.toml")
    wide = tmp_path / "wide.toml"
    wide.write_text(bench.read_text(encoding="utf-8").replace('"1.5 mm"', '"9.9 mm"'))
    small = tmp_path / "small.toml"
    small.write_text(RECIPE.read_text(encoding="utf-8").replace('"15 mm"', '"10 mm"', 1))
    small.write_text(small.read_text(encoding="utf-8").replace('core = "9 mm"', 'core = "5 mm"'))
    filed = run("balance", str(small), str(wide))
    assert filed.exit_code == 2
    assert f"{wide}: rig.hole: got" in filed.stderr.replace("\n", "")
    typed = run("balance", str(small), str(bench), "--hole", "9.9 mm")
    assert "hole: got" in typed.stderr
    assert str(bench) not in typed.stderr


def test_help() -> None:
    assert "\n  balance " in run("--help").output
    assert run("balance", "--help").exit_code == 0
