"""Several workshops on one PostgreSQL database: whatever was acknowledged is there, once.

Four processes of `baitwright open`, two to an account, and many hands at each who change the same
records, lots and batches at the same time. Short here; as long as the figures of `docs/quality.md`
say with ``--long``.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime
from decimal import Decimal
from functools import partial
from itertools import count
from pathlib import Path
from random import Random
from statistics import median, quantiles
from time import monotonic, perf_counter, sleep

import pytest

from baitwright.ledger.movements import Amount, Counted
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.notebook.where import Server
from baitwright.workshop.bench.bench_book import look
from baitwright.workshop.opening.standing import Standing
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.stock import shelves
from tests.notebook.cluster import Cluster
from tests.web.benches import with_a_batch
from tests.web.open_workshop import Caller, Open, opened
from tests.workshop.batching import DELIVERIES, of_weight

pytestmark = pytest.mark.load
Record = Callable[[str, object], None]
Sample = Callable[[int, int], int]

PROCESSES, HANDS, SECONDS = 4, 24, 90
PAUSE = 1
"""Seconds between two deeds of one hand on the mean, with ``--long`` (judgement); else none."""
BAITS, BAGGED = 264, 3
CORKS = Delivery("cork ball 9mm", Amount(500, Counted.PIECES), Decimal("25.00"))
GRITS = Delivery("semolina", of_weight(10_000), Decimal("12.00"))
NIGHT = "/notebook/night/change?name=Counted"
BATCH = "2026-11-27/B"
BUSY = "Another window is writing in it"
"""What is refused is to be sent again; plain pages that could not follow do at the next writing."""


@pytest.fixture
def shop(cluster: Cluster, tmp_path: Path) -> Server:
    """A notebook of several, with two planned batches, their goods, and a night to be counted."""
    place = cluster.place(tmp_path / "first" / "baitwright")
    standing = Standing(place)
    with standing.writing() as book:
        for one in (*DELIVERIES, CORKS, GRITS):
            bring_in(book, one, now=datetime.now(UTC))
    standing.close()
    with_a_batch(place, so_many=2)
    return place


@contextmanager
def all_opened(shop: Server) -> Iterator[list[Open]]:
    """Workshops over it, by turns of one account and of another one, all opened at once."""
    other = replace(shop, home=shop.home.parents[1] / "second" / "baitwright")
    places = [(shop, other)[at % 2] for at in range(PROCESSES)]
    with ExitStack() as stack, ThreadPoolExecutor(PROCESSES) as hands:
        made = list(hands.map(partial(opened, bears=BUSY), places))
        yield list(hands.map(stack.enter_context, made))


@dataclass
class Told:
    """What was acknowledged to one hand, and how long it took."""

    taps: list[str] = field(default_factory=list)
    nights: list[str] = field(default_factory=list)
    counted: int = 0
    came: int = 0
    went: int = 0
    made: int = 0
    bagged: int = 0
    twice: list[str] = field(default_factory=list)
    refused: Counter[str] = field(default_factory=Counter)
    looks: list[float] = field(default_factory=list)
    writes: list[float] = field(default_factory=list)


@dataclass
class Hand:
    """One who works at a workshop, without waiting for the others."""

    name: str
    caller: Caller
    beside: Caller
    dice: Random
    pause: float
    told: Told = field(default_factory=Told)
    _is_made: bool = False

    def work(self, end: float) -> Told:
        """One deed after another, in an order of one's own, until the time is over."""
        deeds = [self.tap, self.night, self.add, self.come, self.go, self.bag, self.twice]
        for at in count():
            if at % len(deeds) == 0:
                if at and monotonic() > end:
                    break
                self.dice.shuffle(deeds)
            deeds[at % len(deeds)](at)
            self.look()
            sleep(self.dice.uniform(0.0, 2.0 * self.pause))
        return self.told

    def look(self) -> None:
        began = perf_counter()
        self.caller.get(self.dice.choice(("/shelf", "/batches", "/notebook/night", "/")))
        self.told.looks.append(perf_counter() - began)

    def _send(self, what: str, path: str, told: dict[str, str]) -> str:
        """Where an acknowledged form leads; nothing where it was refused, which is counted."""
        began = perf_counter()
        status, said = self.caller.send(path, told)
        if status == 303:
            self.told.writes.append(perf_counter() - began)
            return said
        assert status == 422, said[-500:]
        self.told.refused["busy" if BUSY in said else what] += 1
        return ""

    def tap(self, at: int) -> None:
        """A value at the bench of the batch that all stand at."""
        one = {"id": f"{self.name}-{at:08d}", "kind": "value", "at": "2026-11-27T09:00:00+00:00"}
        told = {"taps": [{**one, "name": "twenty", "told": f"{30 + at % 9} g"}]}
        status, said = self.caller.say(f"/batches/{BATCH}1/bench/taps", told)
        while status == 409 and BUSY in said:  # the page sends it again, too
            self.told.refused["busy"] += 1
            status, said = self.caller.say(f"/batches/{BATCH}1/bench/taps", told)
        assert status == 200 and json.loads(said)["refused"] == [], said
        self.told.taps.append(one["id"])

    def night(self, at: int) -> None:
        """A night of one's own."""
        weather = f"{self.name}, {at}"
        told = {"water": "Long Reedpool", "bites": "0", "weather": weather, "once": weather}
        if self._send("night", "/notebook/night/new", told):
            self.told.nights.append(weather)

    def add(self, _: int) -> None:
        """One bite more on the night that everybody counts, if it still is what was seen."""
        page = self.caller.get(NIGHT).decode()
        seen = re.search(r'name="seen" value="(\d+)"', page)
        bites = re.search(r'name="bites"[^>]*value="(\d+)"', page)
        assert seen and bites
        more = {"water": "Long Reedpool", "bites": str(int(bites[1]) + 1), "seen": seen[1]}
        if self._send("counted", NIGHT, more):
            self.told.counted += 1

    def come(self, _: int) -> None:
        grams = self.dice.randrange(1, 500)
        if self._send("came", "/shelf/in", {"item": "semolina", "amount": f"{grams} g"}):
            self.told.came += grams

    def go(self, _: int) -> None:
        grams = self.dice.randrange(1, 500)
        if self._send("went", "/shelf/out", {"item": "semolina", "amount": f"{grams} g"}):
            self.told.went += grams

    def bag(self, _: int) -> None:
        """The batch that all would write down is made by one of them, and bagged by all."""
        path = f"/batches/{BATCH}2"
        if self._is_made:
            told = {"baits": str(BAGGED), "bags": "1"}
            self.told.bagged += bool(self._send("bagged", f"{path}/bag", told))
        else:
            told = {"baits_made": str(BAITS), "seen": "1"}
            self.told.made += bool(self._send("made", f"{path}/made", told))
            self._is_made = True  # by this hand, or by another that was first

    def twice(self, at: int) -> None:
        """One form sent to two workshops of one account at once, as by going back or a proxy."""
        weather = f"{self.name}, {at}, twice"
        told = {"water": "Long Reedpool", "bites": "0", "weather": weather, "once": weather}
        both = (self.caller, self.beside)
        with ThreadPoolExecutor(2) as hands:
            said = list(hands.map(lambda caller: caller.send("/notebook/night/new", told)[0], both))
        assert set(said) <= {303, 422}
        if 303 in said:
            self.told.twice.append(weather)


def semolina(book: Notebook) -> int:
    """Milligrams of it."""
    (found,) = (one for one in shelves(book) if one.item == "semolina")
    assert found.counted is Counted.MILLIGRAMS
    assert found.account.amount == sum(lot.held for lot in found.lots)
    return found.account.amount


def percentiles(times: list[float]) -> str:
    return f"{1e3 * median(times):.0f} ms, 95 %: {1e3 * quantiles(times, n=20)[-1]:.0f} ms"


def test_several_workshops_on_one_database_lose_no_update(
    shop: Server, sample_size: Sample, record_property: Record
) -> None:
    hands, seconds = sample_size(PROCESSES, HANDS), sample_size(2, SECONDS)
    with all_opened(shop) as workshops:
        first = Caller(workshops[0])
        first.fill_in(
            "/notebook/night/new", {"water": "Long Reedpool", "bites": "0", "called": "Counted"}
        )
        first.close()
        workers = [
            Hand(
                f"hand-{who}",
                Caller(workshops[who % PROCESSES]),
                Caller(workshops[(who + 2) % PROCESSES]),
                Random(who),
                pause=sample_size(0, PAUSE),
            )
            for who in range(hands)
        ]
        began = monotonic()
        with ThreadPoolExecutor(hands) as pool:
            told = list(pool.map(lambda one: one.work(began + seconds), workers))
        took = monotonic() - began
        for one in workers:
            one.caller.close()
            one.beside.close()
    record_property("workshops and hands", f"{PROCESSES} and {hands}")
    for what, value in figures(told, took).items():
        record_property(what, value)
    book = open_notebook(shop, now=datetime.now(UTC))
    try:
        nothing_is_lost(book, told)
    finally:
        book.close()


def nothing_is_lost(book: Notebook, told: list[Told]) -> None:
    """Every deed that was acknowledged is there once, and what was refused did nothing."""
    with book.reading() as page:
        nights = {one.name: one for one in page.all("night")}
        versions = len(page.history("night", "Counted"))
    counted = nights.pop("Counted").body or {}
    more = sum(one.counted for one in told)
    assert (counted["bites"], versions) == (more, 1 + more)
    weathers = sorted(str((one.body or {})["weather"]) for one in nights.values())
    assert weathers == sorted(one for hand in told for one in (*hand.nights, *hand.twice))
    taps = sorted(one.id for one in look(book, f"{BATCH}1").taps)
    assert taps == sorted(one for hand in told for one in hand.taps)
    held = {one.item: one for one in shelves(book)}
    assert semolina(book) == GRITS.amount.units + 1000 * sum(one.came - one.went for one in told)
    bagged = sum(one.bagged for one in told)
    assert sum(one.made for one in told) == 1
    baits = {lot.lot: lot.held for lot in held["Copper wafter baits"].lots if lot.held}
    assert baits.pop(f"{BATCH}2", 0) == BAITS - BAGGED * bagged
    assert sorted(baits.values()) == [BAGGED] * bagged


def figures(told: list[Told], took: float) -> dict[str, object]:
    """What the load came to."""
    refused = sum((one.refused for one in told), Counter())
    writes = [one for hand in told for one in hand.writes]
    looks = [one for hand in told for one in hand.looks]
    return {
        "looks": f"{len(looks)}, {len(looks) / took:.1f} a second, median {percentiles(looks)}",
        "writes": f"{len(writes)}, {len(writes) / took:.1f} a second, median {percentiles(writes)}",
        "taps": sum(len(one.taps) for one in told),
        "counted up": sum(one.counted for one in told),
        "sent twice, done once": sum(len(one.twice) for one in told),
        "bags": sum(one.bagged for one in told),
        "refused": ", ".join(f"{what} {many}" for what, many in sorted(refused.items())),
    }
