"""A picture of the bait cut open, to scale: in the pot, off the tray, and after the lake."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from xml.etree.ElementTree import Element

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.curves import crust
from baitwright.batch.soak import SoakStage
from baitwright.batch.state import BaitState
from baitwright.quantities import show
from baitwright.sheets.charts import WITHIN
from baitwright.sheets.cut_open import CutOpen, cut_open
from baitwright.sheets.svg import (
    CORE,
    CRUST,
    DOTS,
    INK,
    LEADING,
    MIDDLE,
    PAPER,
    PASTE,
    SET,
    STROKES,
    WET,
    WIDTH,
    Led,
    Picture,
    Point,
    Table,
    canvas,
    disc,
    folded,
    led,
    line,
    tiles,
    words,
)
from baitwright.sheets.text_soak import warmth
from baitwright.sheets.wording import figure, in_unit
from baitwright.terms.quantity import Quantity
from baitwright.uncertainty.bands import median_of

_RADIUS, _LEFT, _LABELS = 98.0, 104.0, 232.0
_STEPS = (1.0, 2.0, 5.0, 10.0, 20.0)
_THROUGH = 0.98
"""A skin this far in counts as all the way."""
_HARDLY = 0.05
"""A skin no deeper than this is told and not drawn, mm."""


_COUNTED = (
    "Crust is counted to where the paste has lost half of the water that its skin lost, water to "
    "where it has gained half of what its skin gained"
)
MARKS = {
    "paste": (PASTE, {"d": DOTS, "fill": INK}),
    "set": (SET, {"d": STROKES, "stroke": INK, "stroke_width": "1"}),
    "crust": (CRUST, {"d": "M0 2.5H6M4 7.5H10", "stroke": INK, "stroke_width": "1.2"}),
    "wet": (
        WET,
        {"d": "M0 5Q2.5 1 5 5T10 5", "fill": "none", "stroke": MIDDLE, "stroke_width": "1.6"},
    ),
    "core": (CORE, {"d": "M0 0L10 10M10 0L0 10", "stroke": INK, "stroke_width": "0.8"}),
}
"""Layers told apart by dots, strokes, dashes and waves."""


@dataclass(frozen=True, slots=True)
class Ring:
    """A disc of the cut with its radius in mm, and the words that point into it.

    Where there are ``corks`` they are drawn in its place.
    """

    kind: str
    radius: float
    said: str
    dash: str = ""
    corks: tuple[tuple[float, float, float], ...] = ()

    def discs(self) -> tuple[tuple[float, float, float], ...]:
        """What is drawn: across and down from the middle, and diameter, in mm."""
        return self.corks or ((0.0, 0.0, 2.0 * self.radius),)


@dataclass(frozen=True, slots=True)
class Cut:
    """One bait cut open: when, how wide, and its layers from the outside in."""

    heading: str
    edge: str
    rings: list[Ring]

    @property
    def sentence(self) -> str:
        """What is drawn, in words."""
        return "; ".join((self.edge, *(ring.said for ring in self.rings)))


@dataclass(frozen=True, slots=True)
class _Skin:
    """What came over the paste from outside, how deep, and what lies within it."""

    kind: str
    name: str
    depth: Quantity
    inside: str


def bait_picture(plan: BatchPlan, stage: SoakStage, *, name: str) -> Picture:
    """The bait cut open part way through the boil, off the tray, and after a soak.

    Parameters
    ----------
    plan: the bait's plan.
    stage: its soak.
    name: of the bait.
    """
    cut, cuts = cut_open(plan), cuts_of(plan, stage)
    pot, tray, lake = cuts
    scale = _RADIUS / max(one.rings[0].radius for one in cuts)
    title = f"{name}: cut open, to scale"
    said = (
        f"{pot.heading}: {pot.sentence}; {cut.end_words}. "
        f"{tray.heading}: {tray.sentence}. {lake.heading}: {lake.sentence}. {_COUNTED}."
    )
    each = 2.0 * _RADIUS + 3.0 * LEADING
    lower = each + 1.5 * LEADING
    drawing = canvas("bait", lower + 2.0 * each + LEADING, title=title, said=said)
    rows = (
        *_in_words(cut),
        *_then(tray.heading, plan.dry.bait, _crust(plan)),
        *_then(lake.heading, stage.bait, _wet(stage)),
    )
    tiles(drawing, "bait", MARKS)
    _cut(drawing, pot, scale=scale, top=0.0)
    words(drawing, (4.0, lower - LEADING), cut.end_words)
    _cut(drawing, tray, scale=scale, top=lower)
    _cut(drawing, lake, scale=scale, top=lower + each)
    scale_bar(drawing, scale, top=lower + 2.0 * each)
    return Picture("bait", title, drawing, (Table(_CAPTION, _HEADS, rows),))


def cuts_of(plan: BatchPlan, stage: SoakStage) -> tuple[Cut, Cut, Cut]:
    """The bait in the pot, off the tray and after a soak, as it is drawn."""
    cut = cut_open(plan)
    rolled = "Part way through the boil" if cut.skin else "As rolled"
    off = f"Off the tray after {figure(plan.dry.time).text}"
    after = f"After {show(stage.curve[-1].time, 'h')} in the lake at {warmth(stage)}"
    dried, now = (
        f"{figure(one).text} across now" for one in (plan.dry.diameter, stage.bait.diameter)
    )
    return (
        Cut(rolled, cut.outer_words, _in_the_pot(cut)),
        Cut(off, dried, _skinned(cut, plan.dry.bait, _crust(plan))),
        Cut(after, now, _skinned(cut, stage.bait, _wet(stage))),
    )


def _crust(plan: BatchPlan) -> _Skin:
    return _Skin("crust", "crust", crust(plan.dry), "paste that has lost less water")


def _wet(stage: SoakStage) -> _Skin:
    return _Skin("wet", "water", stage.wet_depth, "paste with less of the lake in it")


def _in_the_pot(cut: CutOpen) -> list[Ring]:
    """The layers from the outside in, as rolled and on the way through the pot."""
    radius, rings = 0.5 * cut.outer, []
    if cut.skin:
        rings.append(Ring("set", radius, cut.skin_words))
        soft = f"still soft; {cut.paste_words} in all"
        rings.append(Ring("paste", radius - cut.skin, soft, dash="6 3"))
    else:
        rings.append(Ring("paste", radius, cut.paste_words))
    return [*rings, *_cores(cut, 0.5 * cut.core)]


def _skinned(cut: CutOpen, bait: BaitState, skin: _Skin) -> list[Ring]:
    """A skin with its pattern, the paste inside it and the core; medians of the baits."""
    outer, core, depth = (
        in_unit(median_of(one), "mm") for one in (bait.diameter, bait.core_diameter, skin.depth)
    )
    radius = 0.5 * outer
    through = depth >= _THROUGH * 0.5 * (outer - core)
    deep = f"{skin.name} {figure(skin.depth).with_band} deep"
    if depth < _HARDLY:
        return [Ring("set", radius, deep), *_cores(cut, 0.5 * core)]
    rings = [Ring(skin.kind, radius, f"{deep}: all the paste" if through else deep)]
    if not through:
        rings.append(Ring("set", radius - depth, skin.inside, dash="2 4"))
    return [*rings, *_cores(cut, 0.5 * core)]


def _cores(cut: CutOpen, radius: float) -> list[Ring]:
    """The core in the middle, or the few small ones there, or none."""
    if cut.corks:
        reach = max(math.hypot(across, down) + 0.5 * size for across, down, size in cut.corks)
        return [Ring("core", reach, cut.core_words, corks=cut.corks)]
    return [Ring("core", radius, cut.core_words)] if radius > 0.0 else []


def draw_rings(
    drawing: Element, rings: Sequence[Ring], centre: Point, *, scale: float, name: str
) -> None:
    """The layers of a cut about a middle, outermost first, at so many units to the mm."""
    for ring in rings:
        style = {"stroke": INK, "stroke_width": "2", "stroke_dasharray": ring.dash}
        for across, down, size in ring.discs():
            disc(
                drawing,
                (centre[0] + scale * across, centre[1] + scale * down),
                scale * 0.5 * size,
                class_=ring.kind,
                fill=f"url(#{name}-{ring.kind})",
                **style,
            )


def _cut(drawing: Element, cut: Cut, *, scale: float, top: float) -> None:
    """One bait cut open, with words beside it that point into its layers."""
    rings = cut.rings
    for at, said in enumerate(folded(cut.heading, WIDTH - 8.0, lines=1)):
        words(drawing, (4.0, top + LEADING * (at + 1)), said, font_weight="bold")
    centre = (_LEFT, top + 2.0 * LEADING + _RADIUS)
    draw_rings(drawing, rings, centre, scale=scale, name="bait")
    inner = [ring.radius for ring in rings[1:]] + [0.0]
    marks = [(rings[0].radius, cut.edge)]
    marks += [
        (0.5 * (ring.radius + next_), ring.said) for ring, next_ in zip(rings, inner, strict=True)
    ]
    points = [_on_ring(centre, scale * radius, at) for at, (radius, _) in enumerate(marks)]
    if rings[-1].corks:
        across, down, _ = rings[-1].corks[0]
        points[-1] = (centre[0] + scale * across, centre[1] + scale * down)
    told = [
        Led(point, tuple(folded(said, WIDTH - _LABELS, lines=2)))
        for point, (_, said) in zip(points, marks, strict=True)
    ]
    low, high = centre[1] - _RADIUS, centre[1] + _RADIUS + LEADING
    led(drawing, _LABELS, told, low=low, high=high)
    for point in points:
        disc(drawing, point, 3.0, fill=INK, stroke=PAPER)


def _on_ring(centre: Point, radius: float, at: int) -> Point:
    angle = math.radians((-55.0, -25.0, 0.0, 25.0)[at])
    return (centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))


def scale_bar(drawing: Element, scale: float, *, top: float) -> None:
    """How long so many mm are."""
    length = next(step for step in reversed(_STEPS) if scale * step <= _RADIUS or step == _STEPS[0])
    start, end = 8.0, 8.0 + scale * length
    line(drawing, (start, top), (end, top), class_="scale", stroke_width="4")
    for x in (start, end):
        line(drawing, (x, top - 6.0), (x, top + 6.0), stroke_width="2")
    words(drawing, (end + 8.0, top + 5.0), f"{length:g} mm")


_CAPTION = f"The bait cut open. {_COUNTED}"
_HEADS = ("part", "size", *WITHIN)


def _in_words(cut: CutOpen) -> Iterator[tuple[str, ...]]:
    """What is told of the bait as rolled and in the pot."""
    told = (cut.outer_words, cut.paste_words, cut.core_words, cut.skin_words, cut.end_words)
    names = ("rolled", "paste", "core", "on the way through the pot", "in the end")
    for name, said in zip(names, told, strict=True):
        if said:
            yield (name, said, "", "", "")


def _then(when: str, bait: BaitState, skin: _Skin) -> Iterator[tuple[str, ...]]:
    """Its diameter and its skin at a time, with bands."""
    for name, one in (("diameter", bait.diameter), (f"{skin.name}, deep", skin.depth)):
        bands = (figure(one, holding=held).band for held in (50, 80, 95))
        yield (f"{name} {when[:1].lower()}{when[1:]}", figure(one).text, *bands)
