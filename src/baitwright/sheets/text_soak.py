"""A soak as text: hour by hour, then winter and summer, solid and cored, side by side."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from baitwright.batch.balance import hook_pull
from baitwright.batch.cores import sizes
from baitwright.batch.soak import NIGHT, SoakStage
from baitwright.batch.soak_table import SoakCase, SoakTable
from baitwright.batch.soaking import SoakPoint
from baitwright.quantities import show
from baitwright.sheets.layout import bullet, heading, paragraph, table
from baitwright.sheets.wording import figure
from baitwright.terms.notes import Weight
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import movers_of

_HOUR, _CELL, _MEASURE, _CASE = 6, 16, 26, 16
_ABREAST = 4
_MOST = 5
"""Columns of numbers on one line."""
_SIGNS = {Weight.REMARK: "-", Weight.DOUBT: "?", Weight.CAUTION: "!"}
INVENTED = "Invented demo: maker and recipe do not exist."
RESTS_ON = (
    "Flavour leaves by diffusion through the shell (the exact series of a ball on a sealed core) "
    "in water that moves; buried in silt more is left. The bait's mean water stands for that of "
    "every shell: up to 8 in 100 too much is told to be left. Water moves by the same law into a "
    "bait whose water evened out in the bag, and swells it by its own volume, which changes no "
    "lift; what does is air that floods and matter that dissolves. Firmness is a judged index, "
    "100 % as out of the bag. In brackets the band that holds 8 of 10."
)


def soak_text(made: SoakTable) -> str:
    """The whole answer in plain text of at most 100 columns."""
    lines = [f"{made.recipe.name}: in the lake for {show(made.time, 'h')}"]
    if made.recipe.invented:
        lines.append(INVENTED)
    first = made.first
    lines += heading(f"Hour by hour: {body(first)}, lake at {warmth(first.stage)}")
    told = body_told(made)
    lines += _hours(first, told)
    lines += _hours(first, flavours(first))
    lines += ["", *_advice(first)]
    point = first.stage.at(NIGHT)
    lines += heading(f"Side by side: after {show(point.time, 'h')}")
    bodies = 2
    abreast = len(made.cases) if len(made.cases) <= _ABREAST else len(made.cases) // bodies
    for start in range(0, len(made.cases), abreast):
        lines += ["", *_beside(made.cases[start : start + abreast], told)]
    lines += ["", *paragraph(RESTS_ON)]
    lines += [line for note in made.notes for line in bullet(note.text, _SIGNS[note.weight])]
    return "\n".join(lines) + "\n"


_Columns = Sequence[tuple[str, Callable[[SoakPoint], Quantity]]]


def hanging(taken: Quantity) -> str:
    """What takes the lift: the hook, or the whole rig where it is told."""
    return "hook" if taken.name == hook_pull.name else "rig"


def body_told(made: SoakTable) -> _Columns:
    """What is told of the bait hour by hour."""
    return (
        ("water taken up", lambda point: point.taken),
        ("firmness", lambda point: point.firmness),
        ("lift alone", lambda point: point.lift),
        (f"lift with {hanging(made.plan.water.taken)}", lambda point: point.rig),
        ("do as wanted", lambda point: point.wish),
    )


def flavours(case: SoakCase) -> _Columns:
    """What is left of each flavour."""
    return tuple(
        (f"{one.name} left", lambda point, at=at: point.flavours[at].left)
        for at, one in enumerate(case.stage.curve[0].flavours)
    )


def _hours(case: SoakCase, columns: _Columns) -> list[str]:
    """A table by hour, the band under each number, a few columns abreast."""
    lines: list[str] = []
    for start in range(0, len(columns), _MOST):
        few = columns[start : start + _MOST]
        rows = [("after", *(title for title, _ in few))]
        for point in case.stage.curve:
            rows += _pair(show(point.time, "h"), [read(point) for _, read in few])
        lines += ["", *table(rows, (-_HOUR, *(-_CELL for _ in few)))]
    return lines


def _pair(label: str, numbers: Sequence[Quantity]) -> list[tuple[str, ...]]:
    """A row of numbers, and under it their bands where there are any."""
    told = [figure(one) for one in numbers]
    rows = [(label, *(one.text for one in told))]
    if any(one.band for one in told):
        rows.append(("", *(f"({one.band})" if one.band else "" for one in told)))
    return rows


def _advice(case: SoakCase) -> list[str]:
    stage = case.stage
    lines = []
    for quantity in (*stage.fades, stage.softens):
        lines += paragraph(f"{to_a_mark(quantity)}: after {figure(quantity).with_band}")
    lines += paragraph(f"Stops doing what is wanted after {figure(stage.lasts).with_band}.")
    lines += paragraph(f"Recast after {figure(stage.recast).with_band}, {why(case)}.")
    return lines + [line for told in hangs_on(case) for line in paragraph(told)]


def to_a_mark(quantity: Quantity) -> str:
    """What is spent, and down to where."""
    return f"{_sentence(quantity.label)} to {_mark(quantity)}"


def hangs_on(case: SoakCase) -> tuple[str, ...]:
    """What moves the first flavour most, where there is one."""
    left = case.stage.at(NIGHT).flavours
    moved = movers_of(left[0].left) if left else ()
    hangs = ", ".join(mover.label.removeprefix("your factor: ") for mover in moved)
    return (f"What is left of {left[0].name} hangs most on: {hangs}.",) if moved else ()


def _sentence(label: str) -> str:
    return label[:1].upper() + label[1:]


def why(case: SoakCase) -> str:
    """The marks by which one recasts, as the defaults have them."""
    stage = case.stage
    firm = _mark(stage.softens)
    soft = f"its firmness down to {firm}"
    if not stage.fades:
        return soft
    return f"whichever comes first: a flavour down to {_mark(stage.fades[0])}, or {soft}"


def _mark(quantity: Quantity) -> str:
    (wanted,) = (part for name, part in quantity.inputs if name == "wanted")
    return show(float(unwrap(wanted.value)), "%")


def _beside(cases: Sequence[SoakCase], told: _Columns) -> list[str]:
    """Measures down, cases across, after a night."""
    points = [case.stage.at(NIGHT) for case in cases]
    rows = [
        ("", *(body(case) for case in cases)),
        ("lake", *(warmth(case.stage) for case in cases)),
    ]
    for at, one in enumerate(points[0].flavours):
        rows += _pair(f"{one.name} left", [point.flavours[at].left for point in points])
    for title, read in told:
        rows += _pair(title, [read(point) for point in points])
    rows += _pair("recast after", [case.stage.recast for case in cases])
    return table(rows, (_MEASURE, *(-_CASE for _ in cases)))


def body(case: SoakCase) -> str:
    """A bait by its core."""
    if case.core is None:
        return "solid"
    return f"{sizes(case.core)} {'core' if case.core.count == 1 else 'cores'}"


def warmth(stage: SoakStage) -> str:
    """The lake's temperature in words."""
    return show(float(unwrap(stage.temperature.value)), "C")
