"""A bait on its rig, as text: each pull, what balances it, how it sinks."""

from __future__ import annotations

from collections import Counter

from baitwright.batch.counterweight import Combination
from baitwright.batch.on_rig import Counterweight, OnRig
from baitwright.batch.settle import SettleStage
from baitwright.materials.hooks import weight
from baitwright.materials.kinds import lift_on_rig
from baitwright.quantities import show
from baitwright.recipe.rig import Rig
from baitwright.sheets.layout import paragraph, row
from baitwright.sheets.wording import Figure, banded, figure
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import band_of, median_of


def in_the_lake(made: OnRig, rig: Rig) -> list[str]:
    """Lift where it is fished: alone, what hole and depth do, each pull, and what is left."""
    stage = made.stage
    lines = _lift("lift of the dried bait alone", stage.alone)
    if rig.hole is not None:
        lines += _lift("what the hole does", stage.hole)
    if rig.depth > 0.0:
        lines += row("lift that the depth takes", figure(stage.depth))
    for pull in stage.pulls:
        lines += row(pull.label, figure(pull))
    after = lift_on_rig(median_of(stage.net)).name
    lines += _lift("lift left for a counterweight", stage.net, after=f"the bait {after}")
    lines += _lift("the same, once water fills every void", stage.flooded)
    return lines + _settling(made.settles, "without a counterweight", rig.depth)


def counterweight(made: OnRig, rig: Rig) -> list[str]:
    """Putty at balance and past it, shot from the box, and how the bait sinks with them."""
    stage, held = made.stage, made.counterweight
    if median_of(stage.putty) > 0.0:
        past = f"{show(rig.margin, 'g')} past balance"
        lines = row(stage.balance_point.label, figure(stage.balance_point))
        lines += row("putty, to just take it down", figure(stage.putty), after=past)
    else:
        past = show(-median_of(stage.net), "g", 2)
        lines = paragraph(
            f"None: the middle bait of the tray goes down by itself, {past} past balance."
        )
    if held is None:
        return lines
    lines += paragraph(
        f"Shot for the middle bait of the tray: {shot_words(held)}, "
        f"{show(held.combination.mass, 'g')} in air."
    )
    lines += row("they pull under water", figure(held.pull))
    lines += _lift("lift left with them on", held.left)
    lines += row("baits they take down", figure(held.taken_down))
    return lines + _settling(held.settles, "with them on", rig.depth)


def shot_words(held: Counterweight) -> str:
    """Which shot, and of what."""
    return f"{_shot(held.combination)} of {weight(held.combination.pieces[0].metal).name}"


def _shot(combination: Combination) -> str:
    """Names with how many of each, heaviest first."""
    counted = Counter(piece.name for piece in combination.pieces)
    return " + ".join(name if many == 1 else f"{many} x {name}" for name, many in counted.items())


def signed(quantity: Quantity) -> Figure:
    """A lift with its sign."""
    return banded(band_of(quantity), quantity.shown, signed=True)


def _lift(label: str, quantity: Quantity, *, after: str = "") -> list[str]:
    return row(label, signed(quantity), after=after)


def _settling(stage: SettleStage, how: str, depth: float) -> list[str]:
    lines = row(f"baits that sink {how}", figure(stage.sinks))
    if float(stage.sinks.value) > 0.0:
        lines += row("speed down, minus is up", figure(stage.speed))
        if depth > 0.0:
            lines += row("on the bottom after", figure(stage.time))
    return lines
