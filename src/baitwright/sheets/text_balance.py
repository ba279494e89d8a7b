"""A rig's balance in plain text of at most 100 columns."""

from __future__ import annotations

from collections import Counter

from baitwright.batch.cores import sizes
from baitwright.batch.counterweight import Combination
from baitwright.batch.design import DesignOption
from baitwright.batch.protocols import Told
from baitwright.batch.rig_balance import RigBalance
from baitwright.batch.settle import SettleStage
from baitwright.materials.kinds import lift_on_rig
from baitwright.quantities import show
from baitwright.sheets.layout import bullet, heading, paragraph, row, table
from baitwright.sheets.wording import Figure, banded, defaults_in, figure
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import band_of, median_of

_MOST = 8
"""Ways to make the bait that are told; the rest stand in the JSON."""
_SIGNS = {Weight.REMARK: "-", Weight.DOUBT: "?", Weight.CAUTION: "!"}
_WIDTHS = (-7, -7, -8, -9, -9, -9, -11, -9, -9)
_HEAD = ("bait", "core", "paste", "granules", "alone", "on rig", "to a limit", "do it", "stops")


def balance_text(made: RigBalance) -> str:
    """The whole answer, the bait on its rig first."""
    recipe = made.plan.request.recipe
    lines = [f"{recipe.name}: on its rig"]
    if recipe.invented:
        lines.append("Invented demo: maker and recipe do not exist.")
    lines += _on_the_rig(made)
    lines += _counterweight(made)
    lines += _through_the_night(made)
    lines += _designed(made)
    lines += _measured(made.protocols)
    notes = (*made.notes, *made.settles.notes, *made.design.notes)
    if notes or made.cautions:
        lines += heading("Keep in mind")
        for note in notes:
            lines += bullet(_told(note), _SIGNS[note.weight])
        for caution in made.cautions:
            lines += bullet(f"{caution.text} [{caution.source}]", "!")
    taken = ", ".join(part.label for part in defaults_in(made.rig).values())
    if taken:
        lines += ["", *paragraph(f"Taken where nobody said: {taken}.", first="", then="  ")]
    return "\n".join(lines) + "\n"


def _on_the_rig(made: RigBalance) -> list[str]:
    stage = made.rig
    lines = heading("In the lake")
    lines += _lift("lift of the dried bait alone", stage.alone)
    if made.request.rig.hole is not None:
        lines += _lift("what the hole does", stage.hole)
    if made.request.rig.depth > 0.0:
        lines += row("lift that the depth takes", figure(stage.depth))
    for pull in stage.pulls:
        lines += row(pull.label, figure(pull))
    after = lift_on_rig(median_of(stage.net)).name
    lines += _lift("lift left for a counterweight", stage.net, after=f"the bait {after}")
    lines += _lift("the same, once water fills every void", stage.flooded)
    return lines + _settling(made.settles, "without a counterweight", made.request.rig.depth)


def _through_the_night(made: RigBalance) -> list[str]:
    """How the balance drifts: what is left for a counterweight, and for how long it does."""
    lines = heading("Through the night, without a counterweight")
    rows = [("after", "lift left", "", "no lift left")]
    for point in made.night:
        left = _signed(point.net)
        band = f"({left.band})" if left.band else ""
        rows.append((show(point.time, "h"), left.text, band, figure(point.taken_down).text))
    lines += table(rows, _NIGHT)
    kind = made.plan.request.recipe.bait.kind
    held = f" with {show(made.request.putty, 'g')} of putty on it" if made.request.putty else ""
    return lines + row(f"stops doing what a {kind} should{held} after", figure(made.lasts))


_NIGHT = (-8, -12, 26, -14)


def _lift(label: str, quantity: Quantity, *, after: str = "") -> list[str]:
    return row(label, _signed(quantity), after=after)


def _signed(quantity: Quantity) -> Figure:
    return banded(band_of(quantity), quantity.shown, signed=True)


def _settling(stage: SettleStage, how: str, depth: float) -> list[str]:
    lines = row(f"baits that sink {how}", figure(stage.sinks))
    if float(stage.sinks.value) > 0.0:
        lines += row("speed down, minus is up", figure(stage.speed))
        if depth > 0.0:
            lines += row("on the bottom after", figure(stage.time))
    return lines


def _counterweight(made: RigBalance) -> list[str]:
    lines = heading("Counterweight")
    held = made.counterweight
    if median_of(made.rig.putty) > 0.0:
        lines += row("putty, to just take it down", figure(made.rig.putty))
    else:
        lines += paragraph("None: the middle bait of the tray goes down by itself.")
    if held is None:
        return lines
    lines += paragraph(
        f"Shot for the middle bait of the tray: {_shot(held.combination)} of "
        f"{held.combination.pieces[0].metal.name}, {show(held.combination.mass, 'g')} in air."
    )
    lines += row("they pull under water", figure(held.pull))
    lines += _lift("lift left with them on", held.left)
    lines += row("baits they take down", figure(held.taken_down))
    return lines + _settling(held.settles, "with them on", made.request.rig.depth)


def _shot(combination: Combination) -> str:
    """Names with how many of each, heaviest first."""
    counted = Counter(piece.name for piece in combination.pieces)
    return " + ".join(name if many == 1 else f"{many} x {name}" for name, many in counted.items())


def _designed(made: RigBalance) -> list[str]:
    stage = made.design
    kind = made.plan.request.recipe.bait.kind.value
    lines = heading(f"Ways to a {kind} on this rig")
    shown = stage.options[:_MOST]
    near = shown
    if not shown:
        near = () if stage.nearest is None else (stage.nearest,)
        lines += paragraph(f"None of {stage.weighed_up} weighed up does it. The nearest:")
    else:
        lines += paragraph(
            f"{len(stage.options)} of {stage.weighed_up} weighed up do it in the middle; "
            f"the surest {len(shown)}:"
        )
    return lines + table([_HEAD, *(_option(one) for one in near)], _WIDTHS)


def _option(one: DesignOption) -> tuple[str, ...]:
    return (
        show(one.diameter, "mm"),
        sizes(one.core),
        show(one.paste, "mm"),
        show(one.granules, "%"),
        _signed(one.alone).text,
        _signed(one.rig).text,
        _signed(one.margin).text,
        figure(one.share).text,
        figure(one.lasts).text,
    )


def _measured(protocols: tuple[Told, ...]) -> list[str]:
    lines = heading("Measure, don't guess")
    for told in protocols:
        name = told.protocol.name
        lines += paragraph(f"{name[0].upper()}{name[1:]}: {told.protocol.formula}.")
        for at, step in enumerate(told.protocol.steps, 1):
            lines += paragraph(f"{step}.", first=f"    {at}. ", then="       ")
        error = show(float(told.error.value), told.error.shown, 2)
        lines += paragraph(
            f"With a scale that shows 0.01 g: ±{error} (one standard uncertainty). "
            f"{told.protocol.note}.",
            first="    ",
            then="    ",
        )
    return lines


def _told(note: Note) -> str:
    return f"{note.text} [{note.source}]"
