"""Ours and the peers on the same work, in one run, beside the goals: ``python make.py bench``.

Times are reported and never asserted; ratios inside one run are what travels to another machine.
``--quick`` takes a short sample of everything; parts can be named.
"""

from __future__ import annotations

import os
import platform
import sys
from collections.abc import Callable, Iterable
from functools import partial
from pathlib import Path
from time import perf_counter

for threads in ("OMP_NUM_THREADS", "OPENBLAS_NUM_THREADS", "MKL_NUM_THREADS"):
    os.environ.setdefault(threads, "1")  # one thread each, ours and the peers alike
sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from benchmarks import (  # noqa: E402
    cold_engine,
    launch,
    learning,
    mixes,
    notebook,
    processes,
    radial_engine,
    scale,
    warm_plan,
    web,
)


def parts(*, quick: bool) -> dict[str, Callable[[], Iterable[str]]]:
    """What there is to run, by name."""
    rounds = 2 if quick else processes.ROUNDS
    engine = {
        name: partial(radial_engine.report, name, quick=quick) for name in radial_engine.PROBLEMS
    }
    return {
        "processes": partial(processes.report, rounds),
        "plan": partial(warm_plan.report, rounds),
        "launch": partial(launch.report, 2 if quick else launch.ROUNDS),
        "web": partial(web.report, 3 if quick else web.ROUNDS),
        **engine,
        "kernel": partial(radial_engine.kernel_report, quick=quick),
        "mixes": partial(mixes.report, quick=quick),
        "notebook": partial(notebook.report, quick=quick),
        "learning": partial(learning.report, quick=quick),
        "scale": partial(scale.report, 2 if quick else scale.ROUNDS),
        "cold": partial(cold_engine.report, quick=quick),
    }


def main(arguments: list[str]) -> int:
    """Run the named parts, or all."""
    quick = "--quick" in arguments
    named = [name for name in arguments if name != "--quick"]
    known = parts(quick=quick)
    if unknown := set(named) - known.keys():
        sys.exit(f"no such part: {', '.join(sorted(unknown))}; there are {', '.join(known)}")
    began = perf_counter()
    print(f"{platform.machine()}, Python {platform.python_version()}", flush=True)
    for part in named or known:
        for line in known[part]():
            print(line, flush=True)
    print(f"{perf_counter() - began:.0f} s in all", flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
