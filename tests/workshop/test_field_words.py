"""Names of fields in words, and what stands in a list of records."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from baitwright.notebook.page import Revision
from baitwright.sources import key_said, source_keys
from baitwright.workshop.forms.form import WRITTEN
from baitwright.workshop.forms.form_lists import line_of
from baitwright.workshop.told.field_words import words_of

NOW = datetime(2026, 11, 28, 14, 0, tzinfo=UTC)


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("twenty_at_8h", "twenty at 8 h"),
        ("twenty_at_24h", "twenty at 24 h"),
        ("no_vat", "no VAT"),
        ("water_temperature", "water temperature"),
    ],
)
def test_a_field_is_called_in_words(name: str, said: str) -> None:
    assert words_of(name) == said


def test_one_bite_is_no_bites() -> None:
    told = {"water": "Long Reedpool", "bites": 1, "fish": 1, "lost": 0}
    one = Revision("night", "2026-11-25/1", 1, NOW, "", {WRITTEN: told})
    assert line_of(one) == "Long Reedpool, 1 bite, 1 fish, 0 lost"


def test_rules_of_a_water_are_told_with_their_names() -> None:
    told = {"nuts": "banned", "free_bait_most": "3 kg"}
    one = Revision("water", "Long Reedpool", 1, NOW, "", {WRITTEN: told})
    assert line_of(one) == "nuts banned, free bait most 3 kg"


def test_what_no_document_says_is_said_in_words() -> None:
    assert {"common-practice", "recalled", "fda-egg-advice"} <= source_keys()
    said = [key_said(key) for key in ("common-practice", "recalled", "fda-egg-advice")]
    assert said == ["common practice", "remembered", "fda-egg-advice"]
