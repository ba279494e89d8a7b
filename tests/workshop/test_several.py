"""Several batches in one day: read, put in turn, told, and too late."""

from __future__ import annotations

from dataclasses import replace
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
from baitwright.uncertainty.bands import median_of
from baitwright.workshop.days.several import Several, arrange_day, arrange_works
from baitwright.workshop.days.several_file import read_day_file
from baitwright.workshop.days.several_shown import several_as_json, several_shown, write_day
from baitwright.workshop.days.works import Work

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
    told = 'trays = 2\nfreezer = "1 l"\nasleep = "23:00 to 6:00"\n' + "".join(map(dedent, batches))
    (room / "day.toml").write_text(told)
    return arrange_day(room / "day.toml", clock=lambda: MORNING)


def test_hands_do_one_thing_at_a_time_and_nobody_is_up_at_night() -> None:
    made = usual()
    assert not made.is_late
    assert made.proved
    assert [one.is_free_bait for one in made.works] == [False, False, True]
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
        assert names[names.index("mix") :][:4] == ["mix", "roll and boil", "dry", "bag"]
        rolled, dry = steps[names.index("roll and boil")], steps[names.index("dry")]
        assert rolled.end == dry.start, "wet baits do not lie about"


def test_one_without_a_leaving_leaves_with_the_other() -> None:
    wafter, sinker, _ = usual().plans
    assert sinker.request.bench.leaving is None
    assert wafter.request.bench.leaving is not None
    assert sinker.day.steps[-1].end <= wafter.request.bench.leaving


def test_a_late_day_says_how_late_and_what_would_help(late: Several) -> None:
    assert late.is_late
    total = sum(late.late, timedelta(0))
    assert late.ways_out
    assert all(one.hindered or one.late < total for one in late.ways_out)
    assert all(one.costs for one in late.ways_out)
    told = {one.name: one for one in late.ways_out}
    assert not told["dry them at the water"].late
    assert any(name.startswith("leave ") and name.endswith(" later") for name in told)
    text = several_shown(late)
    assert "LATE by" in text
    assert "WAYS OUT" in text


def test_a_freezer_that_is_too_small_hinders_freezing_wet(late: Several) -> None:
    (wet,) = (one for one in late.ways_out if one.name == "freeze them wet")
    assert "the freezer has 1 l" in wet.hindered
    assert "l of freezer" in wet.costs


def test_text_and_json_tell_the_same_hours() -> None:
    told, text = several_as_json(usual()), several_shown(usual())
    for batch in told["batches"]:
        for step in batch["steps"]:
            assert datetime.fromisoformat(step["start"]).strftime("%H:%M") in text
    means = {"hands": 1, "pots": 1, "trays": 8, "fans": 0, "fan_trays": 2, "freezer_l": 20.0}
    assert told["means"] == pytest.approx(means)
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
    here = text.replace('recipe = "', f'trays = 9\nrecipe = "{EXAMPLES.as_posix()}/')
    path = tmp_path / "day.toml"
    path.write_text(here.replace('bench = "', f'bench = "{EXAMPLES.as_posix()}/'))
    with pytest.raises(InputError, match=r"day\.toml.*trays for Copper wafter"):
        arrange_day(path, clock=lambda: MORNING)


def day(room: Path, head: str, *tables: str) -> Several:
    """A day of the example's wafter, told by fields of the kitchen and of each table."""
    files = f"""
        recipe = "{(EXAMPLES / "copper-wafter.toml").as_posix()}"
        bench = "{(EXAMPLES / "bench-three-large-eggs.toml").as_posix()}"
    """
    (room / "day.toml").write_text(head + "".join(f"\n{one}\n{dedent(files)}" for one in tables))
    return arrange_day(room / "day.toml", clock=lambda: MORNING)


def test_free_baits_are_a_batch_of_their_own(tmp_path: Path) -> None:
    """Solid, of so much dry mix as was told, rolled on a table, into the freezer until leaving."""
    free = '[[free_bait]]\ndry_mix = "1 kg"\nfrozen = "dried"'
    made = day(tmp_path, "", "[[batch]]", free)
    hookbait, baits = made.works
    recipe = baits.plan.request.recipe
    assert (recipe.bait.core, recipe.hardener, recipe.sieve) == (None, None, None)
    eggs = baits.plan.eggs
    one_egg = median_of(baits.plan.mix.per_egg)
    assert 1.0 <= median_of(baits.plan.mix.dry_mix) < 1.0 + 1.05 * one_egg, eggs.count
    pace = median_of(baits.plan.day.baits) / median_of(baits.plan.day.rolling)
    assert pace > 5.0 * median_of(hookbait.plan.day.baits) / median_of(hookbait.plan.day.rolling)
    freeze = baits.plan.day.steps[-1]
    assert (freeze.name, freeze.end) == ("freeze", hookbait.leaving)
    assert baits.trays > hookbait.trays
    assert baits.name in several_shown(made)


def test_one_fan_serves_one_batch_after_the_other(tmp_path: Path) -> None:
    room = "fans = 1\nfan_trays = 2\n"
    made = day(tmp_path, room, *2 * ["[[batch]]\ntrays = 2\nfan = true"])
    dries = sorted(
        (one.start, one.end)
        for work in made.works
        for one in work.plan.day.steps
        if one.name == "dry"
    )
    assert dries[0][1] <= dries[1][0]
    assert "our judgement" in several_shown(made)


def test_a_fan_for_fewer_trays_than_a_batch_fills_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"fan for Copper wafter, dry.*0 at most"):
        day(tmp_path, "", "[[batch]]\ntrays = 1\nfan = true")


def test_a_freezer_too_small_for_one_is_told_with_its_litres(tmp_path: Path) -> None:
    with pytest.raises(InputError, match=r"freezer for Copper wafter, freeze.*0\.5 at most"):
        day(tmp_path, 'freezer = "0.5 l"\n', '[[batch]]\nfrozen = "wet"')


def test_more_freezer_is_never_later(tmp_path: Path) -> None:
    """Two batches stay frozen until leaving: too little for both and one of them is late."""
    total, told = [], ""
    for litres in ("1 l", "1.5 l", "3 l"):
        made = day(tmp_path, f'freezer = "{litres}"\n', *2 * ['[[batch]]\nfrozen = "wet"'])
        total.append(sum(made.late, timedelta(0)))
        told = told or several_shown(made)
    assert total == sorted(total, reverse=True)
    assert total[0] > total[-1] == timedelta(0)
    assert "The freezer is too small for all of it at once" in told
    assert "Room in another freezer: in time" in told


def test_later_leaving_never_begins_sooner() -> None:
    """The same works with an hour more each time, by the same arrangement."""
    works, kitchen, first = usual().works, usual().kitchen, []
    leaving = works[0].leaving
    assert leaving is not None
    for hours in (0, 1, 5):
        moved = [at_leaving(one, leaving + timedelta(hours=hours)) for one in works]
        made = arrange_works(moved, kitchen, since=usual().since)
        first.append(min(one.plan.day.steps[0].start for one in made.works))
    assert first == sorted(first)


def at_leaving(work: Work, leaving: datetime) -> Work:
    request = work.plan.request
    bench = replace(request.bench, leaving=leaving)
    return replace(work, plan=replace(work.plan, request=replace(request, bench=bench)))


def test_what_thaws_comes_out_when_somebody_is_up(tmp_path: Path) -> None:
    bench = (EXAMPLES / "bench-three-large-eggs.toml").read_text()
    packs = '\n[[frozen]]\nwhat = "paste"\n[[frozen]]\nwhat = "hookbaits"\nthaws_in = "room"\n'
    (tmp_path / "bench.toml").write_text(bench + packs)
    recipe = (EXAMPLES / "copper-wafter.toml").as_posix()
    told = f'asleep = "23:00 to 6:00"\n[[batch]]\nrecipe = "{recipe}"\nbench = "bench.toml"\n'
    (tmp_path / "day.toml").write_text(told)
    made = arrange_day(tmp_path / "day.toml", clock=lambda: MORNING)
    (work,) = made.works
    thaw, mix = work.plan.day.steps[:2]
    assert (thaw.name, mix.name) == ("thaw", "mix")
    assert thaw.end <= mix.start
    assert 6 <= thaw.start.hour < 23
    (beside,) = work.plan.day.beside
    assert beside.end <= (work.leaving or beside.end)
    text = " ".join(several_shown(made).split())
    assert "thaw hookbaits" in text
    assert "thawing of paste" in text
    assert len(days_picture(made.plans).tables[0].rows) == len(work.plan.day.steps) + 1
