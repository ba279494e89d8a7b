"""The web workshop while somebody types: each recalculation beside the bare plan, in one run."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path
from statistics import median
from threading import Thread
from time import perf_counter, sleep
from typing import Any

from benchmarks.processes import ROOT

ROUNDS = 15
GOAL = 3.0
"""Times the bare call that a recalculation may take."""
_NOW = "2026-11-27 09:00"


@contextmanager
def _served() -> Iterator[str]:
    """A workshop over a notebook that is not begun, on a port of its own."""
    import uvicorn

    from baitwright.web.app import make_app
    from baitwright.web.house import House
    from baitwright.web.server import LOOPBACK, listening
    from baitwright.workshop.opening.standing import Standing

    taken = listening(0)
    host = f"{LOOPBACK}:{taken.getsockname()[1]}"
    with tempfile.TemporaryDirectory() as folder:
        house = House(Standing(Path(folder) / "notebook.sqlite"), os.urandom(32), (host,))
        quiet: dict[str, Any] = {"log_level": "warning", "access_log": False}
        server = uvicorn.Server(uvicorn.Config(make_app(house), **quiet))
        thread = Thread(target=server.run, kwargs={"sockets": [taken]}, daemon=True)
        thread.start()
        while not server.started:
            sleep(0.01)
        yield host
        server.should_exit = True
        thread.join()


def report(rounds: int = ROUNDS) -> list[str]:
    """Medians of interleaved rounds: each types another weight of egg, so that none is kept."""
    from http.client import HTTPConnection
    from urllib.parse import urlencode

    from baitwright.batch.plan import plan
    from baitwright.workshop.plans.plan_told import PlanTold, request_of
    from baitwright.workshop.recipe_files.demo import demo_bench, demo_recipe

    os.chdir(ROOT)
    bare, live = [], []
    with _served() as host:
        line = HTTPConnection(host)
        for at in range(-1, rounds):  # the first warms both
            bench = {**demo_bench(), "now": _NOW}
            bench["eggs"] = [{"grade": "EU L", "shell": [f"{63.0 + 0.1 * at:.1f} g", "66 g"]}]
            told = PlanTold(demo_recipe(), bench)
            began = perf_counter()
            plan(request_of(told, now=datetime(2026, 11, 27, 9, 0)))
            between = perf_counter()
            line.request("GET", f"/plan?{urlencode(told.pairs)}", headers={"x-part": "results"})
            answer = line.getresponse()
            page = answer.read()
            ended = perf_counter()
            assert answer.status == 200
            assert b"number-pinch" in page
            if at >= 0:
                bare.append(between - began)
                live.append(ended - between)
        line.close()
    one, other = median(bare), median(live)
    return [
        f"typing in the plan page, median of {rounds} interleaved rounds",
        f"  bare plan           {1e3 * one:8.0f} ms",
        f"  live recalculation  {1e3 * other:8.0f} ms  {other / one:.2f} times, goal {GOAL:g}",
    ]


if __name__ == "__main__":
    print("\n".join(report()))
