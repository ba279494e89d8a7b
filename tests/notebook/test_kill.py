"""Killed in the middle of writing, again and again: what was acknowledged is there, no half is."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime
from multiprocessing import Pipe, get_context
from multiprocessing.connection import Connection
from multiprocessing.process import BaseProcess
from pathlib import Path
from typing import Any

import psycopg
import pytest

from baitwright.ledger.movements import book_of
from baitwright.notebook.keeper import keeper_of
from baitwright.notebook.page import Page
from baitwright.notebook.soundness import examine
from baitwright.notebook.store import open_notebook
from baitwright.notebook.where import Server, Where, folder_of
from tests.notebook.cluster import Cluster
from tests.notebook.kitchen import room_in
from tests.notebook.writer import IN_A_FILE, begin

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
KENNEL = get_context("forkserver")
"""Each writer is a process of its own, forked from one that has read the program already."""
KENNEL.set_forkserver_preload(["tests.notebook.writer"])
HIT_WANTED = 0.3
"""At least this share of the kills are to land inside a write."""


Record = Callable[[str, object], None]


@dataclass(frozen=True, slots=True)
class Run:
    """What a killed writer had said: writes begun, and writes it was told are kept."""

    begun: int
    kept: int

    @property
    def inside(self) -> bool:
        """Whether it died between beginning a write and hearing that it is kept."""
        return self.begun > self.kept


@dataclass(slots=True)
class Killer:
    """Kills writers of one sort after a random while, and counts how many died inside a write.

    ``of`` is what they do, ``inside`` what that is called in the report, ``longest`` how many
    seconds a writer lives on after its last write was begun; ``shortest`` is the least of it.
    """

    of: str
    inside: str
    seed: int
    longest: float
    shortest: float = 0.0
    runs: int = 0
    hits: int = 0
    dice: random.Random = field(init=False)

    def __post_init__(self) -> None:
        self.dice = random.Random(self.seed)

    def kill(self, place: Where, first: int = 0, *, after: int, **how: Any) -> Run:
        """One writer killed, who kept some writes before."""
        delay = self.shortest + self.dice.random() * self.longest
        run = killed(self.of, place, first, after=after, delay=delay, **how)
        self.runs, self.hits = self.runs + 1, self.hits + run.inside
        return run

    def tell(self, record: Record) -> None:
        """For the report; and enough of them are to have died inside."""
        record("killed", self.runs)
        record(self.inside, self.hits)
        assert self.hits >= HIT_WANTED * self.runs


def killed(
    what: str,
    place: Where,
    first: int,
    *,
    after: int,
    delay: float,
    kill: Callable[[BaseProcess], None] = BaseProcess.kill,
) -> Run:
    """Start a writer, let it keep so many writes, begin one more, and kill it."""
    told = place.url if isinstance(place, Server) else str(place)
    ear, mouth = Pipe(duplex=False)
    at = (told, str(folder_of(place)))
    writer = KENNEL.Process(target=begin, args=(what, at, first, mouth))
    writer.start()
    mouth.close()  # the writer has its own; when that one is gone, all is heard
    heard = said_by(ear)
    said = Counter[str]()
    for word in heard:
        said[word] += 1
        if said["begun"] > after:
            break
    writer.join(delay)
    if writer.is_alive():
        kill(writer)
    said.update(heard)
    writer.join()
    return Run(first + said["begun"], first + said["kept"])


def said_by(ear: Connection) -> Iterator[str]:
    """What a writer says until it is gone."""
    with ear, suppress(EOFError, ConnectionError):
        while True:
            yield ear.recv()


@pytest.mark.simulation
def test_nothing_acknowledged_is_lost_and_nothing_half_written(
    place: Where, sample_size: Callable[[int, int], int], record_property: Record
) -> None:
    few_and_many = (5, 100) if isinstance(place, Server) else (8, 500)
    killer, there = Killer("write", "inside a write", 20261127, longest=0.004), 0
    open_notebook(place, now=NOW).close()
    for _ in range(sample_size(*few_and_many)):
        run = killer.kill(place, there, after=killer.dice.randrange(3))
        there = checked(place, run)
    killer.tell(record_property)


@pytest.mark.simulation
def test_a_killed_import_brought_all_of_its_file_or_nothing(
    place: Where, sample_size: Callable[[int, int], int], record_property: Record
) -> None:
    killer = Killer("import", "inside an import", 20261130, longest=0.2, shortest=0.05)
    there = 0
    open_notebook(place, now=NOW).close()
    for _ in range(sample_size(3, 30)):
        run = killer.kill(place, there, after=1)
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
    killer.tell(record_property)


def new_room(place: Where, at: int) -> Where:
    """Another place for a notebook."""
    made = room_in(place, at)
    if isinstance(place, Server):
        with psycopg.connect(place.url, autocommit=True) as connection:
            connection.execute(f"CREATE SCHEMA IF NOT EXISTS room{at}")
    return made


def rooms_left_by(killer: Killer, place: Where, runs: int) -> Iterator[tuple[Where, Page]]:
    """Notebooks that killed writers were at, one after the other, opened by the next."""
    first = 0
    for _ in range(runs):
        for at in range(first, first + 5):
            new_room(place, at)
        run = killer.kill(place, first, after=killer.dice.randrange(2))
        for at in range(first, run.begun):
            made = room_in(place, at)
            book = open_notebook(made, now=NOW)
            with book.reading() as page:
                yield made, page
            book.close()
        first = run.begun + 1  # the next may be half laid out


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
    place: Where, sample_size: Callable[[int, int], int], record_property: Record
) -> None:
    few_and_many = (2, 50) if isinstance(place, Server) else (4, 100)
    killer = Killer("restore", "inside a restore", 20261128, longest=0.03)
    for at in range(sample_size(*few_and_many)):
        begun = new_room(place, at)
        open_notebook(begun, now=NOW).close()
        killer.kill(begun, after=killer.dice.randrange(3))
        assert keeper_of(begun).problem() == ""
        book = open_notebook(begun, now=NOW)
        with book.writing() as page:
            assert len(page.all("more")) in (0, 200)
        book.close()
        for copy in (folder_of(begun) / "backups").glob("*.sqlite"):
            assert examine(copy) == ""
    killer.tell(record_property)


@pytest.mark.simulation
def test_a_notebook_half_made_is_made_whole_by_the_next(
    place: Where, sample_size: Callable[[int, int], int], record_property: Record
) -> None:
    few_and_many = (2, 50) if isinstance(place, Server) else (4, 100)
    killer = Killer("make", "inside its making", 20261129, longest=0.1)
    for made, page in rooms_left_by(killer, place, sample_size(*few_and_many)):
        assert page.all("tub") == ()
        assert keeper_of(made).problem() == ""
    killer.tell(record_property)


@pytest.mark.simulation
def test_a_step_cut_short_is_taken_whole_by_the_next(
    place: Where, sample_size: Callable[[int, int], int], record_property: Record
) -> None:
    few_and_many = (2, 50) if isinstance(place, Server) else (4, 100)
    killer = Killer("step", "inside a step", 20261201, longest=0.1)
    for made, page in rooms_left_by(killer, place, sample_size(*few_and_many)):
        assert [one.version for one in page.all("recipe")] == [1]
        copies = list((folder_of(made) / "backups").glob("*.sqlite"))
        assert copies
        assert [examine(copy) for copy in copies] == [""] * len(copies)
    killer.tell(record_property)


@pytest.mark.simulation
def test_a_server_that_falls_over_keeps_what_it_acknowledged(
    cluster: Cluster,
    tmp_path: Path,
    sample_size: Callable[[int, int], int],
    record_property: Record,
) -> None:
    killer = Killer("write", "inside a write", 20261130, longest=0.004)
    place, there = cluster.place(tmp_path), 0
    open_notebook(place, now=NOW).close()
    for _ in range(sample_size(2, 20)):
        run = killer.kill(place, there, after=killer.dice.randrange(20), kill=cluster.fall)
        cluster.start()
        there = checked(place, run)
    record_property("fallen", killer.runs)
    record_property(killer.inside, killer.hits)
