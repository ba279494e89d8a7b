"""The engine in processes of its own: import, first call, next call, and the memory it peaks at."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from time import perf_counter

ROOT = Path(__file__).resolve().parents[1]
COUNTS = (1, 256, 4096, 65_536)
KINDS = {"modes": ("even", None), "numpy": ("steep", "numpy"), "numba": ("steep", "numba")}
MOST_MEGABYTES = 600.0
PARTS = ("import", "first", "next")


def peak_megabytes() -> float:
    """The most memory this process has held; what its parent held does not count."""
    status = Path("/proc/self/status")
    if status.exists():
        line = next(one for one in status.read_text().splitlines() if one.startswith("VmHWM"))
        return float(line.split()[1]) / 1024.0
    import resource

    unit = 1024.0**2 if sys.platform == "darwin" else 1024.0
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / unit


def child(kind: str, count: int) -> dict[str, float]:
    """What one process of this kind measures about itself."""
    began = perf_counter()
    from baitwright.physics.compiled import Backend
    from benchmarks.balls import even_balls, steep_balls
    from benchmarks.radial_engine_calls import ours

    imported = perf_counter() - began
    problem, backend = KINDS[kind]
    balls = (even_balls if problem == "even" else steep_balls)(count)
    times = []
    for _ in range(2):
        start = perf_counter()
        ours(balls, None if backend is None else Backend(backend))
        times.append(perf_counter() - start)
    return {
        "import": imported,
        "first": times[0],
        "next": times[1],
        "peak": peak_megabytes(),
    }


def report(*, quick: bool = False) -> Iterator[str]:
    """A line for each kind and size."""
    from importlib.util import find_spec

    yield "cold processes: start to end, import, first call, next call; peak memory"
    for kind in KINDS:
        if kind == "numba" and find_spec("numba") is None:
            yield "  numba left out: it is not installed"
            continue
        for count in COUNTS[:3] if quick else COUNTS:
            began = perf_counter()
            command = [sys.executable, "-m", "benchmarks.cold_engine", kind, str(count)]
            done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
            whole = perf_counter() - began
            found = json.loads(done.stdout)
            parts = ", ".join(f"{name} {1e3 * found[name]:.1f}" for name in PARTS)
            line = f"  {kind:6}{count:6} balls: {1e3 * whole:5.0f} ms; {parts} ms;"
            line += f" {found['peak']:.0f} MB"
            if count == COUNTS[-1]:
                reached = "reached" if found["peak"] <= MOST_MEGABYTES else "MISSED"
                line += f"; goal {MOST_MEGABYTES:.0f} MB {reached}"
            yield line


if __name__ == "__main__":
    print(json.dumps(child(sys.argv[1], int(sys.argv[2]))))
