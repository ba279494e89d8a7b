"""Rows of a sweep: designs planned one after another, baits made once for all their waters."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import numpy as np

from baitwright import __version__
from baitwright.batch.batch_plan import PlanRequest
from baitwright.batch.to_tray import OnTray, to_tray
from baitwright.quantities import from_si
from baitwright.terms.errors import InputError
from baitwright.workshop.sweeps.designs import Design, Sweep
from baitwright.workshop.sweeps.outcomes import columns, outcomes
from baitwright.workshop.told.spreadsheet import spreadsheet_text

AXES = (
    *("design", "mix", "size_mm", "core_mm", "level_percent"),
    *("water", "lake_c", "salinity_percent"),
)
ERROR = "error"
WORDS = ("mix", "water", ERROR)
"""Columns of words; all others are numbers."""
OUR_FAULT = "our fault, not yours: "
Row = list[int | float | str]


def header(sweep: Sweep) -> tuple[str, ...]:
    """The names of all columns."""
    return (*AXES, *columns(sweep.tell), ERROR)


def program() -> str:
    """What numbers hang on besides their request: versions that tell them to the last bit."""
    return f"baitwright {__version__}, numpy {np.__version__}"


@dataclass(frozen=True, slots=True)
class Piece:
    """Rows as a file has them, and what worked them out."""

    text: str
    program: str


def piece(sweep: Sweep, first: int, last: int) -> Piece:
    """The rows of the designs from one number up to another, which is not among them."""
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="\r\n").writerows(rows_of(sweep, range(first, last)))
    return Piece(text.getvalue(), program())


def rows_of(sweep: Sweep, numbers: Iterable[int]) -> Iterator[Row]:
    """A row for each design; one that cannot be planned has its error in place of numbers."""
    maker, gap = _Maker(), [""] * len(columns(sweep.tell))
    for number in numbers:
        design = sweep.design(number)
        told: list[float] | list[str]
        try:
            request = sweep.request(design)
            told, error = outcomes(maker.made(request), request.bench, sweep.tell), ""
        except InputError as refused:
            told, error = gap, spreadsheet_text(str(refused))
        except Exception as fault:  # told in its row: a million others do not wait for it
            told, error = gap, f"{OUR_FAULT}{type(fault).__name__}: {fault}"
        yield [number, *_axes(design), *told, error]


def _axes(design: Design) -> Iterator[float | str]:
    yield spreadsheet_text(design.mix.base.name)
    yield _shown(design.size, "mm")
    yield _shown(0.0 if design.core is None else design.core.across, "mm")
    yield _shown(design.level, "%")
    yield spreadsheet_text(design.water.name)
    yield _shown(design.water.temperature, "C")
    yield _shown(design.water.salinity, "%")


def _shown(value: float, unit: str) -> float:
    """What was typed, without what it gained on its way to SI and back."""
    return round(from_si(value, unit), 6)


class _Maker:
    """Makes baits, unless those of the design before are the same in all but their water."""

    def __init__(self) -> None:
        self._key: object = None
        self._made: OnTray | InputError | None = None

    def made(self, request: PlanRequest) -> OnTray:
        """Dry baits of a request.

        Raises
        ------
        InputError: as `to_tray`.
        """
        bench = request.bench
        lake = None if request.recipe.coat is None else (bench.lake_temperature, bench.rig)
        key = (request.recipe, lake)
        if self._made is None or key != self._key:
            self._key = key
            try:
                self._made = to_tray(request)
            except InputError as error:
                self._made = error
        if isinstance(self._made, InputError):
            raise self._made
        return self._made
