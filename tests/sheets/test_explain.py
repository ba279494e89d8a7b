"""A number opened shows all it stands on, each thing once, and where it was read."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets.explain import explain, explain_plan, headlines
from baitwright.sources import source
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Origin, PerBatch, Quantity, given, unwrap
from baitwright.terms.units import GRAMS, Unit
from baitwright.uncertainty.bands import median_of, movers_of


def computed(
    name: str, value: Any, equation: str, unit: Unit = GRAMS, **inputs: Quantity
) -> Quantity:
    """A computed quantity as a declared function would leave it."""
    return Quantity(
        name=name,
        label=f"the {name}",
        value=value,
        unit=unit.si,
        shown=unit.shown,
        origin=Origin.COMPUTED,
        source="archimedes",
        evidence=Evidence.COMPUTED,
        equation=equation,
        note=f"a note on {name}",
        inputs=tuple(inputs.items()),
    )


EGG = given("egg", 0.165, label="egg here", unit=GRAMS)
DOUBLE = computed("double", 0.33, "2 egg", egg=EGG)
TOTAL = computed("total", 0.495, "double + egg", double=DOUBLE, rest=EGG)


def folded(text: str) -> str:
    return " ".join(text.split())


def test_a_small_number_opened_word_for_word() -> None:
    tree, _, books = explain(TOTAL).partition("\nSources\n")
    assert tree.splitlines() == [
        "the total: 495 g",
        "    double + egg",
        "    source: archimedes (computed)",
        "    note: a note on total",
        "  the double: 330 g",
        "      2 egg",
        "      source: archimedes (computed)",
        "      note: a note on double",
        "    egg here: 165 g [given]",
        "  rest = egg here: 165 g (see above)",
    ]
    assert folded(books) == folded(f"archimedes: {source('archimedes').citation}")


def test_what_was_made_twice_alike_is_one_and_what_differs_is_two() -> None:
    again = given("egg", 0.165, label="egg here", unit=GRAMS)
    other = given("egg", 0.200, label="egg here", unit=GRAMS)
    text = explain(computed("sum", 0.53, "a + b + c", a=EGG, b=again, c=other))
    assert text.count("165 g [given]") == 1
    assert text.count("165 g (see above)") == 1
    assert text.count("200 g [given]") == 1


def test_draws_show_their_band_and_what_moves_them() -> None:
    draws = PerBatch(np.linspace(0.9, 1.1, 101)[:, None])
    factor = Quantity(
        name="factor:egg",
        label="your factor",
        value=draws,
        unit="",
        shown="",
        origin=Origin.FACTOR,
        source="judgement",
        evidence=Evidence.JUDGEMENT,
    )
    moved = computed("moved", PerBatch(0.1 * draws.values), "0.1 factor", factor=factor)
    text = explain(moved)
    assert "the moved: 100 g (92 to 108)" in text
    assert "moved most by: your factor 100 %" in text
    assert "your factor: 1.00 (0.92 to 1.08) [factor]" in text


def test_records_and_words_are_named_without_a_value() -> None:
    run = computed(
        "run", object(), "diffusion", Unit("", ""), kind=given("k", "wafter", label="kind")
    )
    lines = explain(run).splitlines()
    assert lines[0] == "the run"
    assert "  kind = kind: wafter [given]" in lines


@pytest.mark.parametrize("which", ["dry mix", "boil", "lift", "tray"])
def test_every_input_of_a_plans_number_is_written_out_exactly_once(
    plan: BatchPlan, which: str
) -> None:
    opened = {
        "dry mix": plan.mix.dry_mix,
        "boil": plan.boil.seconds,
        "lift": plan.water.dried,
        "tray": plan.dry.time,
    }[which]
    text = explain(opened)
    lines = [line.strip() for line in text.splitlines()]
    parts = {identity(part): part for part in opened.walk()}
    assert len(parts) > 10
    missing = [part.label for part in parts.values() if not said(part, folded(text))]
    assert not missing
    # An equation is written under its quantity only, so it comes as often as such quantities do.
    for equation in {part.equation for part in parts.values()} & set(lines) - {""}:
        alike = sum(part.equation == equation for part in parts.values())
        assert (equation, lines.count(equation)) == (equation, alike)


def identity(part: Quantity) -> tuple[object, ...]:
    bare = unwrap(part.value)
    return part.name, part.label, bare.tobytes() if hasattr(bare, "tobytes") else str(bare)


def said(part: Quantity, text: str) -> bool:
    """Whether a text says all that is known of a quantity."""
    wanted = [part.label, part.equation, part.note]
    if part.source != "maker":
        wanted += [
            f"source: {part.source} ({part.evidence})",
            f"{part.source}: {source(part.source).citation}",
        ]
    return all(folded(words) in text for words in wanted)


def test_the_most_moving_unknowns_are_named_in_their_order(plan: BatchPlan) -> None:
    lift = plan.water.dried
    movers = movers_of(lift)
    assert movers
    said = ", ".join(f"{mover.label} {mover.share:.0%}".replace("%", " %") for mover in movers)
    assert f"moved most by: {said}" in folded(explain(lift))


def test_a_plan_opened_shows_each_headline_and_repeats_nothing(plan: BatchPlan) -> None:
    text = explain_plan(plan)
    flat = folded(text)
    assert not [quantity.label for quantity in headlines(plan) if quantity.label not in flat]
    notes = [part.note for quantity in headlines(plan) for part in quantity.walk() if part.note]
    once = "the last part goes in by feel; the tub weighed before and after is the measurement"
    assert once in notes
    assert flat.count(once) == 1


def test_no_line_is_wider_than_the_page(any_plan: BatchPlan) -> None:
    assert max(map(len, explain_plan(any_plan).splitlines())) <= 100


def test_a_lift_is_told_as_a_force_too(plan: BatchPlan) -> None:
    """1 gf is 9.80665 mN, standard gravity as the third CGPM (1901) laid it down."""
    opened = explain(plan.water.rig)
    force = float(opened.partition(" mN")[0].rpartition(" = ")[2])
    assert force == pytest.approx(9.80665e3 * median_of(plan.water.rig), abs=0.006)
    assert "mN" not in explain(plan.dry.mass)
