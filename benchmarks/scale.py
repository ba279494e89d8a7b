"""What an answer costs a core: planned anew, or found by the hash of what was asked."""

from __future__ import annotations

import json
import sqlite3
import tempfile
import zlib
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from time import process_time

from benchmarks.processes import ROOT

ROUNDS = 7
_NOW = datetime(2026, 11, 27, 9, 0)


def seconds(work: Callable[[], object], rounds: int) -> float:
    """Seconds of a core that some work takes; the least, for what else runs only adds to it."""
    taken = []
    for _ in range(rounds):
        began = process_time()
        work()
        taken.append(process_time() - began)
    return min(taken)


def report(rounds: int = ROUNDS) -> list[str]:
    """The demo plan worked out, told as data, kept and found again."""
    from baitwright.batch.plan import plan
    from baitwright.uncertainty.draws import Draws
    from baitwright.workshop.plans.plan_batch import plan_batch
    from baitwright.workshop.plans.plan_json import plan_as_json, request_as_json

    files = [ROOT / "examples" / name for name in _FILES]
    made = plan_batch(files[0], files[1], clock=lambda: _NOW)
    asked = made.request

    def key() -> str:
        told = json.dumps(request_as_json(asked), sort_keys=True, default=str)
        return sha256(told.encode()).hexdigest()

    def answer() -> bytes:
        return zlib.compress(json.dumps(plan_as_json(made), default=str).encode(), 6)

    kept = answer()
    lines = []
    for batches in (256, 64):
        told = replace(asked, draws=Draws(batches=batches))
        plan(told)
        took = seconds(lambda told=told: plan(told), rounds)
        lines.append(f"  a plan of {batches} batches   {1e3 * took:8.1f} ms of a core")
    lines.append(f"  telling it as data     {1e3 * seconds(answer, rounds):8.1f} ms")
    with tempfile.TemporaryDirectory() as folder:
        store = sqlite3.connect(Path(folder) / "answers.sqlite")
        store.execute("CREATE TABLE answers (key TEXT PRIMARY KEY, told BLOB) WITHOUT ROWID")
        store.execute("INSERT INTO answers VALUES (?, ?)", (key(), kept))

        def found() -> bytes:
            row = store.execute("SELECT told FROM answers WHERE key = ?", (key(),)).fetchone()
            return zlib.decompress(row[0])

        lines.append(f"  found by its hash      {1e3 * seconds(found, 20 * rounds):8.2f} ms")
        store.close()
    lines.append(f"  kept in                {len(kept) / 1024:8.1f} KiB")
    return ["an answer, in time of one core, the least of several rounds", *lines]


_FILES = ("copper-wafter.toml", "bench-three-large-eggs.toml")


if __name__ == "__main__":
    print("\n".join(report()))
