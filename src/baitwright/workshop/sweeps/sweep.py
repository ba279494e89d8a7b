"""A sweep worked out into one table, whoever works it out, from where it was stopped."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import partial
from pathlib import Path
from time import process_time

from baitwright.terms.errors import InputError
from baitwright.workshop.sweeps.designs import Sweep
from baitwright.workshop.sweeps.engines import Engine
from baitwright.workshop.sweeps.parts import Parts, Told, begin, designs_each
from baitwright.workshop.sweeps.rows import Piece, header, piece, program
from baitwright.workshop.sweeps.sweep_file import SweepRead, read_sweep
from baitwright.workshop.sweeps.table import ending_of, refused_in, write_table

_TRIED = 3
"""Turns of the waters that are planned to tell how long all would take."""


@dataclass(frozen=True, slots=True)
class Count:
    """How many designs there are, and how many seconds of one core each takes."""

    designs: int
    seconds_each: float


def counted(path: Path, *, factors_path: Path | None, clock: Callable[[], datetime]) -> Count:
    """Count the designs of a sweep, and time a few from all over it.

    Raises
    ------
    InputError: anything in the files that cannot be used.
    """
    sweep = read_sweep(path, factors_path=factors_path, now=clock()).sweep
    turns, waters = len(sweep) // len(sweep.waters), len(sweep.waters)
    tried = sorted({turns * (2 * at + 1) // (2 * _TRIED) for at in range(_TRIED)})
    piece(sweep, tried[0] * waters, tried[0] * waters + 1)  # the first loads tables
    began = process_time()
    for turn in tried:
        piece(sweep, turn * waters, (turn + 1) * waters)
    return Count(len(sweep), (process_time() - began) / (len(tried) * waters))


@dataclass(frozen=True, slots=True)
class Begun:
    """A table that was begun: the sweep, its parts, and which of them are missing."""

    sweep: Sweep
    parts: Parts
    missing: tuple[int, ...]

    @property
    def left(self) -> int:
        """Designs that are still to be planned."""
        return sum(len(self.parts.designs(at)) for at in self.missing)

    @property
    def before(self) -> int:
        """Designs that are there already."""
        return len(self.sweep) - self.left

    def work(self, engine: Engine) -> Iterator[int]:
        """Plan what is missing; after each part, how many designs it had.

        Raises
        ------
        InputError: no room, or workers that run another program.
        """
        task = partial(_part, self.sweep, self.parts)
        for at, made in engine.done(task, self.missing):
            if made.program != self.parts.told.program:
                accepted = f"{self.parts.told.program}, as here: numbers could differ"
                raise InputError("scheduler", made.program, accepted)
            self.parts.write(at, made.text)
            yield len(self.parts.designs(at))

    def finish(self) -> Finished:
        """Put the parts together and let go of them.

        Raises
        ------
        InputError: no room.
        """
        out = self.parts.out
        write_table(out, header(self.sweep), self.parts)
        done = Finished(out, len(self.sweep), *refused_in(self.parts))
        self.parts.remove()
        return done


@dataclass(frozen=True, slots=True)
class Finished:
    """A table that is there: its designs, how many could not be planned, or by our fault."""

    out: Path
    designs: int
    refused: int
    faults: int


def begin_sweep(
    path: Path, out: Path, *, factors_path: Path | None, clock: Callable[[], datetime]
) -> Begun:
    """Begin the table of a sweep's file, or go on with it where it was stopped.

    Parameters
    ----------
    path: the sweep's file.
    out: the table, which is not there yet; its ending says its kind.
    factors_path: the maker's own factors.
    clock: tells the local time.

    Raises
    ------
    InputError: anything in the files that cannot be used, a table that is there already, or one
        that was begun with other files or another program.
    """
    ending_of(out)
    if out.exists():
        raise InputError("out", str(out), "a file that is not there yet")
    now = clock()
    read = read_sweep(path, factors_path=factors_path, now=now)
    parts = begin(out, _told(read, now))
    return Begun(read.sweep, parts, tuple(parts.missing()))


def _told(read: SweepRead, now: datetime) -> Told:
    designs = len(read.sweep)
    each = designs_each(designs, len(read.sweep.waters))
    return Told(program(), read.marks, designs, each, now.isoformat())


def _part(sweep: Sweep, parts: Parts, at: int) -> Piece:
    designs = parts.designs(at)
    return piece(sweep, designs.start, designs.stop)
