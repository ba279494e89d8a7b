"""Wrong tries are counted by address and together, with a clock that is handed in."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from baitwright.web.attempts import (
    FIRST_WAIT,
    FORGOTTEN,
    FREE,
    LONGEST_WAIT,
    TOGETHER,
    WINDOW,
    Attempts,
)

PHONE, TABLET, HERE = "192.0.2.7", "192.0.2.8", "127.0.0.1"


class Seconds:
    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


def wrong(attempts: Attempts, address: str, times: int) -> None:
    for _ in range(times):
        attempts.wrong(address)


def test_five_are_free_then_each_doubles_the_wait() -> None:
    attempts = Attempts(Seconds())
    wrong(attempts, PHONE, FREE - 1)
    assert attempts.wait(PHONE) == 0
    waits = []
    for _ in range(9):
        attempts.wrong(PHONE)
        waits.append(attempts.wait(PHONE))
    assert waits == [30, 60, 120, 240, 480, 960, 1920, 3600, 3600]
    assert attempts.wait(TABLET) == 0


def test_the_wait_passes() -> None:
    clock = Seconds()
    attempts = Attempts(clock)
    wrong(attempts, PHONE, FREE)
    clock.now += FIRST_WAIT - 1
    assert attempts.wait(PHONE) == 1
    clock.now += 1
    assert attempts.wait(PHONE) == 0


def test_who_knows_it_begins_anew_and_a_day_later_everybody_does() -> None:
    clock = Seconds()
    attempts = Attempts(clock)
    wrong(attempts, PHONE, FREE)
    attempts.right(PHONE)
    attempts.wrong(PHONE)
    assert attempts.wait(PHONE) == 0
    wrong(attempts, TABLET, FREE)
    clock.now += FORGOTTEN + 1
    attempts.wrong(TABLET)
    assert attempts.wait(TABLET) == 0


def test_many_addresses_together_wait_too_but_not_this_machine() -> None:
    clock = Seconds()
    attempts = Attempts(clock)
    for at in range(TOGETHER):
        assert attempts.wait(PHONE) == 0
        attempts.wrong(f"198.51.100.{at}")
    assert attempts.wait(PHONE) == WINDOW
    assert attempts.wait(HERE) == attempts.wait("::1") == 0
    clock.now += WINDOW
    assert attempts.wait(PHONE) == 0


def test_this_machine_waits_for_its_own_wrong_tries_alone() -> None:
    attempts = Attempts(Seconds())
    wrong(attempts, HERE, 2 * TOGETHER)
    assert attempts.wait(HERE) == LONGEST_WAIT
    assert attempts.wait(PHONE) == 0


@given(steps=st.lists(st.tuples(st.sampled_from([PHONE, TABLET]), st.floats(0, 900)), max_size=60))
def test_no_order_of_tries_gets_more_of_them(steps: list[tuple[str, float]]) -> None:
    """However the tries are timed, one address has no more than its waits allow."""
    clock = Seconds()
    attempts = Attempts(clock)
    tried: dict[str, int] = {PHONE: 0, TABLET: 0}
    for address, later in steps:
        clock.now += later
        if attempts.wait(address) == 0:
            attempts.wrong(address)
            tried[address] += 1
    passed = clock.now - 100.0
    for count in tried.values():
        extra = max(0, count - FREE)
        least = sum(min(LONGEST_WAIT, FIRST_WAIT * 2.0**at) for at in range(extra))
        assert passed >= least * (1 - 1e-9)
