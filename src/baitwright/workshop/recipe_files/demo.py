"""The demonstration's recipe and bench: invented, marked so, and there wherever the program is."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from baitwright.workshop.typed.reading import load

_PACKAGE = Path(__file__).parents[2]
_PLACES = (_PACKAGE / "examples", _PACKAGE.parents[1] / "examples")
"""In an installed package, and in a checkout."""
RECIPE, BENCH = "copper-wafter.toml", "bench-three-large-eggs.toml"
MIX, WISHES = "copper-mix.toml", "copper-wishes.toml"
SINKER = "chalk-sinker.toml"
"""The second recipe of its season."""


def demo_recipe() -> dict[str, Any]:
    """What the recipe file of the demonstration says."""
    return load(demo_file(RECIPE), what="recipe")


def demo_bench() -> dict[str, Any]:
    """What the bench file of the demonstration says."""
    return load(demo_file(BENCH), what="bench")


def demo_file(name: str) -> Path:
    """A file of the demonstration."""
    return next((one for one in (place / name for place in _PLACES) if one.is_file()), Path(name))
