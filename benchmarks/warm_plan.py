"""The demo plan in a process that is warm already: what each plan after the first costs."""

from __future__ import annotations

import contextlib
import io
import os
import sys
from statistics import median
from time import perf_counter

from benchmarks.processes import DEMO, ROOT

ROUNDS = 7


def plan_once() -> float:
    """Milliseconds of one plan, printed as JSON and not written."""
    from baitwright.cli.main import main

    began = perf_counter()
    with contextlib.redirect_stdout(io.StringIO()):
        try:
            main()
        except SystemExit as end:
            if end.code:
                raise
    return 1e3 * (perf_counter() - began)


def report(rounds: int = ROUNDS) -> list[str]:
    """The first plan of a process, imports and all, and the median of those after it."""
    os.chdir(ROOT)
    sys.argv = ["baitwright", *DEMO, "--json"]
    first = plan_once()
    later = median(plan_once() for _ in range(rounds))
    return [
        f"demo plan in one process: first {first:.0f} ms, then {later:.0f} ms (median of {rounds})"
    ]


if __name__ == "__main__":
    print("\n".join(report()))
