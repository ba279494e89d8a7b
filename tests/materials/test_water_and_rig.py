"""What a bait is called, what hangs on it, and the cautions on the way."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.materials.cautions import STAGES, TRIGGERS, Caution, cautions, raised
from baitwright.materials.cores import core, cores
from baitwright.materials.hooks import hook, hooks, line, lines, shots, weight, weights
from baitwright.materials.kinds import (
    bait_kind,
    bait_kinds,
    lift_alone,
    lift_on_rig,
    lift_words,
)
from baitwright.materials.tables import Row
from baitwright.terms.errors import InputError

GRAM = 1e-3
lifts = st.floats(-2 * GRAM, 2 * GRAM)


@given(lifts)
def test_every_lift_has_one_word_alone_and_one_on_the_rig(lift: float) -> None:
    for about, chosen in (("alone", lift_alone(lift)), ("rig", lift_on_rig(lift))):
        words = [word for word in lift_words().values() if word.about == about]
        assert [word for word in words if word.covers(lift)] == [chosen]


@given(lifts, lifts)
def test_more_lift_never_sinks_more(one: float, other: float) -> None:
    order = ["sinks", "hangs", "floats"]
    less, more = sorted((one, other))
    assert order.index(lift_alone(less).id) <= order.index(lift_alone(more).id)


@pytest.mark.parametrize(
    ("alone", "rig", "expected"),
    [
        (0.30, 0.07, "pop-up"),
        (0.23, 0.0, "pop-up"),
        (0.07, -0.15, "wafter"),
        (0.0, -0.22, "wafter"),
        (-0.05, -0.28, "sinker"),
        (-0.05, -0.90, "sinker"),
        (0.03, -0.50, None),
    ],
)
def test_names_follow_from_two_facts(alone: float, rig: float, expected: str | None) -> None:
    kind = bait_kind(alone * GRAM, rig * GRAM)
    assert (kind.id if kind else None) == expected


def test_kinds_use_words_that_exist() -> None:
    words = lift_words()
    for kind in bait_kinds().values():
        assert all(words[name].about == "alone" for name in kind.alone)
        assert all(words[name].about == "rig" for name in kind.on_rig)


def test_a_hook_of_size_six() -> None:
    six = hook(6)
    assert six.mass == pytest.approx(0.2589 * GRAM, abs=5e-8)
    assert weight("steel").submerged(six.mass, 999.7) == pytest.approx(0.226 * GRAM, abs=1e-7)
    assert hook("size 6") is six
    with pytest.raises(InputError, match="2, 4, 6, 8, 10, 12"):
        hook(7)


def test_a_smaller_hook_is_lighter() -> None:
    rows = sorted(hooks().values(), key=lambda row: row.size)
    assert [row.mass for row in rows] == sorted((row.mass for row in rows), reverse=True)


def test_weights_and_lines_lie_in_their_bands() -> None:
    for row in [*weights().values(), *lines().values()]:
        assert row.low <= row.density <= row.high
    for shot in shots().values():
        assert shot.low < shot.mass < shot.high
    assert line("braid").density < 1000.0
    assert [row.id for row in weights().values() if not row.non_toxic] == ["lead"]


def test_cores() -> None:
    ball = core("cork ball")
    assert ball is cores()["cork-ball"]
    assert ball is not None
    assert ball.density == pytest.approx(200.0)
    assert ball.diameters == pytest.approx([size * 1e-3 for size in range(4, 15)])
    assert core("None") is None
    with pytest.raises(InputError, match="cork-ball"):
        core("cork bal")


@pytest.mark.parametrize("row", cautions().values(), ids=lambda row: row.id)
def test_a_caution_is_short_dated_and_never_advice_of_law(row: Caution) -> None:
    assert isinstance(row, Row)
    assert row.checked_on == "2026-11"
    assert row.country
    assert row.text.endswith(".")
    assert len(row.text) < 220
    if row.country != "any" and row.trigger not in {"raw-egg", "always"}:
        assert "check with your local authority" in row.text


def test_every_stage_and_trigger_has_its_caution() -> None:
    assert {row.stage for row in cautions().values()} == set(STAGES)
    assert {row.trigger for row in cautions().values()} == set(TRIGGERS)


def test_cautions_are_raised_in_the_order_of_the_work() -> None:
    found = raised({"raw-egg", "hot-water", "flash-point-below-60C"}, "GB")
    assert [STAGES.index(row.stage) for row in found] == sorted(
        STAGES.index(row.stage) for row in found
    )
    ids = {row.id for row in found}
    assert {"eggs-hands", "flash-point", "scald", "not-food"} <= ids
    assert "eggs-keep" not in ids
    assert "lead-gb" not in ids


def test_a_country_narrows_and_none_shows_all() -> None:
    everywhere = {row.id for row in raised({"lead-shot"})}
    britain = {row.id for row in raised({"lead-shot"}, "GB")}
    assert {"lead-gb", "lead-other", "lead-canada"} <= everywhere
    assert "lead-other" not in britain
    assert "lead-gb" in britain


def test_an_unknown_trigger_is_our_slip() -> None:
    with pytest.raises(ValueError, match="thunder"):
        raised({"thunder"})
