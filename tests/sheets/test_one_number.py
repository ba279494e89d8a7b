"""One number is one string: on the plan, the bench sheet, the calendar and where it is opened."""

from __future__ import annotations

import re

import pytest
from icalendar import Calendar

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.bench_steps import stages
from baitwright.sheets.calendar import day_calendar
from baitwright.sheets.explain import explain_plan, headlines
from baitwright.sheets.text import plan_text
from baitwright.sheets.text_short import in_short
from baitwright.sheets.wording import figure
from baitwright.terms.quantity import Quantity


def flat(text: str) -> str:
    return " ".join(text.split())


def on_every_sheet(plan: BatchPlan) -> dict[str, Quantity]:
    """What stands on the plan, the bench sheet and, where a step asks for it, in the calendar."""
    stirred = [part for lot in plan.eggs.lots for part in lot.parts]
    in_bowl = {part.name: part for part in stirred} or {"egg": plan.eggs.mass}
    return {
        **in_bowl,
        "dry mix": plan.mix.dry_mix,
        "pinch": plan.rolled.pinch,
        "baits": plan.rolled.baits,
        "boil": plan.boil.seconds,
        **({"tray": plan.dry.time} if plan.day.dries else {}),
        **{one.name: one.predicted for one in plan.prove},
    }


def rows_of(label: str, unit: str, text: str) -> set[str]:
    """Every number in a row of this label, or behind it in a list."""
    row = rf"^ *{re.escape(label)}(?: +|: )([+-]?[\d.]+) *{re.escape(unit)}"
    return set(re.findall(row, text, re.MULTILINE))


def described(plan: BatchPlan) -> str:
    events = Calendar.from_ical(day_calendar(plan)).walk("VEVENT")
    return "\n".join(str(event["description"]) for event in events)


def test_the_sheet_prints_the_strings_of_the_plan(any_plan: BatchPlan) -> None:
    text = flat(plan_text(any_plan))
    printed = {(step.number, step.unit) for stage in stages(any_plan) for step in stage.steps}
    for name, quantity in on_every_sheet(any_plan).items():
        shown = figure(quantity)
        assert (shown.number, shown.unit) in printed, name
        assert shown.text in text, name


def test_a_label_never_stands_with_two_numbers(any_plan: BatchPlan) -> None:
    written = "\n".join((plan_text(any_plan), described(any_plan)))
    opened = flat(explain_plan(any_plan))
    doses = {one.liquid.name for one in any_plan.doses.doses}  # drawn to a syringe's mark
    told = [quantity for quantity in headlines(any_plan) if quantity.label not in doses]
    assert sum(bool(rows_of(one.label, figure(one).unit, written)) for one in told) > 8
    for quantity in told:
        shown = figure(quantity)
        assert rows_of(quantity.label, shown.unit, written) <= {shown.number}, quantity.label
        assert f"{quantity.label}: {shown.with_band}" in opened


def test_the_calendar_prints_them_too(plan: BatchPlan) -> None:
    told = described(plan)
    for quantity in (plan.mix.dry_mix, plan.rolled.pinch, plan.boil.seconds, plan.dry.time):
        assert f"{quantity.label}: {figure(quantity).text}" in told


def test_the_plan_in_short_prints_them_too(any_plan: BatchPlan) -> None:
    short = flat(" ".join(in_short(any_plan)))
    for quantity in (any_plan.mix.dry_mix, any_plan.rolled.pinch, any_plan.boil.seconds):
        assert figure(quantity).text in short


def test_the_core_taken_has_the_numbers_of_the_bait(plan: BatchPlan) -> None:
    text = plan_text(plan)
    row = next(line for line in text.splitlines() if "(yours)" in line and " mm" in line)
    alone, rig, wish = (figure(one) for one in (plan.water.dried, plan.water.rig, plan.water.wish))
    assert flat(row) == f"9 mm (yours) {alone.with_band} {rig.with_band} {wish.text}"
    assert f"dried {alone.with_band}" in flat(text)


def test_the_band_of_the_pinch_is_one_everywhere(plan: BatchPlan) -> None:
    shown = figure(plan.rolled.pinch)
    pinch = next(
        step for stage in stages(plan) for step in stage.steps if step.do.startswith("Pinch")
    )
    assert pinch.number == shown.number
    row = f"{plan.rolled.pinch.label} {shown.number} g ({shown.band})"
    assert row in flat(plan_text(plan))
    assert f"{plan.rolled.pinch.label}: {shown.with_band}" in flat(explain_plan(plan))


@pytest.mark.parametrize("place", ["text", "opened"])
def test_shares_stand_with_a_space(plan: BatchPlan, place: str) -> None:
    written = plan_text(plan) if place == "text" else explain_plan(plan)
    own = "\n".join(
        line for line in written.splitlines() if "moved most" in line or "(yours)" in line
    )
    assert "%" in own
    assert not re.search(r"\d%", own)
