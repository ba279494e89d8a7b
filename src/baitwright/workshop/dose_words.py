"""What is measured out, in words: amounts with one unit, and the mark of a syringe."""

from __future__ import annotations

from baitwright.materials.tools import Draw
from baitwright.quantities import from_si, tidy


def mark(fill: Draw) -> str:
    """The mark to draw to and the tool."""
    return f"{marked(fill)} ml in the {fill.tool.name}"


def marked(fill: Draw) -> str:
    """The mark to draw to [ml], with as many decimals as the tool has marks for."""
    places = 2 if fill.tool.graduation < 0.05e-6 else 1
    return f"{from_si(fill.volume, 'ml'):.{places}f}"


def between(low: float, high: float, unit: str) -> str:
    """One amount, or its two ends with the unit written once."""
    if unit == "drops":
        first, last = tidy(low, 2), tidy(high, 2)
    else:
        first, last = (tidy(from_si(value, unit)) for value in (low, high))
    return f"{first} {unit}" if first == last else f"{first} to {last} {unit}"
