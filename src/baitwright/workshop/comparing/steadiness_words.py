"""Steadiness in words, as data, and as charts on a page."""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path

from baitwright.learning.charts import BATCHES_FOR_LIMITS, IN_A_ROW, Chart
from baitwright.quantities import percent, tidy
from baitwright.sheets.picture_control import ControlChart, control_picture
from baitwright.sheets.picture_page import picture_page
from baitwright.sheets.svg import Picture
from baitwright.sheets.wording import count_of
from baitwright.workshop.comparing.steadiness import Series, Steadiness
from baitwright.workshop.told.files import write_together

NOTHING = "Nothing was weighed or measured yet."


def steadiness_text(made: Steadiness) -> str:
    """Each thing with its centre and limits, and the batches that stand out."""
    lines = [line for one in made.series for line in series_told(one)]
    return "\n".join([*(lines or [NOTHING]), *fit_told(made)])


def fit_told(made: Steadiness) -> list[str]:
    """How dried baits fit the size that is wanted; nothing where none was told."""
    if (fit := made.fit) is None:
        return []
    return [
        f"size: Cpk {tidy(fit.cpk, 2)} ({tidy(fit.cpk_low, 2)} to {tidy(fit.cpk_high, 2)} in 9 "
        f"of 10) by {fit.count} baits; {percent(fit.outside)} outside if sizes are normal"
    ]


def series_told(one: Series) -> list[str]:
    """The last value of a thing, its limits, and on further lines the batches that stand out."""
    last = f"{one.value}: {tidy(one.values[-1], 4)} {one.unit}".rstrip()
    if one.single is None or one.smooth is None:
        many = count_of(len(one.values), "batch", "batches")
        return [f"{last} last, {many}; limits from {BATCHES_FOR_LIMITS} on"]
    chart = one.single
    told = (
        f"{last} last, about {tidy(chart.centre, 4)}, limits {tidy(chart.low[0], 4)} to "
        f"{tidy(chart.high[0], 4)}"
    )
    marks = (
        ("beyond a limit", chart.beyond),
        (f"{IN_A_ROW} in a row on one side", chart.on_one_side),
        ("drifted, smoothed beyond a limit", one.smooth.beyond),
    )
    out = [f"  {said}: {', '.join(one.batches[at] for at in at_)}" for said, at_ in marks if at_]
    return [told, *out]


def steadiness_json(made: Steadiness) -> str:
    """The same for programs, in the units that it is told in; sizes of the fit in SI."""
    return json.dumps(asdict(made), ensure_ascii=False, indent=2)


def write_steadiness(made: Steadiness, folder: Path) -> tuple[Path, ...]:
    """Write a chart of each thing as SVG and ``steady.html``, all or nothing.

    Raises
    ------
    InputError: the folder cannot be written to.
    """
    pictures = [one for at, each in enumerate(made.series) for one in charts_of(made, each, at + 1)]
    paragraphs = [line.strip() for line in steadiness_text(made).splitlines()]
    page = picture_page(made.recipe, "batch after batch", pictures, before=(), after=paragraphs)
    contents = {f"{picture.name}.svg": picture.svg.encode() for picture in pictures}
    return write_together(folder, {**contents, "steady.html": page.encode()}, field="out")


def charts_of(made: Steadiness, one: Series, at: int) -> Iterator[Picture]:
    """The charts of one thing, the ``at``-th; none before there are limits."""
    if one.single is None or one.smooth is None:
        return
    for kind, chart in (("single", one.single), ("smoothed", one.smooth)):
        title = f"{made.recipe}: {one.value}, {kind}"
        yield control_picture(_as_drawn(one, chart), name=f"{kind}-{at}", title=title)


def _as_drawn(one: Series, chart: Chart) -> ControlChart:
    return ControlChart(
        value=one.value,
        unit=one.unit,
        names=one.batches,
        values=chart.values,
        centre=chart.centre,
        low=chart.low,
        high=chart.high,
        single=chart.single,
    )
