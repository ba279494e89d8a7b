"""Cells that a spreadsheet would run are written as text, and come back as they were."""

from __future__ import annotations

import csv
import io

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from baitwright.workshop.told.spreadsheet import spreadsheet_text, text_of_cell


@pytest.mark.parametrize(
    "cell",
    [
        "=1+1",
        "+44 1632 960001",
        "-A1",
        "@SUM(A1)",
        "\t=1",
        "\r=1",
        "  =1",
        "＝1+1",
        "'=1",
        "-",
        "=",
    ],
)
def test_what_a_spreadsheet_would_run_gets_an_apostrophe(cell: str) -> None:
    assert spreadsheet_text(cell) == "'" + cell


@pytest.mark.parametrize("cell", ["semolina", "-5", "+2.50", "-1,5", "-1e-3", "'tis", "", "a=b", 3])
def test_what_it_would_not_run_stays_as_it_is(cell: object) -> None:
    assert spreadsheet_text(cell) == str(cell)


def test_nothing_is_an_empty_cell() -> None:
    assert spreadsheet_text(None) == ""


@given(st.text())
@example("''=1")
@example("'-5")
def test_every_text_comes_back_and_no_written_cell_starts_a_formula(text: str) -> None:
    written = spreadsheet_text(text)
    assert text_of_cell(written) == text
    started = written.lstrip(" ")[:1] in set("=+-@\t\r\n")
    assert not started or float(written.replace(",", ".")) is not None


@given(st.lists(st.text(alphabet=st.characters(exclude_categories=["Cs"])), min_size=1))
def test_a_line_of_a_csv_comes_back(cells: list[str]) -> None:
    file = io.StringIO(newline="")
    csv.writer(file).writerow([spreadsheet_text(cell) for cell in cells])
    (back,) = csv.reader(io.StringIO(file.getvalue(), newline=""))
    assert [text_of_cell(cell) for cell in back] == cells
