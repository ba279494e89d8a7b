"""The levels answer as a maker reads it."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.materials.tools import Draw
from baitwright.quantities import from_si, show, tidy
from baitwright.recipe.dosing import article, asks_its_kind, thinner
from baitwright.recipe.levels import Measure
from baitwright.workshop.levels import Answer, Levels
from baitwright.workshop.unstated import CARRIER, SHOWN

UNSTATED = ", not stated *"
COVERAGE = 2.0
"""Standard errors that hold a result in 19 cases of 20 (gum-2008, 6.3.3)."""


def levels_text(found: Levels, *, table: bool = False) -> str:
    """The whole answer; with ``table`` also the dose for 1 to 12 eggs."""
    lines = [_eggs(found), _dry_mix(found)]
    for answer in found.answers:
        lines += ["", *_answer(answer, found)]
        if table:
            lines += ["", *_table(answer, found)]
    if len(found.answers) > 1:
        total, each = (show(one, "ml") for one in (found.liquids, found.liquids / found.bowl.count))
        share = f"{show(found.share, '%', 2)} of the paste"
        lines += ["", f"All liquids: {total}, {each} an egg, {share}."]
    return "\n".join(lines)


def _eggs(found: Levels) -> str:
    bowl = found.bowl
    half = COVERAGE * bowl.volume.relative
    doubt = f", give or take {tidy(100 * half, 2)} %" if half else ""
    if bowl.counted:
        count = f"{bowl.count:g} of {show(bowl.per_egg, 'ml')}"
    else:
        count = f"not counted, taken as {tidy(bowl.count, 2)} of {show(bowl.per_egg, 'ml')}"
    return f"Eggs: {show(bowl.volume.value, 'ml')} in the bowl{doubt} ({count})."


def _dry_mix(found: Levels) -> str:
    low, high = found.bridges.low.dry_mix, found.bridges.high.dry_mix
    if low == high:
        return f"Dry mix: {show(low, 'g')} an egg, as you say."
    return (
        f"Dry mix: {_between(low, high, 'g')} an egg (common practice, no source). "
        "Weigh the tub before and after to know yours."
    )


def _answer(answer: Answer, found: Levels) -> Iterator[str]:
    dose, liquid, unnamed = answer.dose, answer.liquid, answer.liquid.level.text
    unit = SHOWN[liquid.level.measure]
    yield liquid.name if liquid.name == unnamed else f"{liquid.name}: {unnamed}"
    amount = _between(dose.low, dose.high, unit)
    each = _between(dose.low / found.bowl.count, dose.high / found.bowl.count, unit)
    yield _line("dose", f"{amount} in all, {each} an egg")
    yield from (_line(head, words) for head, words in _measured_out(answer))
    error = COVERAGE * dose.strength.relative
    if error:
        yield _line("strength", f"within {tidy(100 * error, 2)} % in 19 batches of 20")
    for number, basis in enumerate(answer.bases):
        amount = _between(basis.low, basis.high, basis.unit)
        yield _line("" if number else "the same", f"{amount} {basis.per}")
    yield _line("judged", _judged(answer, found))
    yield _line("carrier", _carrier(answer))


def _line(head: str, words: str) -> str:
    return f"  {head:10}{words}"


def _measured_out(answer: Answer) -> Iterator[tuple[str, str]]:
    dose = answer.dose
    if answer.liquid.level.measure is Measure.MASS or dose.fill is None:
        yield "weigh", show(dose.mass, "g")
    if dose.fill is not None:
        half = tidy(100 * dose.fill.total / dose.volume, 2)
        yield "draw to", f"{mark(dose.fill)}, within {half} %"
    if dose.spoons is not None:
        spoons = dose.spoons
        band = _between(spoons.low, spoons.high, "ml")
        yield "or spoon", f"{spoons.count} level {spoons.spoon.name} ({band})"
    if dose.blend is not None:
        blend = dose.blend
        yield (
            "or blend",
            f"1 part to {blend.carrier_parts} of {thinner(answer.carrier.id)}, with a lot and a "
            f"date, and draw {mark(blend.fill)}, within {tidy(100 * blend.fill.relative, 2)} %. "
            "Keep oils, acids and watery extracts in bottles of their own.",
        )


def mark(fill: Draw) -> str:
    """The mark to draw to and the tool, with as many decimals as the tool has marks for."""
    places = 2 if fill.tool.graduation < 0.05e-6 else 1
    return f"{from_si(fill.volume, 'ml'):.{places}f} ml in the {fill.tool.name}"


def _judged(answer: Answer, found: Levels) -> str:
    said = _beside_the_usual(answer, found)
    if not answer.liquid.strength_assumed:
        return said
    asked = asks_its_kind(answer.liquid.name, answer.carrier.id)
    return f"{said.rstrip('.')}. Taken as {_kind(answer)}{UNSTATED}{asked and '.'}{asked}"


def _beside_the_usual(answer: Answer, found: Levels) -> str:
    row = answer.range
    if answer.remark:
        return answer.remark.removeprefix(f"{answer.liquid.name}: ")
    if (row.unit == "g") is not (answer.liquid.level.measure is Measure.MASS):
        basis = f"egg of {show(row.egg, 'ml')}" if row.egg else row.basis
        usual = f"{row.low:g} to {row.high:g} {row.unit} per {basis}"
        return f"usual for {_kind(answer)} in a {found.use}: {usual} ({row.evidence})"
    amount = _between(*answer.usual, "g" if row.unit == "g" else "ml")
    backing = f"({row.evidence}: {row.source})"
    return f"within the usual {amount} an egg for {_kind(answer)} in a {found.use} {backing}"


def _kind(answer: Answer) -> str:
    return f"{article(answer.range.strength)} {answer.range.strength} one"


def _carrier(answer: Answer) -> str:
    if answer.carrier.id == CARRIER:
        return f"taken as one of {show(answer.carrier.density, 'g/ml')}{UNSTATED}"
    return f"{answer.carrier.name}. {answer.carrier.in_paste}"


def _table(answer: Answer, found: Levels) -> Iterator[str]:
    yield f"  eggs of {show(found.bowl.per_egg, 'ml')}"
    for row in answer.table:
        amount = _between(row.dose, row.dose, SHOWN[answer.liquid.level.measure])
        drawn = f"   {mark(row.fill)}" if row.fill else ""
        yield f"  {row.eggs:6}  {amount:>10}{drawn}"


def _between(low: float, high: float, unit: str) -> str:
    """One amount, or its two ends with the unit written once."""
    if unit == "drops":
        first, last = tidy(low, 2), tidy(high, 2)
    else:
        first, last = (tidy(from_si(value, unit)) for value in (low, high))
    return f"{first} {unit}" if first == last else f"{first} to {last} {unit}"
