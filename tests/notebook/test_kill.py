"""Killed in the middle of writing, again and again: what was acknowledged is there, no half is."""

from __future__ import annotations

import random
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import pytest

from baitwright.ledger.movements import book_of
from baitwright.notebook.soundness import examine
from baitwright.notebook.store import open_notebook

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
ROOT = Path(__file__).resolve().parents[2]
HIT_WANTED = 0.3
"""At least this share of the kills are to land inside a write."""


@dataclass(frozen=True, slots=True)
class Run:
    """What a killed writer had said: writes begun, and writes it was told are kept."""

    begun: int
    kept: int

    @property
    def inside(self) -> bool:
        """Whether it died between beginning a write and hearing that it is kept."""
        return self.begun > self.kept


def killed(what: str, place: Path, first: int, *, after: int, delay: float) -> Run:
    """Start a writer, let it keep so many writes, begin one more, and kill it."""
    command = [sys.executable, "-m", "tests.notebook.writer", what, str(place), str(first)]
    begun = kept = first
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, text=True) as writer:
        assert writer.stdout is not None
        for line in writer.stdout:
            begun, kept = (begun + (line == "begun\n"), kept + (line == "kept\n"))
            if begun >= first + after + 1:
                break
        try:
            writer.wait(delay)
        except subprocess.TimeoutExpired:
            writer.kill()
        rest = writer.stdout.read()
    return Run(begun + rest.count("begun"), kept + rest.count("kept"))


@pytest.mark.simulation
def test_nothing_acknowledged_is_lost_and_nothing_half_written(
    tmp_path: Path, sample_size: Callable[[int, int], int], record_property: Callable[..., None]
) -> None:
    runs, generator = sample_size(12, 500), random.Random(20261127)
    place, hits, there = tmp_path / "notebook.sqlite", 0, 0
    open_notebook(place, now=NOW).close()
    for _ in range(runs):
        after, delay = generator.randrange(3), generator.random() * 0.004
        run = killed("write", place, there, after=after, delay=delay)
        hits += run.inside
        there = checked(place, run)
    record_property("killed", runs)
    record_property("inside a write", hits)
    assert hits >= HIT_WANTED * runs


def checked(place: Path, run: Run) -> int:
    """How many writes are in the notebook: all that were kept, each whole, and at most one more."""
    assert examine(place) == ""
    book = open_notebook(place, now=NOW)
    with book.reading() as page:
        batches, lines = page.all("batch"), page.book_lines()
        standing = book_of(lines)
        links = page.links()
    book.close()
    assert run.kept <= len(batches) <= run.begun
    # One write is a batch, a line in for its bag and two out, and a link: all of them or none.
    assert len(lines) == 3 * len(batches)
    assert len(links) == len(batches)
    assert standing.lots.get("baits", 0) == 50 * len(batches)
    assert standing.lots.get("eggs", 0) == -3 * len(batches)
    return len(batches)


@pytest.mark.simulation
def test_a_copy_put_back_is_there_whole_or_not_at_all(
    tmp_path: Path, sample_size: Callable[[int, int], int], record_property: Callable[..., None]
) -> None:
    runs, generator, hits = sample_size(6, 100), random.Random(20261128), 0
    for at in range(runs):
        place = tmp_path / str(at) / "notebook.sqlite"
        open_notebook(place, now=NOW).close()
        delay = generator.random() * 0.03
        run = killed("restore", place, 0, after=generator.randrange(3), delay=delay)
        hits += run.inside
        assert examine(place) == ""
        book = open_notebook(place, now=NOW)
        with book.reading() as page:
            assert len(page.all("more")) in (0, 200)
        book.close()
        for copy in (place.parent / "backups").glob("*.sqlite"):
            assert examine(copy) == ""
    record_property("killed", runs)
    record_property("inside a restore", hits)
    assert hits >= HIT_WANTED * runs


@pytest.mark.simulation
def test_a_notebook_half_made_is_made_whole_by_the_next(
    tmp_path: Path, sample_size: Callable[[int, int], int], record_property: Callable[..., None]
) -> None:
    runs, generator, hits, first = sample_size(6, 100), random.Random(20261129), 0, 0
    for _ in range(runs):
        delay = generator.random() * 0.1
        run = killed("make", tmp_path / "x", first, after=generator.randrange(2), delay=delay)
        hits += run.inside
        for at in range(first, run.begun):
            place = tmp_path / f"new-{at}.sqlite"
            book = open_notebook(place, now=NOW)
            with book.reading() as page:
                assert page.all("batch") == ()
            book.close()
            assert examine(place) == ""
        first = run.begun
    record_property("killed", runs)
    record_property("inside its making", hits)
    assert hits >= HIT_WANTED * runs


@pytest.mark.simulation
def test_a_step_is_taken_whole_or_by_the_next(
    tmp_path: Path, sample_size: Callable[[int, int], int], record_property: Callable[..., None]
) -> None:
    runs, generator, hits, first = sample_size(4, 100), random.Random(20261130), 0, 0
    for _ in range(runs):
        delay = generator.random() * 0.1
        run = killed("step", tmp_path / "x", first, after=generator.randrange(2), delay=delay)
        hits += run.inside
        for at in range(first, run.begun):
            place = tmp_path / f"old-{at}" / "notebook.sqlite"
            assert examine(place) == ""
            book = open_notebook(place, now=NOW)
            with book.reading() as page:
                assert [one.version for one in page.history("recipe", "Copper")] == [1, 2]
                assert page.account("semolina") == book_of(page.book_lines()).items["semolina"]
            book.close()
            assert [examine(copy) for copy in (place.parent / "backups").glob("*.sqlite")] != []
        first = run.begun
    record_property("killed", runs)
    record_property("inside a step", hits)
    assert hits >= HIT_WANTED * runs
