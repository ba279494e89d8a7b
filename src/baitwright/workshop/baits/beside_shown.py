"""Two baits side by side as tables of a page."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from itertools import groupby

from baitwright.sheets.wording import Figure, figure
from baitwright.terms.quantity import Quantity
from baitwright.workshop.baits.bait_beside import BesideRow
from baitwright.workshop.told.answer_parts import Grid, said

BELOW = "Below each number the band that holds 8 of 10."


def beside_grids(rows: Sequence[BesideRow], heads: tuple[str, str]) -> tuple[Grid, ...]:
    """A table of both for each thing they are compared in."""
    return tuple(
        Grid(
            f"{about[0].upper()}{about[1:]}",
            ("", *heads),
            tuple((said(one.label), _cell(one.first), _cell(one.second)) for one in few),
        )
        for about, few in groupby(rows, lambda one: one.about)
    )


def day_of(now: datetime) -> datetime:
    """The day of an hour: two baits side by side are the same all day."""
    return now.replace(hour=0, minute=0, second=0, microsecond=0)


def _cell(one: Quantity | None) -> Figure:
    return said("none") if one is None else figure(one)
