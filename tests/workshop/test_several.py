"""Several batches in one day: read, put in turn, told, and too late."""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import cache
from itertools import pairwise
from pathlib import Path
from textwrap import dedent

import pytest
from icalendar import Calendar

from baitwright.sheets.calendar import day_calendar
from baitwright.sheets.picture_days import days_picture
from baitwright.terms.errors import InputError
from baitwright.workshop.days.several import Several, arrange_day
from baitwright.workshop.days.several_file import read_day_file
from baitwright.workshop.days.several_shown import several_as_json, several_shown, write_day

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
MORNING = datetime(2026, 11, 28, 9, 0)


@cache
def usual() -> Several:
    return arrange_day(EXAMPLES / "day.toml", clock=lambda: MORNING)


@pytest.fixture(scope="module")
def late(tmp_path_factory: pytest.TempPathFactory) -> Several:
    """Two batches, one tray, and too early a start."""
    room = tmp_path_factory.mktemp("late")
    bench = (EXAMPLES / "bench-three-large-eggs.toml").read_text()
    hurried = bench.replace('"tomorrow 17:00"', '"tomorrow 5:00"')
    assert hurried != bench
    (room / "bench.toml").write_text(hurried)
    batches = (
        f"""
        [[batch]]
        recipe = "{(EXAMPLES / name).as_posix()}"
        bench = "bench.toml"
        """
        for name in ("copper-wafter.toml", "chalk-sinker.toml")
    )
    told = 'trays = 1\nasleep = "23:00 to 6:00"\n' + "".join(map(dedent, batches))
    (room / "day.toml").write_text(told)
    return arrange_day(room / "day.toml", clock=lambda: MORNING)


def test_hands_do_one_thing_at_a_time_and_nobody_is_up_at_night() -> None:
    made = usual()
    assert not made.is_late
    assert made.proved
    hands = sorted(
        (step.start, step.end)
        for plan in made.plans
        for step in plan.day.steps
        if step.name in ("mix", "roll and boil", "bag")
    )
    for (_, over), (begins, _) in pairwise(hands):
        assert over <= begins
    for begins, over in hands:
        assert 6 <= begins.hour < 23
        assert over <= over.replace(hour=23, minute=0)


def test_each_batch_keeps_its_own_steps_and_their_lengths() -> None:
    for plan in usual().plans:
        steps = plan.day.steps
        for one, following in pairwise(steps):
            assert one.end <= following.start
        names = [step.name for step in steps]
        assert names[-4:] == ["mix", "roll and boil", "dry", "bag"]
        rolled, dry = steps[names.index("roll and boil")], steps[names.index("dry")]
        assert rolled.end == dry.start, "wet baits do not lie about"


def test_one_without_a_leaving_leaves_with_the_other() -> None:
    wafter, sinker = usual().plans
    assert sinker.request.bench.leaving is None
    assert wafter.request.bench.leaving is not None
    assert sinker.day.steps[-1].end <= wafter.request.bench.leaving


def test_a_late_day_says_how_late_and_what_would_help(late: Several) -> None:
    assert late.is_late
    total = sum(late.late, timedelta(0))
    assert late.ways_out
    assert all(one.late < total for one in late.ways_out)
    assert any("wet" in one.name and not one.late for one in late.ways_out)
    text = several_shown(late)
    assert "LATE by" in text
    assert "WAYS OUT" in text


def test_text_and_json_tell_the_same_hours() -> None:
    told, text = several_as_json(usual()), several_shown(usual())
    for batch in told["batches"]:
        for step in batch["steps"]:
            assert datetime.fromisoformat(step["start"]).strftime("%H:%M") in text
    assert told["means"] == {"hands": 1, "pots": 1, "trays": 2}
    assert all(batch["late_min"] == 0.0 for batch in told["batches"])


def test_the_calendar_holds_every_step_once_and_moves_with_the_plan(tmp_path: Path) -> None:
    """RFC 5545: events of one UID are one event, so a day exported again replaces itself."""
    written, _ = write_day(usual(), tmp_path)
    events = Calendar.from_ical(written.read_bytes()).walk("VEVENT")
    steps = sum(len(plan.day.steps) for plan in usual().plans)
    assert len({str(one["uid"]) for one in events}) == len(events) == steps
    alone = {str(one["uid"]) for one in Calendar.from_ical(day_calendar(usual().plans[0])).walk()
             if "uid" in one}  # fmt: skip
    assert alone < {str(one["uid"]) for one in events}
    twice = Calendar.from_ical(day_calendar(usual().plans[0], usual().plans[0])).walk("VEVENT")
    assert len({str(one["uid"]) for one in twice}) == len(twice)


def test_the_strip_draws_every_step_to_scale_and_tells_it_in_words() -> None:
    picture = days_picture(usual().plans)
    steps = [step for plan in usual().plans for step in plan.day.steps]
    drawn = [one for one in picture.drawing.iter("rect") if one.get("class")]
    assert len(drawn) == len(steps) == len(picture.tables[0].rows)
    long = {float(one.attrib["width"]) / ((step.end - step.start) / timedelta(hours=1))
            for one, step in zip(drawn, steps, strict=True)}  # fmt: skip
    assert max(long) - min(long) < 0.05
    (said,) = picture.drawing.iter("desc")
    assert all(plan.request.recipe.name in str(said.text) for plan in usual().plans)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "batch"),
        ("asleep = 'late'\n[[batch]]\nrecipe='a'\nbench='b'", "23:00 to 6:00"),
        ("hands = 0\n[[batch]]\nrecipe='a'\nbench='b'", "hands"),
        ("[[batch]]\nrecipe='a'", "bench"),
        ("[[batch]]\nrecipe='a'\nbench='b'\n" * 9, "1 to 8"),
    ],
)
def test_a_day_that_cannot_be_read_says_where(tmp_path: Path, text: str, told: str) -> None:
    path = tmp_path / "day.toml"
    path.write_text(text)
    with pytest.raises(InputError, match=told):
        read_day_file(path)


def test_more_trays_than_there_are_is_told_with_the_file(tmp_path: Path) -> None:
    text = (EXAMPLES / "day.toml").read_text()
    here = text.replace('recipe = "', f'trays = 3\nrecipe = "{EXAMPLES.as_posix()}/')
    path = tmp_path / "day.toml"
    path.write_text(here.replace('bench = "', f'bench = "{EXAMPLES.as_posix()}/'))
    with pytest.raises(InputError, match=r"day\.toml.*trays for Copper wafter"):
        arrange_day(path, clock=lambda: MORNING)
