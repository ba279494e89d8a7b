"""A notebook of many seasons: lists, searches, traces and costs, and what a write costs.

10,000 batches with ten lines of the book each are written through the same pages as a maker's; the
questions are then asked of the notebook opened anew, and writes are timed beside a bare SQLite
commit of as many rows on the same disk.
"""

from __future__ import annotations

import resource
import sqlite3
import tempfile
from collections.abc import Callable, Iterator
from contextlib import closing
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from pathlib import Path
from random import Random
from statistics import median
from time import perf_counter

from baitwright.ledger.cost import batch_cost
from baitwright.ledger.movements import Movement, Reason
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.attachments import shelf_beside
from baitwright.notebook.page import Page
from baitwright.notebook.plain_pages import follow, pages_beside
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.workshop.batches.batch_list import last_batches
from baitwright.workshop.batches.batches import BATCH
from baitwright.workshop.copies.export_all import export_all
from baitwright.workshop.shelf.lots import LOT, Lot
from baitwright.workshop.shelf.stock import ITEM, shelves
from baitwright.workshop.traces.traces import trace

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
BATCHES, ITEMS, TAKEN, LOTS_EACH = 10_000, 40, 8, 25
LEFT = 100
"""Batches of which baits are left; the older ones are sold."""
ROUNDS, WRITES = 15, 200
_WORDS = ("caraway", "malt", "yeast", "plum", "fennel", "butter", "honey", "anise")


@dataclass(frozen=True)
class Question:
    """What is asked of the notebook, and the time it is to be answered near, ms."""

    name: str
    ask: Callable[[Notebook], object]
    goal_ms: float


def write_seasons(book: Notebook, batches: int) -> None:
    """Deliveries of every item, then batches that take of eight things and give a lot each."""
    random = Random(20261127)
    with book.writing() as page:
        page.write(ITEM, "baits", {"counted": "pieces"}, seen=0, time=NOW)
        for item in range(ITEMS):
            _deliver(page, item)
        for at in range(batches):
            _make(page, at, random, batches=batches)
            if at >= LEFT:
                _sell(page, at - LEFT)


def _deliver(page: Page, item: int) -> None:
    name = f"item {item:02d}"
    page.write(ITEM, name, {"counted": "mg"}, seen=0, time=NOW)
    for at in range(LOTS_EACH):
        lot, supplied = f"lot {item:02d}/{at}", Place(Stop.SUPPLIED, f"Mill S-{item}-{at}")
        page.write(LOT, lot, Lot(name, "2016-01-01").as_body(), seen=0, time=NOW)
        page.post([Movement(name, lot, NOW, 10**10, Decimal(20_000), Reason.BOUGHT)])
        page.link(Link(supplied, Place(Stop.INGREDIENT, lot)))


def _make(page: Page, at: int, random: Random, *, batches: int) -> None:
    time = NOW - timedelta(days=3650 * (batches - at) / batches)
    name, day = f"{time.date()}/B{at}", time.date().isoformat()
    body = {
        "about": f"recipe {at % 60}",
        "day": day,
        "state": "made",
        "predicted": {f"reading {one}": [0.9, 1.0, 1.1] for one in range(7)},
        "actual": {f"reading {one}": random.random() for one in range(7)},
        "remark": " ".join(random.choices(_WORDS, k=40)),
    }
    into = Place(Stop.BATCH, name)
    lines, came = [], []
    for item in random.sample(range(ITEMS), TAKEN):
        lot = f"lot {item:02d}/{min(at * LOTS_EACH // batches, LOTS_EACH - 1)}"
        value = Decimal(-random.randrange(1, 10**6)) / 10**6
        lines.append(Movement(f"item {item:02d}", lot, time, -270_000, value, Reason.USED))
        came.append(Link(Place(Stop.INGREDIENT, lot), into))
    page.link(*came)
    worth = -sum((one.value for one in lines), Decimal(0))
    lines.append(Movement("baits", name, time, 264, worth, Reason.MADE))
    page.write(LOT, name, Lot("baits", day, stop="batch").as_body(), seen=0, time=time)
    page.write(BATCH, name, {**body, "entries": [page.post(lines)]}, seen=0, time=time)


def _sell(page: Page, at: int) -> None:
    """The baits of an older batch, at the average."""
    (lot,) = (one for one in page.lots("baits") if one.endswith(f"/B{at}"))
    worth = page.account("baits").worth_of(264)
    page.post([Movement("baits", lot, NOW, -264, -worth, Reason.SOLD)])


def questions(last: str) -> list[Question]:
    """What a maker asks day by day."""
    return [
        Question("list of the last 50 batches", last_batches, 50.0),
        Question("search of all remarks", lambda book: last_batches(book, words="plum fen"), 50.0),
        Question("search that finds nothing", lambda book: last_batches(book, words="zzz"), 50.0),
        Question("trace of a batch back", lambda book: trace(book, last), 50.0),
        Question("trace of a delivery onward", lambda book: trace(book, "Mill S-3-7"), 50.0),
        Question("cost of a batch", lambda book: _cost(book, last), 50.0),
        Question("the whole shelf", shelves, 50.0),
    ]


def _cost(book: Notebook, name: str) -> object:
    with book.reading() as page:
        found = page.latest(BATCH, name)
        assert found is not None
        assert found.body is not None
        lines = [one for entry in found.body["entries"] for one in page.entry_lines(entry)]
        return batch_cost((one for one in lines if one.reason is Reason.USED), baits=264)


def written_ms(book: Notebook, batches: int) -> float:
    """A batch of ten lines, ten links and a record, acknowledged."""
    random, took = Random(1), []
    for at in range(WRITES):
        began = perf_counter()
        with book.writing() as page:
            _make(page, batches + at, random, batches=batches)
        took.append(1e3 * (perf_counter() - began))
    return median(took)


def followed_ms(book: Notebook, batches: int) -> float:
    """The plain pages beside the notebook brought up to one more batch."""
    folder, took = pages_beside(book.place), []
    follow(book, folder, now=NOW)
    for at in range(WRITES):
        with book.writing() as page:
            _make(page, batches + WRITES + at, Random(at), batches=batches)
        began = perf_counter()
        follow(book, folder, now=NOW)
        took.append(1e3 * (perf_counter() - began))
    return median(took)


def bare_ms(place: Path) -> float:
    """As many rows through SQLite alone, as safely, on the same disk."""
    took = []
    with closing(sqlite3.connect(place, isolation_level=None)) as bare:
        bare.execute("PRAGMA journal_mode = WAL")
        bare.execute("PRAGMA synchronous = FULL")
        bare.execute("CREATE TABLE lines (id INTEGER PRIMARY KEY, name TEXT, body TEXT)")
        bare.execute("CREATE INDEX by_name ON lines (name)")
        for at in range(WRITES):
            rows = [(f"{at} {one}", "x" * 60) for one in range(20)] + [(f"{at}", "x" * 1000)] * 2
            began = perf_counter()
            bare.execute("BEGIN IMMEDIATE")
            bare.executemany("INSERT INTO lines (name, body) VALUES (?, ?)", rows)
            bare.execute("COMMIT")
            took.append(1e3 * (perf_counter() - began))
    return median(took)


def report(*, quick: bool = False) -> Iterator[str]:
    """Sizes, then each question beside its goal, then a write beside a bare commit."""
    batches = BATCHES // 20 if quick else BATCHES
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder) / "notebook.sqlite"
        book, began = open_notebook(place, now=NOW), perf_counter()
        write_seasons(book, batches)
        took, last = perf_counter() - began, last_batches(book, 1)[0].name
        lines = batches * (TAKEN + 2)
        yield f"a notebook of {batches} batches and {lines} lines, written in {took:.0f} s"
        book.close()
        book = open_notebook(place, now=NOW)
        for one in questions(last):
            times = []
            for _ in range(ROUNDS):
                began = perf_counter()
                one.ask(book)
                times.append(1e3 * (perf_counter() - began))
            yield f"  {one.name:28}{median(times):8.1f} ms  goal {one.goal_ms:.0f} ms"
        ours, bare = written_ms(book, batches), bare_ms(place.with_name("bare.sqlite"))
        ratio = f"{ours / bare:.1f} x a bare commit, goal 3 x"
        yield f"  {'a batch written':28}{ours:8.1f} ms  {ratio}"
        began = perf_counter()
        export_all(book, place.with_name("all.zip"), files=shelf_beside(place), now=NOW)
        yield f"  {'everything exported':28}{perf_counter() - began:8.1f} s   goal 10 s"
        yield f"  {'plain pages of a batch':28}{followed_ms(book, batches):8.1f} ms"
        book.close()
        size = place.stat().st_size / 1e6
        yield f"  file {size:.0f} MB, peak memory {_peak_mb():.0f} MB, goal 300 MB"


def _peak_mb() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
