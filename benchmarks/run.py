"""Ours and the peers on the same work, in one run, beside the goals: ``python make.py bench``.

Times are reported and never asserted; ratios inside one run are what travels to another machine.
"""

from __future__ import annotations

import platform
import sys
from collections.abc import Callable

import ball_in_hot_water
import processes
import warm_plan

PARTS: dict[str, Callable[[], list[str]]] = {
    "processes": processes.report,
    "plan": warm_plan.report,
    "heat": ball_in_hot_water.report,
}


def main(named: list[str]) -> int:
    """Run the named parts, or all."""
    if unknown := set(named) - PARTS.keys():
        sys.exit(f"no such part: {', '.join(sorted(unknown))}; there are {', '.join(PARTS)}")
    print(f"{platform.machine()}, Python {platform.python_version()}", flush=True)
    for part in named or PARTS:
        print("\n".join(PARTS[part]()), flush=True)
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
