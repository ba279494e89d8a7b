"""Names found by the words in them."""

from __future__ import annotations

import pytest

from baitwright.workshop.typed.nearest import nearest, plain_name

KNOWN = ["boil", "the pot boils at", "rolling_time", "lift of the bait alone, dried", "lift", "tub"]


@pytest.mark.parametrize(
    ("typed", "first"),
    [
        ("boil_time", "boil"),
        ("Boil", "boil"),
        ("lift_dried", "lift of the bait alone dried"),
        ("bait lift dryed", "lift of the bait alone dried"),
        ("tubs", "tub"),
        ("roling time", "rolling time"),
    ],
)
def test_words_are_found_anywhere(typed: str, first: str) -> None:
    assert nearest(typed, KNOWN)[0] == first


def test_what_shares_no_word_is_not_offered() -> None:
    assert nearest("xyzzy", KNOWN) == []
    assert nearest("", KNOWN) == []


def test_no_more_than_asked_for() -> None:
    assert len(nearest("boil", [f"boil {n}" for n in range(20)], most=3)) == 3


def test_hyphens_underscores_and_case_do_not_count() -> None:
    assert plain_name(" Tub_used-by  Me") == "tub used by me"
