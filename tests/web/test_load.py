"""Many at once on the workshop in a process of its own: nothing refused, nothing lost, no swelling.

Short here; as long as the figures of `docs/quality.md` say with ``--long``, where times count too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from statistics import median
from time import monotonic, perf_counter, sleep
from urllib.parse import urlencode

import pytest
from scipy.stats import theilslopes

from baitwright.batch.plan import plan
from baitwright.notebook.soundness import examine
from baitwright.notebook.store import open_notebook
from baitwright.workshop.bench.bench_book import look
from baitwright.workshop.plans.plan_told import PlanTold, request_of
from baitwright.workshop.recipe_files.demo import demo_bench, demo_recipe
from tests.web.benches import BENCH, NAME, with_a_batch
from tests.web.open_workshop import Caller, Open, opened

pytestmark = pytest.mark.load
Record = Callable[[str, object], None]
Sample = Callable[[int, int], int]

PLANNERS, WRITERS, SECONDS = 50, 5, 60
SHARE = 0.7
"""Of the bare function's throughput that planners are to get."""
TIMES = 3.0
"""The bare function's time that a live recalculation may take."""
PAUSE = 1.0
"""Seconds between two writings of one hand (judgement): nobody taps faster for a minute."""
REQUESTS, MARK, WARM = 10_000, 500, 2_000
SWELLING = 1.0
"""MiB per 1000 requests that memory may grow (judgement): a page kept of each were a hundred."""
ROUND = 40
"""Requests of which one plans anew, one taps and one writes a night down."""
BATCHES = 4
"""That are tapped in turn: a long day at one bench has a hundred taps, and each costs its room."""
NAMES = tuple(f"{NAME[:-1]}{one}" for one in range(1, BATCHES + 1))
PINCH = b"number-pinch"
"""Stands in the results of every plan."""


@pytest.fixture
def notebook(place: Path) -> Path:
    """One with a few planned batches."""
    with_a_batch(place, so_many=BATCHES)
    return place


@pytest.fixture
def takes_long(pytestconfig: pytest.Config) -> bool:
    return bool(pytestconfig.getoption("--long"))


def told(at: float) -> PlanTold:
    """The demonstration's plan with another egg: its like was never asked."""
    bench = {**demo_bench(), "now": "2026-11-27 09:00"}
    bench["eggs"] = [{"grade": "EU L", "shell": [f"{63 + at:.4f} g", "66 g"]}]
    return PlanTold(demo_recipe(), bench)


def planned_live(caller: Caller, at: float) -> None:
    """What the script of the page asks while somebody types."""
    assert PINCH in caller.get(f"/plan?{urlencode(told(at).pairs)}", part="results")


def bare(at: float) -> float:
    """Seconds of a plan without a workshop round it."""
    began = perf_counter()
    plan(request_of(told(at), now=datetime(2026, 11, 27, 9, 0)))
    return perf_counter() - began


def one_types(workshop: Open, rounds: int) -> tuple[list[float], list[float]]:
    """Seconds of bare plans and of live recalculations, by turns."""
    caller, alone, live = Caller(workshop), [], []
    planned_live(caller, 0.9 + rounds / 1000)  # the first in a process takes longer
    for at in range(rounds):
        alone.append(bare(at / 1000))
        began = perf_counter()
        planned_live(caller, 0.9 + at / 1000)
        live.append(perf_counter() - began)
    caller.close()
    return alone, live


def tap(caller: Caller, hand: str, at: int) -> str:
    """A value told at the bench; its id is in what is acknowledged."""
    one = {"id": f"{hand}-{at:08d}", "kind": "value", "at": "2026-11-27T09:00:00+00:00"}
    bench = f"/batches/{NAMES[at // ROUND % BATCHES]}/bench"
    answer = caller.tell(f"{bench}/taps", {"taps": [{**one, "name": "twenty", "told": "34 g"}]})
    assert answer["refused"] == []
    return one["id"]


def night(caller: Caller, hand: str, at: int) -> str:
    """A night written down by the form; its weather tells it from all others."""
    weather = f"{hand}, {at}"
    entries = {"water": "Long Reedpool", "bites": "0", "weather": weather, "once": weather}
    caller.fill_in("/notebook/night/new", entries)
    return weather


def kept(notebook: Path) -> list[str]:
    """What of it all is in the notebook, as another program reads it."""
    assert examine(notebook) == ""
    book = open_notebook(notebook, now=datetime.now(UTC))
    try:
        with book.reading() as page:
            nights = [str((one.body or {})["weather"]) for one in page.all("night")]
        return [*nights, *(one.id for name in NAMES for one in look(book, name).taps)]
    finally:
        book.close()


def plans_until(end: float, workshop: Open, who: int) -> int:
    """How many plans one who asks for the next as soon as one is there gets."""
    caller = Caller(workshop)
    for at in count(1):
        planned_live(caller, who / 10 + at / 1000)
        if monotonic() > end:
            caller.close()
            return at
    raise AssertionError


def writes_until(end: float, workshop: Open, who: int) -> list[str]:
    """What one hand was told is written; at the bench and in the notebook by turns."""
    acknowledged, caller = [], Caller(workshop)
    for at in count():
        acknowledged.append((tap, night)[(who + at) % 2](caller, f"writer-{who}", at))
        if monotonic() > end:
            break
        sleep(PAUSE)
    caller.close()
    return acknowledged


def test_many_plan_while_some_write_and_nothing_is_lost(
    notebook: Path, sample_size: Sample, record_property: Record, takes_long: bool
) -> None:
    planners, seconds = sample_size(2, PLANNERS), sample_size(0, SECONDS)
    with opened(notebook) as workshop:
        alone, live = one_types(workshop, sample_size(1, 15))
        began = monotonic()
        with ThreadPoolExecutor(planners + WRITERS) as hands:
            end = began + seconds
            writing: list[Future[list[str]]] = [
                hands.submit(writes_until, end, workshop, who) for who in range(WRITERS)
            ]
            planning = [hands.submit(plans_until, end, workshop, who) for who in range(planners)]
            plans = sum(one.result() for one in planning)
            took = monotonic() - began
            acknowledged = [told for one in writing for told in one.result()]
        again = one_types(workshop, sample_size(0, 15))
    alone, live = (alone + again[0], live + again[1])
    share, times = plans / took * median(alone), median(live) / median(alone)
    record_property("bare plan", f"{1e3 * median(alone):.0f} ms")
    record_property("typing alone", f"{1e3 * median(live):.0f} ms, {times:.2f} times")
    record_property("plans", f"{plans} in {took:.0f} s, {share:.2f} of the bare throughput")
    record_property("written and found again", len(acknowledged))
    assert sorted(kept(notebook)) == sorted(acknowledged)
    assert not takes_long or (share >= SHARE and times <= TIMES)


def requests(caller: Caller) -> Iterator[None]:
    """Request after request, as a day in the workshop has them."""
    looks = ("/", "/batches", "/shelf", "/notebook", "/notebook/night", "/dose", "/more", BENCH)
    looks += (f"/batches/{NAME}", f"{BENCH}/taps", "/static/house.css", "/notebook/night/new")
    for at in count():
        match at % ROUND:
            case 0:
                planned_live(caller, at / 10_000)
            case 1:
                tap(caller, "hand", at)
            case 2:
                night(caller, "hand", at)
            case 3:
                caller.fill_in("/shelf/in", {"item": "semolina", "amount": "a lot"}, status=422)
            case 4:
                caller.get("/no-such-page", status=404)
            case turn:
                caller.get(looks[turn % len(looks)])
        yield


def test_memory_stays_flat(
    notebook: Path, sample_size: Sample, record_property: Record, takes_long: bool
) -> None:
    many, mark = sample_size(ROUND, REQUESTS), sample_size(20, MARK)
    marks = []
    with opened(notebook) as workshop:
        caller = Caller(workshop)
        for at, _ in zip(range(1, many + 1), requests(caller), strict=False):
            if at % mark == 0:
                marks.append((at / 1000, workshop.memory))
        caller.close()
    record_property("requests", many)
    record_property("MiB at the marks", ", ".join(f"{held:.0f}" for _, held in marks))
    warm = [one for one in marks if one[0] >= WARM / 1000] or marks
    slope = theilslopes([held for _, held in warm], [at for at, _ in warm])
    grows = f"{slope.slope:.2f} ({slope.low_slope:.2f} to {slope.high_slope:.2f})"
    record_property("MiB per 1000 requests after the first 2000", grows)
    assert not takes_long or slope.slope <= SWELLING
