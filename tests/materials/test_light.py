"""The shelf answers at once: nothing heavy is loaded for it."""

from __future__ import annotations

import subprocess
import sys

SCRIPT = """
import sys
from baitwright.materials import cautions, cores, defaults, eggs, factors, hooks, kinds
from baitwright.materials import liquids, powders, sieves, tools
tools.choose_syringe(1e-6)
eggs.contents_volume(eggs.grade("EU L").mass)
sieves.retained_share(powders.ingredient("semolina"), "kitchen")
factors.prior_factors()
heavy = {"numpy", "scipy", "pydantic", "tomllib", "difflib", "statistics"}
print(*sorted(heavy & {name.split(".")[0] for name in sys.modules}))
"""


def test_the_shelf_loads_nothing_heavy() -> None:
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT], capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == []
