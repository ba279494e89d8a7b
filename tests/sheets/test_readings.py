"""What is asked for to be weighed: only what can be, under its right name."""

from __future__ import annotations

from dataclasses import replace

from baitwright.recipe.bench import Room
from baitwright.sheets.bench_steps import stages
from baitwright.sheets.readings import actions
from baitwright.sheets.text import plan_text
from baitwright.uncertainty.bands import median_of
from tests.batch.kitchen import BENCH, planned


def test_a_night_on_the_tray_is_weighed_twice() -> None:
    words = [action.words for action in actions(planned())]
    assert "twenty baits, fresh and after 8 h" in words


def test_nothing_is_weighed_when_the_baits_have_left_the_tray() -> None:
    warm = replace(BENCH, room=Room(temperature=293.15, humidity=0.5, dryer=318.15))
    made = planned(bench=warm)
    assert median_of(made.dry.time) < 8 * 3600.0
    asked = actions(made)
    assert [one.name for one in made.prove] == [
        *("tub_used", "twenty_fresh", "cup_weight", "cup_rise")
    ]
    assert [action.words for action in asked][1] == "twenty fresh baits"
    assert "after 8 h" not in plan_text(made)
    steps = [step.do for stage in stages(made) for step in stage.steps]
    assert not any("after 8 h" in step for step in steps)
