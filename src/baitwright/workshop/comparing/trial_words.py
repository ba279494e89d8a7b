"""Trials in words: nights needed, who fishes what where, what a recipe's trial says."""

from __future__ import annotations

import math
from collections.abc import Sequence

from baitwright.learning.factorial import Effect
from baitwright.learning.sequential import MISSED, WRONG, SequentialPlan, Standing
from baitwright.quantities import percent, tidy
from baitwright.sheets.wording import count_of
from baitwright.workshop.comparing.repeatability import Repeated
from baitwright.workshop.comparing.trial import Looked, NightsNeeded, Tried

_GOOD, _PASSES = 0.10, 0.30
"""Shares of the spread up to which a gauge is good, or may do (common practice)."""


def needed_text(made: NightsNeeded) -> str:
    """How many nights a true ratio needs before it shows in four trials of five."""
    lines = [f"A rod on each, bites a night on the weaker bait's: {tidy(made.bites, 2)}"]
    for one in made.needs:
        nights, bites = math.ceil(one.nights), math.ceil(one.bites)
        lines.append(f"  truly {one.ratio:g} times: at least {nights} nights, {bites} bites on it")
    lines.append("Shown in 4 trials of 5, and in 1 of 20 where there is no difference.")
    if made.scatter.widens > 1.0:
        lines.append(
            f"With the scatter of your own nights, {tidy(made.scatter.ratio, 2)} of chance."
        )
    else:
        lines.append("Counted by chance alone: nights that scatter more need more.")
    lines.append("A trial at the bench (`trial recipe`) tells more in an evening.")
    return "\n".join(lines)


def plan_text(rows: Sequence[Sequence[str]], *, rods: Sequence[str]) -> str:
    """Which rod fishes what on which night."""
    lines = [
        f"  night {at}: " + ", ".join(f"{rod} {bait}" for rod, bait in zip(rods, row, strict=True))
        for at, row in enumerate(rows, start=1)
    ]
    lines.append("Rods out for as long; a blank is written down like any other night.")
    return "\n".join(lines)


def rule_text(plan: SequentialPlan, baits: Sequence[str]) -> str:
    """A stopping rule, to be written down before the first night."""
    first, second = baits
    alike, true = plan.bites_expected(1.0), plan.bites_expected(plan.ratio)
    return "\n".join(
        (
            f"Is {first} {plan.ratio:g} times {second}? Both on paired rods, swapped each night.",
            f"Each bite on {first} adds {plan.first:.4f}, each on {second} {plan.second:+.4f}.",
            f"Stop at {plan.upper:.3f}: it is. Stop at {plan.lower:.3f}: not by so much.",
            f"Wrong in {percent(WRONG)} where both are alike, missed in {percent(MISSED)} where it "
            "is true.",
            f"About {math.ceil(alike)} bites in all where both are alike, {math.ceil(true)} where "
            "it is true; set a last night beforehand.",
        )
    )


def looked_text(made: Looked, baits: Sequence[str]) -> str:
    """Where a trial with a stopping rule stands."""
    first, second = baits
    said = {
        Standing.GO_ON: "go on",
        Standing.FIRST: f"stop: {first} has the higher rate, by the rule that was set",
        Standing.NO_SUCH: f"stop: {first} has not {made.plan.ratio:g} times the rate of {second}",
    }[made.standing]
    lines = [
        f"{count_of(made.nights, 'night')}, {made.bites[0]} bites on {first} and {made.bites[1]} "
        f"on {second}: {made.total:+.3f}, between {made.plan.lower:.3f} and {made.plan.upper:.3f}.",
        f"{said[:1].upper()}{said[1:]}.",
    ]
    if made.uneven:
        lines.append(f"{count_of(made.uneven, 'night')} with unlike hours left out.")
    return "\n".join(lines)


def tried_text(made: Tried) -> str:
    """The batches of a trial in the order to make them, or what their readings say."""
    names = made.design.factors
    if made.found:
        lines = ["High level less low level:", *map(_effect, made.found)]
        if made.found[0].within is None:
            lines.append("Without a run made twice nobody knows which of these are chance.")
        return "\n".join(lines)
    lines = [f"{len(made.design.levels)} batches, to be made in this order, read as numbered:"]
    for run in made.design.order:
        levels = made.design.levels[run]
        told = (f"{name} {made.levels[at][levels[at] > 0]}" for at, name in enumerate(names))
        lines.append(f"  run {run + 1}: {', '.join(told)}")
    if made.design.half:
        lines.append("Half of all batches: each effect stands for its alias too.")
    return "\n".join(lines)


def _effect(one: Effect) -> str:
    within = f" +- {tidy(one.within, 2)}" if one.within is not None else ""
    alias = f", or {' with '.join(one.alias)}" if one.alias else ""
    return f"  {' with '.join(one.of)}{alias}: {one.value:+.4g}{within}"


def repeated_text(made: Repeated) -> str:
    """How far a gauge repeats itself."""
    study, unit = made.study, made.unit
    word = "good" if study.share < _GOOD else "may do" if study.share <= _PASSES else "too coarse"
    lines = [
        f"Two readings of one thing differ by up to {tidy(study.repeats_within, 2)} {unit} in 19 "
        "cases of 20.",
        f"Gauge and hand are {percent(study.share)} of the whole spread: {word} for such things "
        f"(common practice: up to {percent(_GOOD)} good, {percent(_PASSES)} may do).",
        f"It tells {count_of(study.sizes_told_apart, 'size')} of such things apart.",
    ]
    if study.hands.degrees:
        lines.append(
            f"Hands differ by a standard deviation of {tidy(math.sqrt(study.hand), 2)} {unit}."
        )
    if made.off is not None:
        lines.append(f"On the whole it is off by {made.off:+.3g} {unit}.")
    return "\n".join(lines)
