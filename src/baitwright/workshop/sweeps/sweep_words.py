"""What is told of a sweep: how many designs, how long, what came of them."""

from __future__ import annotations

from baitwright.quantities import tidy
from baitwright.workshop.sweeps.engines import cores
from baitwright.workshop.sweeps.sweep import Begun, Count, Finished

_MINUTE, _HOUR, _DAY = 60.0, 3600.0, 86_400.0


def count_text(counted: Count) -> str:
    """How many designs, and how long they take at the pace of a few."""
    each, many = counted.seconds_each, cores()
    whole = counted.designs * each
    here = f"{many} cores" if many > 1 else "1 core"
    return (
        f"{counted.designs:,} designs\n"
        f"about {tidy(1e3 * each, 2)} ms of one core each, by a few of them\n"
        f"all of them: about {time_text(whole / many)} on {here} of this machine, "
        f"{time_text(whole)} on one"
    )


def begun_text(begun: Begun) -> str:
    """What was there before."""
    return f"going on: {begun.before:,} of {len(begun.sweep):,} designs are there already"


def finished_text(done: Finished) -> str:
    """What came of it."""
    refused = ""
    if done.refused:
        refused = f", of which {done.refused:,} could not be planned: their column error says why"
    fault = ""
    if done.faults:
        fault = f"\n{done.faults:,} of these are our fault: please report one, with the file"
    return f"{done.designs:,} designs{refused}{fault}\nwritten: {done.out}"


def time_text(seconds: float) -> str:
    """A time as one says it."""
    for unit, length in (("d", _DAY), ("h", _HOUR), ("min", _MINUTE)):
        if seconds >= 2.0 * length:
            return f"{tidy(seconds / length, 2)} {unit}"
    return f"{tidy(max(seconds, 1.0), 2)} s"
