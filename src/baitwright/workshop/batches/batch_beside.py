"""Readings of a batch, as they were planned beside as they were taken."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from baitwright.ledger.movements import Counted
from baitwright.quantities import show
from baitwright.workshop.told.field_words import words_of
from baitwright.workshop.typed.amounts import in_words

_READ_IN = {"boiled": "s", "diameter_fresh": "mm", "diameter_dried": "mm"}
"""Units other than grams."""


@dataclass(frozen=True, slots=True)
class Beside:
    """A reading as it was planned and as it was taken; nothing where it was not."""

    name: str
    label: str
    planned: str = ""
    band: str = ""
    was: str = ""
    is_outside: bool = False


def beside(body: Mapping[str, Any]) -> Iterator[Beside]:
    """What was planned, with what was measured beside it, then what else was measured."""
    actual = dict(body.get("actual", {}))
    actual.pop("made", None)
    for name, (low, middle, high) in body["predicted"].items():
        told = actual.pop(name, None)
        yield Beside(
            name,
            label_of(name),
            _shown(name, middle),
            f"{_shown(name, low)} to {_shown(name, high)}",
            "" if told is None else _shown(name, told),
            told is not None and not low <= told <= high,
        )
    for name, told in actual.items():
        yield Beside(name, label_of(name), was=_shown(name, told))


def label_of(name: str) -> str:
    """What a reading is called."""
    return words_of(name)


def _shown(name: str, told: Any) -> str:
    """A measured value in the unit it is read in; several of them one after the other."""
    if isinstance(told, list):
        return ", ".join(_shown(name, one) for one in told)
    if isinstance(told, dict):
        parts = (in_words(one["units"], Counted(one["counted"])) for one in told.values())
        return ", ".join(f"{part} {liquid}" for liquid, part in zip(told, parts, strict=True))
    unit = _READ_IN.get(name, "" if name.startswith("baits") or name == "remark" else "g")
    return show(told, unit, 3) if unit else f"{told:.0f}" if name != "remark" else str(told)
