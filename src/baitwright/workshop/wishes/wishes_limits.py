"""Limits of single ingredients, the present mix, and limits that contradict each other."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping

from baitwright.blending import wanted
from baitwright.blending.candidate import Candidate
from baitwright.blending.rows import Row, RowKind, Sense, told
from baitwright.blending.wanted import Ask
from baitwright.quantities import show
from baitwright.terms.errors import InputError
from baitwright.workshop.wishes.wishes_tables import WishesFile

_CLOSURE = 0.005
"""Shares sum to 100 % within half a point of rounding."""


def own_limits(file: WishesFile, candidates: tuple[Candidate, ...]) -> list[Row]:
    """The least and the most of single ingredients, in the order of the file."""
    rows = []
    for one, table in zip(candidates, file.ingredients.values(), strict=True):
        for limit, sense in ((table.at_least, Sense.AT_LEAST), (table.at_most, Sense.AT_MOST)):
            if limit is not None:
                rows.append(wanted.share_of(one, Ask(sense, limit)))
    least = math.fsum(table.at_least or 0.0 for table in file.ingredients.values())
    if least > 1.0:
        raise InputError("ingredients", f"{show(least, '%')} at least", "100 % at most together")
    most = [table.at_most for table in file.ingredients.values()]
    if all(one is not None for one in most) and (whole := math.fsum(filter(None, most))) < 1.0:
        raise InputError("ingredients", f"{show(whole, '%')} at most", "100 % or more together")
    return rows


def present_mix(
    file: WishesFile, shelf: Mapping[str, Candidate]
) -> tuple[dict[str, float], tuple[Candidate, ...]]:
    """The present mix by id, and those of its parts that the new mix may not have."""
    made: dict[str, float] = {}
    others: dict[str, Candidate] = {}
    for name, share in file.present.items():
        found = wanted.on_shelf(shelf, name, f"present.{name}")
        key = found.id
        if key not in shelf:
            others[key] = found
        if key in made:
            accepted = f"each ingredient once; {key} is there already"
            raise InputError(f"present.{name}", show(share, "%"), accepted)
        made[key] = share
    total = math.fsum(made.values())
    if made and abs(total - 1.0) > _CLOSURE:
        raise InputError("present", show(total, "%"), "shares that sum to 100 %")
    return {name: share / total for name, share in made.items()}, tuple(others.values())


def refuse_contradictions(rows: Iterable[Row]) -> None:
    """Refuse floors above their own ceilings, and limits of ingredients that cannot make up a mix.

    Raises
    ------
    InputError: the message names the row.
    """
    lows: dict[str, float] = {}
    highs: dict[str, float] = {}
    for row in rows:
        if not row.hard or row.kind in (RowKind.BAN, RowKind.STOCK, RowKind.LIKENESS):
            continue
        if row.sense is not Sense.AT_MOST:
            lows[row.about] = max(lows.get(row.about, -math.inf), row.asked)
        if row.sense is not Sense.AT_LEAST:
            highs[row.about] = min(highs.get(row.about, math.inf), row.asked)
        if lows.get(row.about, -math.inf) > highs.get(row.about, math.inf):
            low, high = (told(ends[row.about], row.unit) for ends in (lows, highs))
            got = f"at least {low} and at most {high}"
            raise InputError(row.about, got, "a least that is no more than the most")
