"""What is written as TOML is read again as it was, by the standard library."""

from __future__ import annotations

import tomllib
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.workshop.typed.toml_text import toml_text

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
PLAIN = (
    st.booleans()
    | st.integers(-(2**63), 2**63 - 1)
    | st.floats(allow_nan=False)
    | TEXT
    | st.dates()
    | st.times()
    | st.datetimes(min_value=datetime(1000, 1, 1))
)
VALUES = st.recursive(
    PLAIN, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(TEXT, inner, max_size=3)
)


@given(st.dictionaries(TEXT, VALUES, max_size=4))
def test_any_table_comes_back(table: dict[str, Any]) -> None:
    assert tomllib.loads(toml_text(table)) == table


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda one: one.stem)
def test_every_example_comes_back(path: Path) -> None:
    told = tomllib.loads(path.read_text(encoding="utf-8"))
    assert tomllib.loads(toml_text(told)) == told


def test_it_reads_as_a_maker_would_write_it() -> None:
    table = {
        "name": "Copper wafter",
        "bait": {"diameter": "15 mm", "core": {"count": 3}},
        "liquid": [{"name": "Malt"}, {"name": "Caraway oil"}],
        "made": date(2026, 11, 27),
        "at": time(17, 0),
    }
    assert toml_text(table) == (
        'name = "Copper wafter"\nmade = 2026-11-27\nat = 17:00:00\n'
        '\n[bait]\ndiameter = "15 mm"\n\n[bait.core]\ncount = 3\n'
        '\n[[liquid]]\nname = "Malt"\n\n[[liquid]]\nname = "Caraway oil"\n'
    )
