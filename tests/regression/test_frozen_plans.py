"""Whole plans are what they were, to the number: a difference is no error, but it must be meant.

After one that is, ``python -m tests.regression.frozen_plans`` writes them anew.
"""

from __future__ import annotations

from itertools import zip_longest

import pytest

from tests.regression.frozen_plans import KITCHENS, Line, frozen, lines, plan_of


def differences(kitchen: str) -> list[str]:
    """What a plan tells otherwise than it is written down, both ways below each other."""
    found = []
    written = frozen(kitchen).read_text(encoding="utf-8").splitlines()
    for now, text in zip_longest(lines(plan_of(kitchen)), written):
        was = Line.read(text) if text else None
        if now is None or was is None or now.says != was.says or not close(now, was):
            found.append(f"- {text}\n+ {now}")
    return found


def close(now: Line, was: Line) -> bool:
    """Within what roots and the last digits of another processor may move."""
    return now.numbers == pytest.approx(was.numbers, rel=1e-5, abs=1e-12)


@pytest.mark.parametrize("kitchen", KITCHENS)
def test_a_plan_tells_what_is_written_down(kitchen: str) -> None:
    assert not (found := differences(kitchen)), "\n".join(found[:20])


def test_what_moves_by_a_thousandth_of_a_percent_is_seen() -> None:
    line = Line.read("dry.time\t50000\t60000")
    assert str(line) == "dry.time\t50000\t60000"
    assert close(line, Line("dry.time", (50_000.1, 60_000.0)))
    assert not close(line, Line("dry.time", (50_001.0, 60_000.0)))
