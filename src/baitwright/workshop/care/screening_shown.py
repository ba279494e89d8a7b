"""What a blend's screening gives, as an answer shows it and for programs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from baitwright.advice.toxicity import MARK, Screening, Standing
from baitwright.quantities import percent, tidy
from baitwright.sheets.wording import Figure
from baitwright.workshop.care.blend_screening import Screened
from baitwright.workshop.told.answer_parts import Grid, Large, Part, said

_SOURCE = "1272/2008, annex I, 3.1.3.6"
LIMIT = (
    "What a blend is called, and whether it may be sold, the supplier and the chemicals authority "
    "say; this number says neither."
)


def screening_shown(found: Screened) -> tuple[Part, ...]:
    """Each route's number, its parts, and what is not known of them."""
    if not found.routes:
        line = (
            f"No part of {found.name} has an estimate: write what its safety data sheet has, as in "
            "baitwright record liquid NAME toxicity='oral 2737 mg/kg'."
        )
        return (Part(lines=(line, LIMIT)),)
    return (
        Part(
            f"{found.name[:1].upper()}{found.name[1:]}: {MARK}",
            large=tuple(map(_large, found.routes)),
            lines=(LIMIT,),
        ),
        *(
            Part(f"By route: {one.route}", grids=(_grid(one),), lines=_lines(one))
            for one in found.routes
        ),
        Part("Rests on", points=tuple(_rests(found)), is_folded=True),
    )


def screening_json(found: Screened) -> dict[str, Any]:
    """The same for programs."""
    return {
        "name": found.name,
        "mark": MARK,
        "shares": found.shares,
        "by_phrase": list(found.by_phrase),
        "routes": [
            {
                "route": one.route,
                "estimate": one.estimate,
                "unit": one.unit,
                "category": None if one.category is None else one.category.category,
                "unknown": one.unknown,
                "not_relevant": one.not_relevant,
                "is_corrected": one.is_corrected,
                "parts": [
                    {
                        "name": part.name,
                        "share": part.share,
                        "standing": part.standing,
                        "estimate": part.estimate,
                    }
                    for part in one.parts
                ],
            }
            for one in found.routes
        ],
    }


def _large(one: Screening) -> Large:
    if one.estimate is None:
        return Large(one.route, Figure("none", ""), "no part has an estimate")
    place = (
        "beyond category 4"
        if one.category is None
        else f"within category {one.category.category}, up to {one.category.up_to:g} {one.unit}"
    )
    return Large(one.route, Figure(tidy(one.estimate), one.unit), f"{place}; {MARK}")


def _grid(one: Screening) -> Grid:
    rows = [
        (
            said(part.name),
            said(percent(part.share)),
            said(_estimate(one, part.standing, part.estimate)),
        )
        for part in one.parts
    ]
    if one.untold > 0.0:
        rows.append((said("told by nobody"), said(percent(one.untold)), said("unknown")))
    return Grid("", ("Part", "Share", "Its estimate"), tuple(rows))


def _estimate(one: Screening, standing: Standing, estimate: float | None) -> str:
    return f"{tidy(estimate)} {one.unit}" if estimate is not None else str(standing)


def _lines(one: Screening) -> tuple[str, ...]:
    told = f"Unknown: {percent(one.unknown)}. Not relevant: {percent(one.not_relevant)}."
    if one.is_corrected:
        told += " More than 10 % is unknown, so the whole is counted without it: known parts alone."
    return (told,)


def _rests(found: Screened) -> Iterator[str]:
    yield f"100 / ATEmix = sum of Ci / ATEi over the parts that are known [{_SOURCE}]"
    yield f"Above 10 % unknown: (100 - unknown) / ATEmix = the same sum [{_SOURCE}.2.3]"
    yield f"Shares {found.shares}"
    if found.by_phrase:
        names = ", ".join(found.by_phrase)
        yield f"Of {names} only a phrase is told: the worst point of its category stands in"
