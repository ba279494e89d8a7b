"""First expired, first used; of alike ones the first that came."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.ledger.picking import LotOnShelf, due, pick
from baitwright.terms.errors import InputError

TODAY = date(2026, 11, 27)


def lot(name: str, *, best: int | None = 30, came: int = 0, held: int = 100) -> LotOnShelf:
    day = None if best is None else TODAY + timedelta(days=best)
    return LotOnShelf(name, TODAY + timedelta(days=came), day, held)


def test_the_first_to_expire_goes_first() -> None:
    shelf = [lot("late", best=60), lot("soon", best=5), lot("never", best=None)]
    picked = pick(shelf, 250, day=TODAY)
    assert picked.lots == (("soon", 100), ("late", 100), ("never", 50))
    assert picked.short == 0


def test_of_alike_ones_the_first_that_came() -> None:
    shelf = [lot("new", came=0), lot("old", came=-9), lot("older", came=-9)]
    picked = pick(shelf, 300, day=TODAY)
    assert [name for name, _ in picked.lots] == ["old", "older", "new"]


def test_its_best_before_day_still_counts_and_the_day_after_does_not() -> None:
    shelf = [lot("today", best=0), lot("yesterday", best=-1)]
    picked = pick(shelf, 150, day=TODAY)
    assert picked.lots == (("today", 100),)
    assert (picked.short, picked.past) == (50, ("yesterday",))


def test_what_is_spoken_for_or_held_back_stays() -> None:
    shelf = [
        replace(lot("mine"), reserved=70),
        replace(lot("bad"), quarantined=True),
        replace(lot("over"), reserved=120),
    ]
    picked = pick(shelf, 100, day=TODAY)
    assert picked.lots == (("mine", 30),)
    assert picked.short == 70


def test_nothing_is_no_amount_to_take() -> None:
    with pytest.raises(InputError, match="more than nothing"):
        pick([], 0, day=TODAY)


def test_what_is_due_is_told_the_earliest_first() -> None:
    shelf = [lot("empty", best=1, held=0), lot("week", best=7), lot("past", best=-3), lot("ok")]
    shelf.append(lot("no date", best=None))
    found = due(shelf, day=TODAY, within=timedelta(days=7))
    assert [one.lot for one in found] == ["past", "week"]


SHELVES = st.lists(
    st.builds(
        LotOnShelf,
        st.uuids().map(str),
        st.dates(date(2026, 1, 1), TODAY),
        st.none() | st.dates(date(2026, 11, 1), date(2027, 6, 1)),
        st.integers(0, 1000),
        st.integers(0, 500),
        st.booleans(),
    ),
    max_size=12,
)


@given(SHELVES, st.integers(1, 5000))
def test_all_that_is_wanted_or_all_there_is(shelf: list[LotOnShelf], amount: int) -> None:
    picked = pick(shelf, amount, day=TODAY)
    taken = dict(picked.lots)
    free = {one.lot: one.free for one in shelf if not one.past(TODAY)}
    assert sum(taken.values()) + picked.short == amount
    assert sum(taken.values()) == min(amount, sum(free.values()))
    assert all(0 < part <= free[name] for name, part in taken.items())


@given(SHELVES, st.integers(1, 5000), st.data())
def test_the_order_of_the_shelf_makes_no_difference(
    shelf: list[LotOnShelf], amount: int, data: st.DataObject
) -> None:
    mixed = data.draw(st.permutations(shelf))
    assert pick(mixed, amount, day=TODAY) == pick(shelf, amount, day=TODAY)


@given(SHELVES, st.integers(1, 2000))
def test_a_lot_is_begun_only_when_the_earlier_are_empty(
    shelf: list[LotOnShelf], amount: int
) -> None:
    picked = pick(shelf, amount, day=TODAY)
    free = {one.lot: one.free for one in shelf}
    assert all(part == free[name] for name, part in picked.lots[:-1])
