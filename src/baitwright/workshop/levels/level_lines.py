"""What is told of one level, line by line: the dose, how to measure it, every basis, the usual."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.materials.tools import Draw
from baitwright.quantities import from_si, show, tidy
from baitwright.recipe.dosing import article, asks_its_kind, thinner
from baitwright.recipe.levels import Measure
from baitwright.terms.evidence import Evidence
from baitwright.workshop.levels.levels import Answer, Levels
from baitwright.workshop.typed.unstated import CARRIER, SHOWN

PRACTICE = "common practice, no source"
UNSTATED = ", not stated (our own judgement)"
COVERAGE = 2.0
"""Standard errors that hold a result in 19 cases of 20 (gum-2008, 6.3.3)."""


def answer_lines(answer: Answer, found: Levels) -> Iterator[tuple[str, str]]:
    """What is told of one level, each line with its head."""
    dose, liquid = answer.dose, answer.liquid
    unit = SHOWN[liquid.level.measure]
    amount = between(dose.low, dose.high, unit)
    each = between(dose.low / found.bowl.count, dose.high / found.bowl.count, unit)
    yield "dose", f"{amount} in all, {each} an egg"
    yield from _measured_out(answer)
    error = COVERAGE * dose.strength.relative
    if error:
        yield "strength", f"within {tidy(100 * error, 2)} % in 19 batches of 20"
    for number, basis in enumerate(answer.bases):
        amount = between(basis.low, basis.high, basis.unit)
        others = "".join(f", {between(one.low, one.high, one.unit)}" for one in basis.alike)
        yield "" if number else "the same", f"{amount} {basis.per}{others}"
    yield "judged", _judged(answer, found)
    yield "carrier", _carrier(answer)


def _measured_out(answer: Answer) -> Iterator[tuple[str, str]]:
    dose = answer.dose
    if answer.liquid.level.measure is Measure.MASS or dose.fill is None:
        yield "weigh", show(dose.mass, "g")
    if dose.fill is not None:
        half = tidy(100 * dose.fill.total / dose.volume, 2)
        yield "draw to", f"{mark(dose.fill)}, within {half} %"
    if dose.spoons is not None:
        spoons = dose.spoons
        band = between(spoons.low, spoons.high, "ml")
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
    is_practice = row.evidence is Evidence.PRACTICE
    backing = PRACTICE if is_practice else f"{row.evidence}: {row.source}"
    if (row.unit == "g") is not (answer.liquid.level.measure is Measure.MASS):
        basis = f"egg of {show(row.egg, 'ml')}" if row.egg else row.basis
        usual = f"{row.low:g} to {row.high:g} {row.unit} per {basis}"
        return f"usual for {_kind(answer)} in a {found.use}: {usual} ({backing})"
    amount = between(*answer.usual, "g" if row.unit == "g" else "ml")
    return f"within the usual {amount} an egg for {_kind(answer)} in a {found.use} ({backing})"


def _kind(answer: Answer) -> str:
    return f"{article(answer.range.strength)} {answer.range.strength} one"


def _carrier(answer: Answer) -> str:
    if answer.carrier.id == CARRIER:
        return f"taken as one of {show(answer.carrier.density, 'g/ml')}{UNSTATED}"
    return f"{answer.carrier.name}. {answer.carrier.in_paste}"


def between(low: float, high: float, unit: str) -> str:
    """One amount, or its two ends with the unit written once."""
    if unit == "drops":
        first, last = tidy(low, 2), tidy(high, 2)
    else:
        first, last = (tidy(from_si(value, unit)) for value in (low, high))
    return f"{first} {unit}" if first == last else f"{first} to {last} {unit}"
