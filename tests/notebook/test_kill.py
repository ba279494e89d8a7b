"""Killed in the middle of writing, again and again: what was acknowledged is there, no half is."""

from __future__ import annotations

import random
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path

import psycopg
import pytest

from baitwright.ledger.movements import book_of
from baitwright.notebook.keeper import keeper_of
from baitwright.notebook.soundness import examine
from baitwright.notebook.store import open_notebook
from baitwright.notebook.where import Server, Where, folder_of
from tests.notebook.cluster import Cluster
from tests.notebook.kitchen import room_in
from tests.notebook.writer import IN_A_FILE

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


def killed(
    what: str,
    place: Where,
    first: int,
    *,
    after: int,
    delay: float,
    kill: Callable[[subprocess.Popen[str]], None] = subprocess.Popen.kill,
) -> Run:
    """Start a writer, let it keep so many writes, begin one more, and kill it."""
    told = place.url if isinstance(place, Server) else str(place)
    command = [sys.executable, "-m", "tests.notebook.writer", what, told, str(first)]
    command.append(str(folder_of(place)))
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
            kill(writer)
        rest = writer.stdout.read()
    return Run(begun + rest.count("begun"), kept + rest.count("kept"))


@pytest.mark.simulation
def test_nothing_acknowledged_is_lost_and_nothing_half_written(
    place: Where, sample_size: Callable[[int, int], int], record_property: Callable[..., None]
) -> None:
    few_and_many = (5, 100) if isinstance(place, Server) else (12, 500)
    runs, generator = sample_size(*few_and_many), random.Random(20261127)
    hits = there = 0
    open_notebook(place, now=NOW).close()
    for _ in range(runs):
        after, delay = generator.randrange(3), generator.random() * 0.004
        run = killed("write", place, there, after=after, delay=delay)
        hits += run.inside
        there = checked(place, run)
    record_property("killed", runs)
    record_property("inside a write", hits)
    assert hits >= HIT_WANTED * runs


@pytest.mark.simulation
def test_a_killed_import_brought_all_of_its_file_or_nothing(
    place: Where, sample_size: Callable[[int, int], int], record_property: Callable[..., None]
) -> None:
    runs, generator = sample_size(3, 30), random.Random(20261130)
    open_notebook(place, now=NOW).close()
    hits = there = 0
    for _ in range(runs):
        run = killed("import", place, there, after=1, delay=0.05 + generator.random() * 0.2)
        hits += run.inside
        assert keeper_of(place).problem() == ""
        book = open_notebook(place, now=NOW)
        with book.writing() as page:  # when the killed one has let go of the pen
            batches, lines, links = page.all("tub"), page.book_lines(), page.links()
            levels = page.lots("eggs")
        book.close()
        there, rest = divmod(len(batches), IN_A_FILE)
        assert rest == 0
        assert run.kept <= there <= run.begun
        assert len(lines) == len(links) == len(batches)
        assert levels == ({"eggs": sum(one.amount for one in lines)} if lines else {})
    record_property("killed", runs)
    record_property("inside an import", hits)
    assert hits >= HIT_WANTED * runs


def new_room(place: Where, at: int) -> Where:
    """Another place for a notebook."""
    made = room_in(place, at)
    if isinstance(place, Server):
        with psycopg.connect(place.url, autocommit=True) as connection:
            connection.execute(f"CREATE SCHEMA IF NOT EXISTS room{at}")
    return made


def checked(place: Where, run: Run) -> int:
    """How many writes are in the notebook: all that were kept, each whole, and at most one more."""
    assert keeper_of(place).problem() == ""
    book = open_notebook(place, now=NOW)
    with book.writing() as page:  # when the killed one has let go of the pen
        batches, lines = page.all("tub"), page.book_lines()
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
    place: Where, sample_size: Callable[[int, int], int], record_property: Callable[..., None]
) -> None:
    few_and_many = (3, 50) if isinstance(place, Server) else (6, 100)
    runs, generator, hits = sample_size(*few_and_many), random.Random(20261128), 0
    for at in range(runs):
        begun = new_room(place, at)
        open_notebook(begun, now=NOW).close()
        delay = generator.random() * 0.03
        run = killed("restore", begun, 0, after=generator.randrange(3), delay=delay)
        hits += run.inside
        assert keeper_of(begun).problem() == ""
        book = open_notebook(begun, now=NOW)
        with book.writing() as page:
            assert len(page.all("more")) in (0, 200)
        book.close()
        for copy in (folder_of(begun) / "backups").glob("*.sqlite"):
            assert examine(copy) == ""
    record_property("killed", runs)
    record_property("inside a restore", hits)
    assert hits >= HIT_WANTED * runs


@pytest.mark.simulation
def test_a_notebook_half_made_is_made_whole_by_the_next(
    place: Where, sample_size: Callable[[int, int], int], record_property: Callable[..., None]
) -> None:
    few_and_many = (3, 50) if isinstance(place, Server) else (6, 100)
    runs, generator, hits, first = sample_size(*few_and_many), random.Random(20261129), 0, 0
    for _ in range(runs):
        for at in range(first, first + 5):
            new_room(place, at)
        delay = generator.random() * 0.1
        run = killed("make", place, first, after=generator.randrange(2), delay=delay)
        hits += run.inside
        for at in range(first, run.begun):
            made = room_in(place, at)
            book = open_notebook(made, now=NOW)
            with book.reading() as page:
                assert page.all("tub") == ()
            book.close()
            assert keeper_of(made).problem() == ""
        first = run.begun
    record_property("killed", runs)
    record_property("inside its making", hits)
    assert hits >= HIT_WANTED * runs


@pytest.mark.simulation
def test_a_step_cut_short_is_taken_whole_by_the_next(
    place: Where, sample_size: Callable[[int, int], int], record_property: Callable[..., None]
) -> None:
    few_and_many = (3, 50) if isinstance(place, Server) else (6, 100)
    runs, generator, hits, first = sample_size(*few_and_many), random.Random(20261201), 0, 0
    for _ in range(runs):
        for at in range(first, first + 5):
            new_room(place, at)
        delay = generator.random() * 0.1
        run = killed("step", place, first, after=generator.randrange(2), delay=delay)
        hits += run.inside
        for at in range(first, run.begun):
            made = room_in(place, at)
            book = open_notebook(made, now=NOW)
            with book.reading() as page:
                assert [one.version for one in page.all("recipe")] == [1]
            book.close()
            copies = list((folder_of(made) / "backups").glob("*.sqlite"))
            assert copies
            assert [examine(copy) for copy in copies] == [""] * len(copies)
        first = run.begun + 1  # the next may be half laid out
    record_property("killed", runs)
    record_property("inside a step", hits)
    assert hits >= HIT_WANTED * runs


@pytest.mark.simulation
def test_a_server_that_falls_over_keeps_what_it_acknowledged(
    cluster: Cluster,
    tmp_path: Path,
    sample_size: Callable[[int, int], int],
    record_property: Callable[..., None],
) -> None:
    runs, generator = sample_size(2, 20), random.Random(20261130)
    place, hits, there = cluster.place(tmp_path), 0, 0
    open_notebook(place, now=NOW).close()
    for _ in range(runs):
        after, delay = generator.randrange(20), generator.random() * 0.004
        run = killed("write", place, there, after=after, delay=delay, kill=cluster.fall)
        cluster.start()
        hits += run.inside
        there = checked(place, run)
    record_property("fallen", runs)
    record_property("inside a write", hits)
