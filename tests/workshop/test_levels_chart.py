"""Levels for every grade of egg and for the wall: worked values, scaling, one page each."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st

from baitwright.cli.levels import levels as command
from baitwright.materials.eggs import contents_volume, grade
from baitwright.workshop.levels.levels import Levels, levels
from baitwright.workshop.levels.levels_chart import levels_chart, write_chart
from baitwright.workshop.levels.levels_grades import GradeRow, by_grade, grade_rows
from baitwright.workshop.levels.levels_request import Asked, understand
from tests.sheets.on_paper import assert_legible, needs_poppler
from tests.sheets.test_bench_sheet import read_back, words

NOW = datetime(2026, 11, 27, 9, 5, tzinfo=UTC)
EDGES = {"a4": 14, "a5": 9}  # mm
MALT = "Malt: 0.8 ml per egg of 50 ml"


def asked(*texts: str, eggs: str = "3 x 40 ml", **more: Any) -> Levels:
    return levels(understand(Asked(texts, eggs, **more)))


def graded(found: Levels) -> dict[str, GradeRow]:
    return {f"{row.system} {row.grade}": row for row in by_grade(found.answers[0], found)}


def test_one_letter_is_another_egg_in_another_country() -> None:
    rows = graded(asked(MALT))
    assert {row.system for row in rows.values()} == {"EU, UK", "US", "CA", "AU", "NZ", "ZA"}
    european, australian = rows["EU, UK L"], rows["AU L"]
    assert european.egg == (
        pytest.approx(contents_volume(0.063)),
        pytest.approx(contents_volume(0.073)),
    )
    assert european.dose[0] == pytest.approx(0.8e-6 / 50e-6 * contents_volume(0.063), rel=1e-12)
    assert australian.dose[1] < european.dose[0]


@given(st.floats(0.05, 4.0), st.integers(1, 30), st.floats(30.0, 65.0))
def test_an_egg_of_a_grade_gets_its_dose_whatever_is_in_the_bowl(
    amount: float, count: int, egg: float
) -> None:
    here = asked(f"{amount!r} ml per egg of 50 ml", eggs=f"{count} x {egg!r} ml")
    other = asked(f"{amount!r} ml per egg of 50 ml")
    for one, same in zip(graded(here).values(), graded(other).values(), strict=True):
        assert one.dose == pytest.approx(same.dose, rel=1e-12)


def test_a_grade_gets_what_is_asked_for_its_own_egg() -> None:
    volume = contents_volume(grade("US Large").mass)
    found = asked("12 ml per kg dry mix", eggs=f"1 x {volume * 1e6!r} ml", dry_mix="80 g per egg")
    row = graded(found)["US Large"]
    assert row.middle == pytest.approx(12e-6 * 0.080, rel=1e-9)


def test_dry_mix_nobody_weighed_widens_every_grade() -> None:
    known = graded(asked("12 ml per kg dry mix", dry_mix="66 g per egg"))["NZ 7"]
    found = asked("12 ml per kg dry mix")
    unknown = graded(found)["NZ 7"]
    assert unknown.dose[0] < known.dose[0] < known.dose[1] < unknown.dose[1]
    assert "of the dry mix; the ends are" in levels_chart(found, now=NOW).tables[1].remarks[0]


def test_the_chart_says_what_the_answer_says() -> None:
    found = asked(MALT, "Plum: 4 ml per egg of 50 ml", carriers=("propylene glycol",))
    chart = levels_chart(found, now=NOW)
    assert chart.tables[0].heading == "Malt, 0.8 ml per egg of 50 ml, eggs of 40 ml"
    assert chart.tables[0].groups[0].rows[2] == ("3", "1.92 ml", "1.9 ml in the 2 ml syringe")
    assert any(words.startswith("flagged: ") for words in chart.tables[2].remarks)
    european = chart.tables[1].groups[0].rows[0]
    assert european == ("EU, UK", "S: 0.653, M: 0.777, L: 0.915, XL: 1.03")
    dry, *together = chart.tables[-1].remarks
    assert dry.startswith("Dry mix: 56 to 76 g an egg (common practice, no source).")
    assert together[0].startswith("All liquids: ")


@needs_poppler
@pytest.mark.parametrize("paper", list(EDGES))
def test_one_level_is_one_page(tmp_path: Path, paper: str) -> None:
    found = asked(MALT, eggs="4 x EU M", carriers=("propylene glycol",))
    pdf = write_chart(tmp_path / "c.pdf", found, paper=paper, now=NOW).read_bytes()
    assert len(read_back(pdf).pages) == 1
    assert_legible(pdf, edge_mm=EDGES[paper])
    assert "9.5 ml in the 10 ml syringe" in words(pdf)
    again = write_chart(tmp_path / "d.pdf", found, paper=paper, now=NOW)
    assert again.read_bytes() == pdf


def test_the_command_tells_grades_and_writes_the_chart(tmp_path: Path) -> None:
    file = tmp_path / "wall.pdf"
    told = [MALT, "--eggs", "3 x 40 ml", "--table", "--pdf", str(file), "--paper", "a5"]
    result = CliRunner().invoke(command, told, catch_exceptions=False)
    assert "EU, UK S         37.4 to 44.3 ml  0.598 to 0.708 ml" in result.output
    assert result.output.endswith(f"written: {file}\n")
    assert file.read_bytes().startswith(b"%PDF")


def test_drops_stay_drops() -> None:
    found = asked("4 drops per egg of 50 ml", drops_per_ml=30.0)
    assert next(iter(grade_rows(found.answers[0], found)))[2] == "3 to 3.5 drops"
