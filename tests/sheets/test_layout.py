"""Headings in capitals, with the units in them as they are."""

from __future__ import annotations

import pytest

from baitwright.sheets.layout import heading


@pytest.mark.parametrize(
    ("title", "said"),
    [
        ("After 14 h", "AFTER 14 h"),
        ("Stated: 150 g", "STATED: 150 g"),
        ("Malt: 12 ml per kg dry mix", "MALT: 12 ml PER kg DRY MIX"),
        ("9 mm core, lake at 6 °C", "9 mm CORE, LAKE AT 6 °C"),
        ("What it holds (8 in 10 lots)", "WHAT IT HOLDS (8 IN 10 LOTS)"),
        ("2 good ones", "2 GOOD ONES"),
    ],
)
def test_a_heading_leaves_units_as_they_are(title: str, said: str) -> None:
    """By the SI brochure a unit's symbol keeps its case: g and G, m and M are not the same."""
    assert heading(title) == ["", said]
