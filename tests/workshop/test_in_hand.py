"""Results kept in hand: once for all who ask at the same time, and only the last few."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from time import sleep

import pytest

from baitwright.workshop.told.in_hand import in_hand


def test_what_many_ask_at_once_is_worked_out_once() -> None:
    asked: list[int] = []

    @in_hand(2)
    def slow(one: int) -> object:
        asked.append(one)
        sleep(0.05)
        return object()

    with ThreadPoolExecutor(8) as hands:
        found = list(hands.map(slow, [7] * 8))
    assert asked == [7]
    assert set(found) == {slow(7)}


def test_two_that_differ_do_not_wait_for_each_other() -> None:
    @in_hand(2)
    def nested(one: int) -> int:
        return one if one == 0 else nested(one - 1) + 1

    assert nested(1) == 1


def test_an_error_is_told_and_the_next_tries_again() -> None:
    answers = iter([0, 1])

    @in_hand(2)
    def share(one: int) -> float:
        return one / next(answers)

    with pytest.raises(ZeroDivisionError):
        share(3)
    assert share(3) == 3


def test_only_the_last_few_are_kept() -> None:
    asked: list[int] = []

    @in_hand(2)
    def noted(one: int) -> None:
        asked.append(one)

    for one in (1, 2, 1, 3, 1, 2):
        noted(one)
    assert asked == [1, 2, 3, 2]
