"""How far a syringe, a scale or a calliper repeats itself, from a small table of readings."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from statistics import fmean

import numpy as np

from baitwright.learning.gauge import GaugeStudy, gauge_study
from baitwright.quantities import Kind, from_si, read
from baitwright.terms.errors import InputError

UNITS = {Kind.MASS: "g", Kind.LENGTH: "mm", Kind.VOLUME: "ml"}
"""What is weighed, measured or drawn, and the unit that it is told in."""


@dataclass(frozen=True, slots=True)
class Repeated:
    """A study of readings in one unit; by how much they are ``off`` what was wanted, where told."""

    study: GaugeStudy
    unit: str
    mean: float
    off: float | None


def repeated(rows: Sequence[str], *, wanted: str = "") -> Repeated:
    """Take repeated readings apart into thing and gauge.

    Parameters
    ----------
    rows: the readings of one thing each, such as ``"1.02 g, 1.03 g"``; hands parted by ``/``.
    wanted: what every thing should have been, where that is one number.

    Raises
    ------
    InputError: a reading that is none, units of two kinds, or rows that are not alike.
    """
    kind = _kind_of(rows)
    table = [
        [
            [read(text.strip(), kind, f"row {at}") for text in hand.split(",")]
            for hand in row.split("/")
        ]
        for at, row in enumerate(rows, start=1)
    ]
    shapes = {tuple(len(hand) for hand in row) for row in table}
    if len(shapes) != 1 or len(set(next(iter(shapes)))) != 1:
        raise InputError("readings", None, "as many in every row, and of every hand")
    unit = UNITS[kind]
    shown = [[[from_si(value, unit) for value in hand] for hand in row] for row in table]
    mean = fmean(value for row in shown for hand in row for value in hand)
    off = mean - from_si(read(wanted, kind, "wanted"), unit) if wanted else None
    return Repeated(gauge_study(np.array(shown)), unit, mean, off)


def _kind_of(rows: Sequence[str]) -> Kind:
    """Weights, lengths or volumes, by the first reading; the others must be of its kind."""
    first = rows[0].split("/")[0].split(",")[0].strip() if rows else ""
    for kind in UNITS:
        try:
            read(first, kind, "row 1")
        except InputError:
            continue
        return kind
    raise InputError("row 1", first or None, "a weight, a length or a volume, such as 1.02 g")
