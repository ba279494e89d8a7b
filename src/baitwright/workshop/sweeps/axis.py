"""An axis of a sweep as it is typed: values one by one, or from one to another by a step."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from baitwright.quantities import Kind, read, read_number
from baitwright.terms.errors import InputError
from baitwright.workshop.typed.fields import Reads, measured

NONE = "none"
MOST = 10_000
"""Values of one axis."""
_DIGITS = 6
"""Lengths in whole micrometres: 1.4 cm and 14 mm are one size."""
_EVEN = 1e-6
_RANGE = re.compile(r"(.+?)\s+to\s+(.+?)\s+by\s+(.+)")


def axis(
    kind: Kind, low: str, high: str, *, example: str, about: str, with_none: bool = False
) -> Reads:
    """Several measures: each alone, or such as "12 mm to 20 mm by 1 mm"; each once, in order.

    Parameters
    ----------
    kind, low, high: as of a field of one measure.
    example: of a range.
    about: what is varied.
    with_none: whether "none", which is 0, is one of them.
    """
    ends = _range(example)
    one = measured(kind, low, high, example=ends[0], about=about)
    accepted = f'measures such as "{ends[0]}", or "{example}", from {low} to {high}'
    accepted += f', or "{NONE}"' if with_none else ""

    def read_all(told: object) -> tuple[float, ...]:
        listed = told if isinstance(told, list) else [told]
        found: set[float] = set()
        for part in listed:
            if with_none and isinstance(part, str) and part.strip().lower() == NONE:
                found.add(0.0)
                continue
            try:
                found |= {round(value, _DIGITS) for value in _values(part, kind, one)}
            except InputError as error:
                raise InputError("", part, accepted, hint=error.hint) from None
        if not 0 < len(found) <= MOST:
            raise InputError("", f"{len(found)} of them", f"1 to {MOST:,} {accepted}")
        return tuple(sorted(found))

    text = {"type": "string", "examples": [ends[0], example, *([NONE] if with_none else [])]}
    schema = {"anyOf": [text, {"type": "array", "items": text, "minItems": 1}]}
    return Reads(read_all, accepted, about, schema)


def _range(told: str) -> tuple[str, str, str]:
    found = _RANGE.fullmatch(told.strip())
    assert found is not None, told
    return found[1], found[2], found[3]


def _values(told: Any, kind: Kind, one: Reads) -> Iterator[float]:
    """What one entry stands for [SI]."""
    found = _RANGE.fullmatch(told.strip()) if isinstance(told, str) else None
    if found is None:
        yield one.read(told)
        return
    first, last = one.read(found[1]), one.read(found[2])
    unit = read_number(found[3], "", "").unit
    step = read(found[3], kind, "") - read(f"0 {unit}", kind, "")
    steps = (last - first) / step if step > 0.0 else -1.0
    if not 0.0 <= steps < MOST or abs(steps - round(steps)) > _EVEN:
        hint = "It goes up, and its steps come to its end."
        raise InputError("", told, "", hint=hint)
    for at in range(round(steps) + 1):
        yield first + at * step
