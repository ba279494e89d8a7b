"""The day as a calendar file reads back as the plan's own steps, and updates in place."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import UTC, datetime, timedelta

from icalendar import Calendar, Component

from baitwright.batch.batch_plan import BatchPlan
from baitwright.recipe.bench import FromFreezer, Frozen
from baitwright.sheets.calendar import day_calendar
from baitwright.sheets.wording import to_the_minute
from tests.batch.kitchen import NOW, planned
from tests.sheets.kitchen import DAMP_BENCH, EGG_FREE_BENCH, USUAL_BENCH, USUAL_RECIPE


def events(plan: BatchPlan) -> list[Component]:
    return list(Calendar.from_ical(day_calendar(plan)).walk("VEVENT"))


def uids(plan: BatchPlan) -> list[str]:
    return [str(event["uid"]) for event in events(plan)]


def alarms(event: Component) -> list[tuple[str, timedelta, str]]:
    """Action, offset and which end of each alarm."""
    return [
        (
            str(alarm["action"]),
            alarm["trigger"].dt,
            str(alarm["trigger"].params.get("related", "START")),
        )
        for alarm in event.walk("VALARM")
    ]


def test_each_step_is_an_event_at_the_makers_own_clock(plan: BatchPlan) -> None:
    found = [(event["dtstart"].dt, event["dtend"].dt) for event in events(plan)]
    wanted = [(to_the_minute(step.start), to_the_minute(step.end)) for step in plan.day.steps]
    assert found == wanted
    assert not any(moment.second for moments in found for moment in moments)
    assert all(start.tzinfo is None for start, _ in found)


def test_events_are_named_by_bait_and_step(plan: BatchPlan) -> None:
    assert [str(event["summary"]) for event in events(plan)] == [
        f"Copper wafter: {step.name}" for step in plan.day.steps
    ]


def test_the_boil_is_told_in_seconds(plan: BatchPlan) -> None:
    seconds = plan.boil.seconds.value
    boil = next(event for event in events(plan) if str(event["summary"]).endswith("boil"))
    assert f"boil: {seconds:.0f} s" in str(boil["description"])


def test_without_eggs_the_bowl_is_told_by_what_is_weighed_into_it() -> None:
    told = str(events(planned(USUAL_RECIPE, EGG_FREE_BENCH))[0]["description"])
    assert re.search(r"egg albumen powder: \d+ g\nwater: \d+ g\n", told)
    assert "egg in the bowl" not in told


def test_a_tray_that_never_dries_rings_no_end() -> None:
    damp = planned(USUAL_RECIPE, DAMP_BENCH)
    by_step = {str(event["summary"]).partition(": ")[2]: event for event in events(damp)}
    assert alarms(by_step["dry"]) == []
    assert "96 h" not in str(by_step["dry"]["description"])
    assert "bag" not in by_step


def test_alarms_ring_before_the_first_step_and_when_pot_and_tray_are_done(plan: BatchPlan) -> None:
    by_step = {str(event["summary"]).partition(": ")[2]: alarms(event) for event in events(plan)}
    quarter = timedelta(minutes=15)
    assert by_step["eggs out"] == [("DISPLAY", -quarter, "START")]
    assert by_step["roll and boil"] == [("DISPLAY", timedelta(0), "END")]
    assert by_step["dry"] == [("DISPLAY", timedelta(0), "END")]
    assert by_step["mix"] == by_step["bag"] == []
    assert b"TRIGGER:-PT15M\r\n" in day_calendar(plan)


def test_exported_again_for_the_same_outing_the_events_move_and_do_not_double(
    plan: BatchPlan,
) -> None:
    later = planned(
        USUAL_RECIPE,
        replace(
            USUAL_BENCH,
            now=NOW + timedelta(hours=3),
            room=replace(USUAL_BENCH.room, temperature=288.15, humidity=0.85),
        ),
    )
    assert [step.start for step in later.day.steps] != [step.start for step in plan.day.steps]
    assert uids(later) == uids(plan)
    assert len(set(uids(plan))) == len(plan.day.steps)


def test_the_newer_of_two_exports_is_known_by_its_sequence(plan: BatchPlan) -> None:
    """RFC 5545, 3.8.7.4: of one UID the component of the higher SEQUENCE is the newer one."""
    later = planned(USUAL_RECIPE, replace(USUAL_BENCH, now=NOW + timedelta(minutes=1)))
    before, after = (
        {str(one["uid"]): int(one["sequence"]) for one in events(made)} for made in (plan, later)
    )
    assert before.keys() == after.keys()
    assert all(after[uid] == before[uid] + 60 for uid in before)
    assert all(0 <= number < 2**31 for number in after.values())


def test_leaving_at_another_hour_of_the_day_moves_the_events(plan: BatchPlan) -> None:
    leaving = USUAL_BENCH.leaving
    assert leaving is not None
    earlier = planned(USUAL_RECIPE, replace(USUAL_BENCH, leaving=leaving - timedelta(hours=1)))
    assert uids(earlier) == uids(plan)


def test_a_batch_of_the_notebook_keeps_its_events_whenever_it_leaves(plan: BatchPlan) -> None:
    other = planned(USUAL_RECIPE, replace(USUAL_BENCH, leaving=datetime(2026, 11, 29, 17, 0)))
    told = [
        [str(one["uid"]) for one in Calendar.from_ical(written).walk("VEVENT")]
        for written in (day_calendar(one, named=("2026-11-26/B1",)) for one in (plan, other))
    ]
    assert told[0] == told[1]
    assert not set(told[0]) & set(uids(plan))


def test_what_thaws_beside_a_batch_is_an_event_with_an_alarm() -> None:
    pack = FromFreezer(Frozen.HOOKBAITS)
    thaws = planned(USUAL_RECIPE, replace(USUAL_BENCH, frozen=(pack,)))
    (event,) = (one for one in events(thaws) if "thaw" in str(one["summary"]))
    assert event["dtend"].dt == USUAL_BENCH.leaving
    assert alarms(event) == [("DISPLAY", -timedelta(minutes=15), "START")]


def test_another_outing_or_recipe_has_events_of_its_own(plan: BatchPlan) -> None:
    leaving = datetime(2026, 11, 28, 17, 0)
    others = (
        planned(USUAL_RECIPE, replace(USUAL_BENCH, leaving=leaving)),
        planned(replace(USUAL_RECIPE, name="Another"), USUAL_BENCH),
    )
    for other in others:
        assert not set(uids(other)) & set(uids(plan))


def test_it_is_stamped_with_the_plans_now(plan: BatchPlan) -> None:
    assert {event["dtstamp"].dt for event in events(plan)} == {NOW.replace(tzinfo=UTC)}
    assert day_calendar(plan) == day_calendar(plan)


def test_names_are_escaped_and_lines_folded() -> None:
    name = "Copper; the long, long one\\with a path, " + "and more " * 12 + "ö"
    written = day_calendar(planned(replace(USUAL_RECIPE, name=name), USUAL_BENCH))
    lines = written.split(b"\r\n")
    assert all(len(line) <= 75 for line in lines)
    assert not any(b"\n" in line or b"\r" in line for line in lines)
    assert b"Copper\\; the long\\, long one\\\\with a path" in written.replace(b"\r\n ", b"")
    read = Calendar.from_ical(written).walk("VEVENT")[0]
    assert str(read["summary"]) == f"{name}: eggs out"


def test_a_plan_without_a_leaving_time_starts_now() -> None:
    forward = planned(USUAL_RECIPE, replace(USUAL_BENCH, leaving=None))
    assert events(forward)[0]["dtstart"].dt == NOW
    again = planned(
        USUAL_RECIPE, replace(USUAL_BENCH, leaving=None, now=NOW + timedelta(minutes=5))
    )
    assert uids(again) == uids(forward)
