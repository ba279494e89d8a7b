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
from baitwright.sources import key_said
from baitwright.terms.notes import Note, Weight

MOST_WAYS = 8
"""Ways to make the bait that are told; the rest stand in the JSON."""
_SIGNS = {Weight.REMARK: "-", Weight.DOUBT: "?", Weight.CAUTION: "!"}
_WIDTHS = (-7, -8, -7, -8, -6, -8, -8, -10, -5, -7)
DESIGN_HEAD = (
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
            lines += bullet(f"{caution.text} [{key_said(caution.source)}]", "!")
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
    lines = heading(f"Ways to a {made.plan.request.recipe.bait.kind} on this rig")
    lines += paragraph(weighed_up(made))
    return lines + table([DESIGN_HEAD, *map(option_told, nearest(made))], _WIDTHS)


def weighed_up(made: RigBalance) -> str:
    """How many ways were weighed up, and how many do it."""
    stage = made.design
    if not stage.options:
        return f"None of {stage.weighed_up} weighed up does it. The nearest:"
    shown = len(stage.options[:MOST_WAYS])
    return (
        f"{len(stage.options)} of {stage.weighed_up} weighed up do it in the middle; "
        f"the surest {shown}:"
    )


def nearest(made: RigBalance) -> tuple[DesignOption, ...]:
    """The surest ways, or the nearest where none does it."""
    stage = made.design
    if stage.options:
        return stage.options[:MOST_WAYS]
    return () if stage.nearest is None else (stage.nearest,)


def option_told(one: DesignOption) -> tuple[str, ...]:
    """One way to make the bait, as words under `DESIGN_HEAD`."""
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
        lines += paragraph(f"{protocol_title(told)}.")
        for at, step in enumerate(told.protocol.steps, 1):
            lines += paragraph(f"{step}.", first=f"    {at}. ", then="       ")
        lines += paragraph(protocol_error(told), first="    ", then="    ")
    return lines


def protocol_title(told: Told) -> str:
    """What is measured, and by which formula."""
    name = told.protocol.name
    return f"{name[0].upper()}{name[1:]}: {told.protocol.formula}"


def protocol_error(told: Told) -> str:
    """How far a reading may be out, and what of it."""
    error = show(float(told.error.value), told.error.shown, 2)
    return (
        f"With a scale that shows 0.01 g: ±{error} (one standard uncertainty). "
        f"{told.protocol.note}."
    )


def _told(note: Note) -> str:
    return f"{note.text} [{key_said(note.source)}]"
