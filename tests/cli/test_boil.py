"""`baitwright boil` from outside."""

from __future__ import annotations

import json
from pathlib import Path

from tests.cli.test_commands import BENCH, RECIPE, run

ASKED = ["boil", str(RECIPE), str(BENCH), "--sizes", "15 mm, 16 mm", "--cores", "none, 9 mm"]


def test_a_table_is_printed() -> None:
    done = run(*ASKED)
    assert done.exit_code == 0, done.output
    assert "no core" in done.stdout
    assert not done.stderr


def test_as_data_with_its_page(tmp_path: Path) -> None:
    page = tmp_path / "build" / "table.pdf"
    done = run(*ASKED, "--json", "--pdf", str(page))
    assert done.exit_code == 0, done.output
    assert len(json.loads(done.stdout)["cells"]) == 4
    assert f"written: {page}" in done.stderr
    assert page.read_bytes().startswith(b"%PDF")


def test_wrong_input_is_one_message_and_nothing_written(tmp_path: Path) -> None:
    page = tmp_path / "table.pdf"
    done = run("boil", str(RECIPE), "--sizes", "15", "--pdf", str(page))
    assert done.exit_code == 2
    assert "sizes" in done.stderr
    assert not page.exists()


def test_help() -> None:
    assert "\n  boil " in run("--help").output
    assert run("boil", "--help").exit_code == 0
