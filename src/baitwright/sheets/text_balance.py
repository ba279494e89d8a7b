"""A rig's balance in plain text of at most 100 columns."""

from __future__ import annotations

from baitwright.batch.cores import sizes
from baitwright.batch.design import DesignOption
from baitwright.batch.protocols import Told
from baitwright.batch.rig_balance import RigBalance
from baitwright.quantities import show
from baitwright.sheets.layout import bullet, heading, paragraph, row, table
from baitwright.sheets.text_rig import counterweight, in_the_lake, signed
from baitwright.sheets.wording import defaults_in, figure
from baitwright.terms.notes import Note, Weight

_MOST = 8
"""Ways to make the bait that are told; the rest stand in the JSON."""
_SIGNS = {Weight.REMARK: "-", Weight.DOUBT: "?", Weight.CAUTION: "!"}
_WIDTHS = (-7, -8, -7, -8, -6, -8, -8, -10, -5, -7)
_HEAD = (
    "bait",
    "core",
    "paste",
    "granules",
    "tray",
    "alone",
    "on rig",
    "to a limit",
    "do it",
    "stops",
)


def balance_text(made: RigBalance) -> str:
    """The whole answer, the bait on its rig first."""
    recipe = made.plan.request.recipe
    lines = [f"{recipe.name}: on its rig"]
    if recipe.invented:
        lines.append("Invented demo: maker and recipe do not exist.")
    lines += heading("In the lake") + in_the_lake(made.on_rig, made.rig)
    lines += heading("Counterweight") + counterweight(made.on_rig, made.rig)
    lines += _through_the_night(made)
    lines += _designed(made)
    lines += _measured(made.protocols)
    notes = (*made.on_rig.notes, *made.design.notes)
    if notes or made.cautions:
        lines += heading("Keep in mind")
        for note in notes:
            lines += bullet(_told(note), _SIGNS[note.weight])
        for caution in made.cautions:
            lines += bullet(f"{caution.text} [{caution.source}]", "!")
    taken = ", ".join(part.label for part in defaults_in(made.on_rig.stage).values())
    if taken:
        lines += ["", *paragraph(f"Taken where nobody said: {taken}.", first="", then="  ")]
    return "\n".join(lines) + "\n"


def _through_the_night(made: RigBalance) -> list[str]:
    """How the balance drifts: what is left for a counterweight, and for how long it does."""
    lines = heading("Through the night, without a counterweight")
    rows = [("after", "lift left", "", "no lift left")]
    for point in made.night:
        left = signed(point.net)
        band = f"({left.band})" if left.band else ""
        rows.append((show(point.time, "h"), left.text, band, figure(point.taken_down).text))
    lines += table(rows, _NIGHT)
    kind = made.plan.request.recipe.bait.kind
    held = f" with {show(made.rig.putty, 'g')} of putty on it" if made.rig.putty else ""
    return lines + row(f"stops doing what a {kind} should{held} after", figure(made.lasts))


_NIGHT = (-8, -12, 26, -14)


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
        show(one.tray, "h"),
        signed(one.alone).text,
        signed(one.rig).text,
        signed(one.margin).text,
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
