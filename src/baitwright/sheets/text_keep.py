"""Putting the baits away, as text: how long in each place, and what others say of it."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.keep import Freezing, KeepStage, PlaceLife
from baitwright.materials.keeping import KeepingLine, Organism
from baitwright.quantities import percent
from baitwright.sheets.layout import bullet, paragraph, row, table
from baitwright.sheets.text_made import number
from baitwright.sheets.wording import Figure, banded, figure
from baitwright.sources import key_said
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import band_of, movers_of

PLACES = {"fridge": "in the fridge", "ambient": "out of the cold", "freezer": "in the freezer"}
ESTIMATES = (
    "Estimates for bait, not food, from models of other food, and no promise. Mould, slime or a "
    "strange smell ends them at once. Where a line below is shorter than the days here, go by the "
    "line."
)
CHECK = "Check with your local authority what applies to you."
_COLUMNS = (16, -6, -18, 26, 24)


def keep(plan: BatchPlan) -> list[str]:
    """Each place with its cautious days, band and limits; lines of authorities; what narrows it."""
    stage = plan.keep
    lines = [line for one in (stage.activity, stage.skin) for line in row(one.label, activity(one))]
    head = ("", "at", "plan with at most", "the band", "ends by")
    lines += table([head, *map(_place, stage.places)], _COLUMNS)
    lines += paragraph(ESTIMATES)
    for told in growing(stage):
        lines += paragraph(told, then="    ")
    lines += _frozen(stage.freezing)
    lines += _said(stage)
    return lines + [line for told in narrower(stage) for line in paragraph(told)]


def activity(quantity: Quantity) -> Figure:
    """A water activity with the two decimals a meter has."""
    band = band_of(quantity)
    ends = "" if band.is_known else f"{band.low80:.2f} to {band.high80:.2f}"
    return Figure(f"{band.median:.2f}", "", ends)


def days(quantity: Quantity) -> Figure:
    """A life in whole days."""
    band = band_of(quantity)
    whole = banded(band, "d")
    low, high = (_whole(value) for value in (band.low80, band.high80))
    return Figure(_whole(band.median), whole.unit, f"{low} to {high}" if whole.band else "")


def cautious(place: PlaceLife) -> str:
    """The days to plan with, in words where there is not one."""
    value = float(unwrap(place.cautious.value))
    return f"{_whole(value)} d" if value > 0.0 else "less than a day"


def _whole(seconds: float) -> str:
    if seconds == float("inf"):
        return "never"
    return f"{seconds / 86_400.0:.0f}" if seconds >= 86_400.0 else "under 1"


def _place(place: PlaceLife) -> tuple[str, ...]:
    life = days(place.life)
    ends = f"{place.ended_by} first"
    return (
        PLACES[place.place],
        figure(place.temperature).text,
        cautious(place),
        f"{life.text} ({life.band})",
        ends,
    )


def growing(stage: KeepStage) -> Iterator[str]:
    """What the limits of growth do not rule out, place by place."""
    for place in stage.places:
        if place.place != "freezer":
            able = [*place.spoilers, *place.pathogens]
            told = _names(able) if able else "nothing in the table"
            yield f"Can still grow {PLACES[place.place]}: {told}."


def _names(rows: list[Organism]) -> str:
    return ", ".join(row.name for row in rows)


def _frozen(freezing: Freezing) -> list[str]:
    lines = number(freezing.starts)
    lines += number(freezing.share)
    if float(unwrap(freezing.share.value)) > 0.5:
        lines += number(freezing.ice) + number(freezing.still, after="one bait, free on a tray")
        lines += number(freezing.fan)
    return lines


def _said(stage: KeepStage) -> list[str]:
    """What authorities say of food like it, with place, date and source."""
    lines = paragraph("What authorities say of food like it; a bait is no food:")
    for line in (*(line for place in stage.places for line in place.lines), *stage.lines):
        lines += bullet(line_words(line))
    lines += paragraph(under_the_line(stage), first="    ", then="    ")
    return lines + paragraph(CHECK)


def under_the_line(stage: KeepStage) -> str:
    """How many of the baits are drier than what may stand in the open by the US tables."""
    share = percent(float(unwrap(stage.under_line.value)))
    (limit,) = (part for role, part in stage.under_line.inputs if role == "line")
    return (
        f"{share} of these baits are drier than {float(unwrap(limit.value)):.2f}, the line of the "
        "US tables for food dried in the open."
    )


def line_words(line: KeepingLine) -> str:
    """What an authority says, with its country, the day it was read, and its source."""
    return f"{line.text} [{line.country}, {line.checked_on}, {key_said(line.source)}]"


def narrower(stage: KeepStage) -> Iterator[str]:
    """What the fridge's days hang on, and what to measure."""
    moved = [mover.label.removeprefix("your factor: ") for mover in movers_of(stage.places[0].life)]
    hangs = f"The days in the fridge hang most on: {', '.join(moved)}. " if moved else ""
    yield (
        f"{hangs}A meter's reading of one bait's water activity, a day after bagging, and the day "
        "the first mould shows on a few baits kept back narrow them."
    )
