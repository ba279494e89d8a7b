"""A picture of lift through the night against the pull of hook or rig."""

from __future__ import annotations

from baitwright.batch.soak import NIGHT, SoakStage
from baitwright.quantities import show
from baitwright.sheets.charts import (
    HOLDS,
    LEFT,
    WITHIN,
    Curve,
    Frame,
    Label,
    as_row,
    axes,
    below,
    beside,
    curve_of,
    key,
    middles,
    ribbons,
    ticks,
)
from baitwright.sheets.svg import (
    HOOK,
    INK,
    LEADING,
    MIDDLE,
    WIDTH,
    Picture,
    Table,
    canvas,
    line,
    words,
)
from baitwright.sheets.text_soak import hanging, warmth
from baitwright.sheets.wording import figure, in_unit
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import median_of

_LABELS, _HEIGHT = 150.0, 320.0


def lift_picture(stage: SoakStage, taken: Quantity, *, name: str) -> Picture:
    """Lift of the bait alone through the soak, its bands, and the pull of hook or rig.

    Parameters
    ----------
    stage: the soak.
    taken: the lift that the hook, or the whole rig, takes under water.
    name: of the bait.
    """
    noun = hanging(taken)
    curve = curve_of(stage.curve, lambda point: point.lift)
    pull = in_unit(median_of(taken), taken.shown)
    rows = _rows(curve, pull)
    frame = _frame(curve, rows)
    title = f"{name}: lift through the night against the {noun}'s pull"
    height = frame.bottom + 5.0 * LEADING
    drawing = canvas("lift", height, title=title, said=_said(stage, taken))
    words(drawing, (4.0, LEADING), "lift of a bait alone, grams")
    ribbons(drawing, frame, curve)
    axes(drawing, frame, [(value, f"{value:+.2f}" if abs(value) > 1e-9 else "0") for value in rows])
    zero = {"class_": "zero", "stroke": INK, "stroke_width": "2"}
    hooked = {"class_": "hook", "stroke": HOOK, "stroke_width": "2.5", "stroke_dasharray": "12 5"}
    for value, style in ((0.0, zero), (pull, hooked)):
        line(drawing, frame.at(0.0, value), frame.at(frame.last, value), **style)
    middles(drawing, frame, curve, colour=MIDDLE)
    below(drawing, frame)
    labels = (
        Label(0.0, "0: hangs still"),
        Label(pull, f"{noun} pulls {figure(taken).text}", HOOK),
        Label(curve.bands[-1].median, "middle bait, alone", MIDDLE),
    )
    beside(drawing, frame, labels)
    key(drawing, frame.bottom + 2.5 * LEADING)
    return Picture("lift", title, drawing, (_table(stage, taken),))


def _rows(curve: Curve, pull: float) -> list[float]:
    """Values to rule lines at, so that bands, pull and nothing all lie between them."""
    low = min(0.0, pull, *(band.low95 for band in curve.bands))
    high = max(0.0, pull, *(band.high95 for band in curve.bands))
    return ticks(low, high)


def _frame(curve: Curve, rows: list[float]) -> Frame:
    return Frame(
        left=LEFT,
        top=2.0 * LEADING,
        width=WIDTH - LEFT - _LABELS,
        height=_HEIGHT,
        last=curve.along[-1],
        low=rows[0],
        high=rows[-1],
    )


def _said(stage: SoakStage, taken: Quantity) -> str:
    noun = hanging(taken)
    first, last, night = stage.curve[0], stage.curve[-1], stage.at(NIGHT)
    between = ""
    if night.time < last.time:
        between = f", {figure(night.lift).with_band} after {show(night.time, 'h')}"
    return (
        f"Lift of the bait alone under water, lake at {warmth(stage)}. "
        f"At the start it is {figure(first.lift).with_band}{between} and "
        f"{figure(last.lift).with_band} after {show(last.time, 'h')}; {HOLDS}. "
        f"The {noun} pulls {figure(taken).text} down. {_verdict(stage, noun)}"
    )


def _verdict(stage: SoakStage, noun: str) -> str:
    """Which of the two wins, by the middle bait at the hours told."""
    left = [(point.time, median_of(point.rig)) for point in stage.curve]
    down = next((time for time, lift in left if lift <= 0.0), None)
    if down is None:
        return f"The middle bait holds the {noun} up all the time."
    if down == left[0][0]:
        return f"The {noun} takes the middle bait down from the start."
    return f"The middle bait holds the {noun} up at first; by {show(down, 'h')} it is taken down."


def _table(stage: SoakStage, taken: Quantity) -> Table:
    noun = hanging(taken)
    heads = ("after", "lift alone", *WITHIN, f"lift with {noun}", f"{WITHIN[1]}, with {noun}")
    rows = tuple(
        (*as_row(point, point.lift), figure(point.rig).text, figure(point.rig).band)
        for point in stage.curve
    )
    pull = f"the {noun} pulls {figure(taken).with_band} under water"
    return Table(f"Lift in the lake at {warmth(stage)}; {pull}", heads, rows)
