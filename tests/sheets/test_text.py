"""The plan in the terminal says everything a maker acts on, in order, and marks what is assumed."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import timedelta

import pytest

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.text import plan_text
from baitwright.sheets.wording import MARK, clock, figure, weekday
from baitwright.sources import key_said
from baitwright.terms.quantity import Origin
from tests.batch.kitchen import NOW, planned
from tests.sheets.kitchen import DAMP_BENCH, USUAL_BENCH, USUAL_RECIPE

ORDER = (
    "EGGS",
    "MIX",
    "DOSES",
    "ROLL",
    "BOIL",
    "DRY",
    "KEEP",
    "IN THE WATER",
    "DAY",
    "FREE BAIT",
    "CARE",
    "PROVE",
)


def headings(text: str) -> list[str]:
    return [line for line in text.splitlines() if line in ORDER]


def flat(text: str) -> str:
    return " ".join(text.split())


def section(text: str, title: str) -> str:
    """One section of the plan, its lines joined."""
    lines = text.splitlines()
    start = lines.index(title)
    end = next((at for at in range(start + 1, len(lines)) if lines[at] in ORDER), len(lines))
    return flat("\n".join(lines[start:end]))


def test_the_sections_stand_in_the_makers_order(plan: BatchPlan) -> None:
    assert headings(plan_text(plan)) == list(ORDER)


def test_what_is_not_wanted_has_no_section() -> None:
    text = plan_text(planned(replace(USUAL_RECIPE, liquids=(), free_bait=None), USUAL_BENCH))
    assert headings(text) == [title for title in ORDER if title not in ("DOSES", "FREE BAIT")]


def test_no_line_is_wider_than_the_page(any_plan: BatchPlan) -> None:
    assert max(map(len, plan_text(any_plan).splitlines())) <= 100


def test_nothing_is_broken_and_nothing_is_promised(any_plan: BatchPlan) -> None:
    text = plan_text(any_plan)
    assert not re.search(r"\b(nan|None|inf|safe|compliant)\b", text, re.IGNORECASE)
    assert "Quantity(" not in text


def test_every_default_is_named_and_marked(any_plan: BatchPlan) -> None:
    text = flat(plan_text(any_plan))
    steps = {step.name for step in any_plan.day.steps}
    spans = {"eggs_out": "eggs out", "bagging_time": "bag"}
    defaults = {
        part.label
        for quantity in any_plan.quantities()
        for part in quantity.walk()
        if part.origin is Origin.DEFAULT and spans.get(part.name, "mix") in steps
    }
    assert len(defaults) > 20
    marked = {label for label in defaults if re.search(_marked(label), text)}
    assert marked == defaults


def _marked(label: str) -> str:
    """A label followed by its value and the mark, with no other entry between."""
    return rf"{re.escape(label)}[^;{re.escape(MARK)}]*{re.escape(MARK)}"


def test_what_was_stated_bears_no_mark(plan: BatchPlan) -> None:
    text = flat(plan_text(plan))
    assert not re.search(_marked("lake temperature"), text)


def test_the_bridge_is_never_hidden(any_plan: BatchPlan) -> None:
    assert re.search(r"\d+ g dry mix per egg, \d+ ml an egg", plan_text(any_plan))


def test_each_dose_is_drawn_to_a_mark_that_the_syringe_has(plan: BatchPlan) -> None:
    doses = section(plan_text(plan), "DOSES")
    drawn = [one for one in plan.doses.doses if one.fill is not None]
    assert len(drawn) == 2
    for one in drawn:
        assert one.fill is not None
        row = rf"{one.liquid.name} (\S+) ml {re.escape(one.fill.tool.name)} ±\S+ %"
        found = re.search(row, doses)
        assert found, doses
        marks = float(found[1]) / (one.fill.tool.graduation * 1e6)
        assert marks == pytest.approx(round(marks), abs=1e-6)


def test_how_far_off_a_dose_may_be_says_how_surely(plan: BatchPlan) -> None:
    doses = section(plan_text(plan), "DOSES")
    assert re.match(r"DOSES measure with within, level 19 of 20 ", doses)
    for one in plan.doses.doses:
        if one.error is not None:
            assert "19 batches of 20" in one.error.label
            assert f"±{figure(one.error).text}" in doses


def test_a_thick_extract_is_weighed_or_spooned(plan: BatchPlan) -> None:
    assert re.search(
        r"Yeast extract \S+ g on the scale, or \d x ", section(plan_text(plan), "DOSES")
    )


def test_every_hardness_shows_what_it_costs(plan: BatchPlan) -> None:
    boil = section(plan_text(plan), "BOIL")
    found = [
        (int(seconds), int(lost))
        for seconds, lost in re.findall(r"(?:normal|hard)(?: \(yours\))? (\d+) s (\d+) %", boil)
    ]
    assert len(found) == 3
    assert found == sorted(found)
    assert found[0] < found[-1]


def test_lift_is_told_in_hundredths_of_a_gram_with_its_sign(plan: BatchPlan) -> None:
    water = section(plan_text(plan), "IN THE WATER")
    assert re.search(
        r"lift of the bait alone, dried [+-]0\.\d\d g \([+-]0\.\d\d to [+-]0\.\d\d\)", water
    )
    shares = [float(share) for share in re.findall(r"([\d.]+) % (?:floats|hangs|sinks)", water)]
    assert len(shares) == 3
    assert sum(shares) == pytest.approx(100.0, abs=1.0)


def test_every_note_stands_in_the_plan_once(any_plan: BatchPlan) -> None:
    text = flat(plan_text(any_plan))
    assert any_plan.notes
    for note in any_plan.notes:
        assert text.count(flat(f"{note.text} [{key_said(note.source)}]")) == 1


def test_a_note_of_no_known_stage_is_not_lost(plan: BatchPlan) -> None:
    stray = replace(plan.notes[0], stage="moon", text="Something else.")
    text = plan_text(replace(plan, notes=(*plan.notes, stray)))
    assert "NOTES" in text
    assert "Something else." in text


def test_cautions_carry_place_date_and_source(plan: BatchPlan) -> None:
    care = section(plan_text(plan), "CARE")
    for caution in plan.care.cautions:
        place = "" if caution.country == "any" else f"{caution.country.replace(';', ',')}: "
        ask = f" Ask {caution.ask}." if caution.ask else ""
        names = plan.care.raised_by(caution)
        bottles = f" ({', '.join(names)})" if names else ""
        behind = f"[{caution.checked_on}, {key_said(caution.source)}]"
        said = f"{place}{caution.text}{bottles}{ask} {behind}"
        assert flat(said) in care
    assert "No country was told" in care


def test_allergens_are_named_and_an_unknown_mix_is_said_to_be_unknown() -> None:
    text = plan_text(planned(USUAL_RECIPE, USUAL_BENCH))
    assert "Contains: cereals containing gluten, eggs, soybeans." in text
    bought = planned(replace(USUAL_RECIPE, base=replace(USUAL_RECIPE.base, parts=())), USUAL_BENCH)
    assert "read its bag for allergens" in flat(plan_text(bought))


def test_the_readings_come_with_their_bands(plan: BatchPlan) -> None:
    prove = section(plan_text(plan), "PROVE")
    assert len(plan.prove) >= 3
    for reading in plan.prove:
        assert reading.how in prove
        assert re.search(rf"{re.escape(reading.predicted.label)} \S+ g \(\S+ to \S+\)", prove)


def test_three_things_are_asked_for_and_their_readings_lettered(plan: BatchPlan) -> None:
    prove = section(plan_text(plan), "PROVE")
    places = [
        prove.index(said)
        for said in (
            "3 things to do",
            "1 The tub, before and after",
            "2 Twenty baits",
            "(a) Weigh twenty baits",
            "(b) Weigh the same twenty",
            "3 One dried bait",
            "(a) Weigh one dried bait",
            "(b) Push the same bait under",
        )
    ]
    assert places == sorted(places)


def test_the_free_bait_is_weighed_where_the_hookbait_is(plan: BatchPlan) -> None:
    assert plan.free_bait is not None
    free = section(plan_text(plan), "FREE BAIT")
    assert "not sieved and without hardener" in free
    for dose in plan.free_bait.doses:
        amount = figure(dose.mass if dose.by_weight else dose.volume)
        assert f"{dose.name}, free bait {amount.text}" in free
    assert [dose.by_weight for dose in plan.free_bait.doses] == [False, False, True]
    assert re.search(r"Yeast extract, free bait \d+ g ", free)


def test_a_sieve_goes_by_its_name() -> None:
    fine = planned(replace(USUAL_RECIPE, sieve="iso-1.00"), USUAL_BENCH)
    mix = section(plan_text(fine), "MIX")
    assert "test sieve 1 mm" in mix
    assert "iso-" not in mix


def test_steps_stand_by_the_clock(plan: BatchPlan) -> None:
    day = section(plan_text(plan), "DAY")
    for step in plan.day.steps:
        assert f"{clock(step.start)} to {clock(step.end)} {step.name}" in day
    first = plan.day.steps[0]
    assert f"(eggs out {weekday(first.start)} {clock(first.start)})" in day
    assert re.search(r"On time: start in \d+ h \d\d min \(", day)
    assert "LATE" not in day


def test_being_late_is_said_on_top_and_in_the_day() -> None:
    late = planned(USUAL_RECIPE, replace(USUAL_BENCH, leaving=NOW + timedelta(hours=6)))
    text = plan_text(late)
    head = text.split("\nEGGS\n")[0]
    assert "LATE by" in head
    assert "LATE by" in section(text, "DAY")


def test_a_plan_without_a_leaving_time_is_neither_late_nor_on_time() -> None:
    text = plan_text(planned(USUAL_RECIPE, replace(USUAL_BENCH, leaving=None)))
    assert "Leaving" not in text
    assert "LATE" not in text
    assert "On time" not in text


def test_air_in_which_nothing_dries_is_told_and_gains_are_called_gains() -> None:
    text = plan_text(planned(USUAL_RECIPE, DAMP_BENCH))
    dry = section(text, "DRY")
    assert "does not dry here" in dry
    assert "leave on the tray" not in dry
    assert "weight gained by the paste" in dry
    assert re.search(r"8 h gains \d\.\d % \(\d\.\d to \d\.\d\)", dry)
    assert not re.search(r"-\d", dry)
    day = section(text, "DAY")
    assert re.search(r"from \d\d:\d\d dry", day)
    assert "Bag by outing" not in day
    assert "does not dry here" in text.split("\nIN SHORT\n")[0]
    assert "does not dry here" in section(text, "IN SHORT")


def test_what_is_invented_says_so() -> None:
    assert "Invented demo" in plan_text(planned(USUAL_RECIPE, USUAL_BENCH))
    real = replace(USUAL_RECIPE, invented=False)
    assert "nvented" not in plan_text(planned(real, USUAL_BENCH))


def test_a_wish_in_baits_is_answered_in_eggs() -> None:
    wish = replace(USUAL_BENCH, eggs=(), baits_wanted=120)
    assert "eggs to take for 120 baits" in flat(plan_text(planned(USUAL_RECIPE, wish)))


def test_the_same_plan_prints_the_same_text(plan: BatchPlan) -> None:
    assert plan_text(plan) == plan_text(plan)
