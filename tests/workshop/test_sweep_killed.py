"""A sweep killed again and again comes to the same table as one that nobody stopped.

A few dozen designs here; the five thousand of the example with ``--long``, with pace and memory.
"""

from __future__ import annotations

import os
import signal
import subprocess
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from random import Random

import pytest

from tests.workshop.shelf import EXAMPLES
from tests.workshop.sweeping import command, laid_out

pytestmark = pytest.mark.sweep
Record = Callable[[str, object], None]
Sample = Callable[[int, int], int]
KILLS = 5
MILLION = 1_000_000
GONE = 30.0
"""Seconds within which workers have to be gone after whoever began them."""


@dataclass
class Watched:
    """Processes of a sweep: seconds of cores they had, and the most memory at once [MiB]."""

    seconds: dict[int, float] = field(default_factory=dict)
    memory: float = 0.0

    def look(self, first: int) -> set[int]:
        """Look at a process and all it began, and they."""
        told = "pid=,ppid=,rss=,cputimes="
        listed = subprocess.run(["ps", "-eo", told], capture_output=True, text=True, check=True)
        rows = [tuple(map(int, line.split())) for line in listed.stdout.splitlines()]
        family = {first}
        for _ in range(3):
            family |= {pid for pid, parent, *_ in rows if parent in family}
        own = [row for row in rows if row[0] in family]
        self.seconds |= {pid: max(seconds, self.seconds.get(pid, 0)) for pid, *_, seconds in own}
        self.memory = max(self.memory, sum(row[2] for row in own) / 1024)
        return family


def ended(told: list[str], watched: Watched, *, after: float | None) -> bool:
    """Let a sweep work until it ends, or kill it after so many seconds; whether it ended."""
    began = time.monotonic()
    with subprocess.Popen(told, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE) as process:
        while process.poll() is None:
            family = watched.look(process.pid)
            if after is not None and time.monotonic() - began > after:
                process.send_signal(signal.SIGKILL)
                process.wait()
                assert all_gone(family), "workers went on without whoever began them"
                return False
            time.sleep(0.05 if after is not None else 0.5)
        said = process.stderr.read() if process.stderr else b""
    assert process.returncode == 0, said
    return True


def all_gone(family: set[int]) -> bool:
    end = time.monotonic() + GONE
    while time.monotonic() < end:
        if not [pid for pid in family if Path(f"/proc/{pid}").exists()]:
            return True
        time.sleep(0.05)
    return False


def test_a_sweep_killed_at_any_moment_comes_to_the_same_table(
    tmp_path: Path, sample_size: Sample, record_property: Record
) -> None:
    long = sample_size(0, 1) == 1
    path = EXAMPLES / "sweep.toml" if long else laid_out(tmp_path)
    whole, killed = tmp_path / "whole.csv", tmp_path / "killed.csv"
    watched, began = Watched(), time.monotonic()
    assert ended(command(path, whole, "--workers", "2"), watched, after=None)
    took = time.monotonic() - began
    designs = whole.read_bytes().count(b"\r\n") - 1
    dice, kills, kept = Random(os.getpid()), 0, []
    again = Watched()
    while kills < sample_size(2, KILLS):
        after = took / sample_size(1, KILLS) * dice.uniform(0.3, 1.0)
        if ended(command(path, killed, "--workers", "2"), again, after=after):
            break
        kills += 1
        kept.append(len(list(tmp_path.glob("killed.csv.parts/part-*"))))
    if not killed.exists():
        assert ended(command(path, killed, "--workers", "2"), again, after=None)
    each = sum(watched.seconds.values()) / designs
    record_property("designs", designs)
    record_property("designs a second of one core", f"{1 / each:.1f}")
    record_property("in all", f"{took:.0f} s by 2 workers, {each * designs:.0f} s of one core")
    record_property("memory of all processes", f"{watched.memory:.0f} MiB")
    record_property("kills", f"{kills}, parts there after each: {kept}")
    cores_for_an_hour = f"{MILLION * each / 3600:.0f} cores for an hour"
    record_property(
        "a million", f"{MILLION * each / 2 / 3600:.1f} h of 2 cores, {cores_for_an_hour}"
    )
    assert kept == sorted(kept)
    assert killed.read_bytes() == whole.read_bytes()
    assert not list(tmp_path.glob("*.parts"))
