"""How long the baits of a plan keep, as a page shows it: days, then what limits them."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.batch.batch_plan import PlanRequest
from baitwright.batch.keep import KeepStage, PlaceLife
from baitwright.sheets.text_keep import (
    CHECK,
    ESTIMATES,
    PLACES,
    activity,
    cautious,
    days,
    growing,
    line_words,
    narrower,
    under_the_line,
)
from baitwright.sheets.wording import Figure, figure
from baitwright.terms.quantity import unwrap
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.told.answer_parts import Grid, Large, Part, row_of, said


def keeping_shown(request: PlanRequest) -> tuple[Part, ...]:
    """Days in each place, free water, freezing, and what authorities say of food like it."""
    stage = worked_out(request).keep
    lines = (*(line for place in stage.places for line in place.lines), *stage.lines)
    return (
        Part(
            "Plan with at most",
            large=tuple(map(place_told, stage.places)),
            lines=(ESTIMATES, *narrower(stage)),
        ),
        Part(
            "What authorities say of food like it; a bait is no food",
            points=tuple(map(line_words, lines)),
            lines=(under_the_line(stage), CHECK),
        ),
        Part("What can still grow", points=tuple(growing(stage)), is_folded=True),
        Part("Free water and freezing", grids=(_water(stage),), is_folded=True),
    )


def place_told(place: PlaceLife) -> Large:
    """The days to plan with; the band of the life itself and what ends it beside them."""
    where = PLACES[place.place]
    life, least = days(place.life), cautious(place)
    number, _, unit = least.rpartition(" ") if least.endswith(" d") else (least, "", "")
    band = life.band.replace(" to ", " and ")
    told = f"{life.text} in the middle, 8 in 10 between {band}" if band else life.text
    return Large(
        f"{where[0].upper()}{where[1:]}, {figure(place.temperature).text}",
        Figure(number, unit),
        f"{told}; {place.ended_by} first",
    )


def _water(stage: KeepStage) -> Grid:
    return Grid("The bait out of the bag", ("", "middle, and 8 in 10"), tuple(_rows(stage)))


def _rows(stage: KeepStage) -> Iterator[tuple[Figure, Figure]]:
    for one in (stage.activity, stage.skin):
        yield said(one.label), activity(one)
    yield row_of(stage.freezing.starts.label, stage.freezing.starts)
    yield row_of(stage.freezing.share.label, stage.freezing.share)
    if float(unwrap(stage.freezing.share.value)) > 0.5:
        for one in (stage.freezing.ice, stage.freezing.still, stage.freezing.fan):
            yield row_of(one.label, one)
