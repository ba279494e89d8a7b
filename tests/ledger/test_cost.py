"""What a batch, a bait and a bag cost: losses are borne by what is good, prices leave a margin."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.ledger.cost import bag_cost, batch_cost, price_for
from baitwright.ledger.movements import Movement, Reason, undo
from baitwright.terms.errors import InputError

NOW = datetime(2026, 11, 27, 9, 0)
MONEY = st.decimals("0.01", "999.99", places=2)


def went(item: str, amount: int, value: str) -> Movement:
    return Movement(item, f"{item}/1", NOW, -amount, -Decimal(value), Reason.USED)


EGGS, MIX = went("eggs", 3, "0.90"), went("copper", 260_000, "1.30")


def test_a_batch_costs_what_it_took() -> None:
    made = batch_cost([EGGS, MIX, went("copper", 40_000, "0.20")], baits=120)
    assert [(part.item, part.amount, part.value) for part in made.parts] == [
        ("eggs", 3, Decimal("0.90")),
        ("copper", 300_000, Decimal("1.50")),
    ]
    assert made.total == Decimal("2.40")
    assert made.per_bait == Decimal("0.02")


def test_what_came_back_costs_nothing() -> None:
    made = batch_cost([EGGS, MIX, undo(MIX, time=NOW)], baits=30)
    assert made.total == Decimal("0.90")
    assert made.per_bait == Decimal("0.03")


@given(MONEY, st.integers(1, 300), st.integers(1, 300))
def test_the_fewer_good_baits_the_dearer_each(value: Decimal, few: int, more: int) -> None:
    lines = [went("eggs", 3, str(value))]
    dear, cheap = (batch_cost(lines, baits=one).per_bait for one in (few, few + more))
    assert dear >= cheap
    assert abs(dear * few - value) <= Decimal("0.0000005") * few


def test_no_bait_bears_no_cost() -> None:
    with pytest.raises(InputError, match="one good bait"):
        batch_cost([EGGS], baits=0)


def test_a_bag_by_hand() -> None:
    """Ten bags of twelve and five spilled: 125 baits at 0.02 over ten bags, and the bag."""
    made = bag_cost(Decimal("0.02"), baits=12, spilled=5, bags=10, packing=Decimal("0.11"))
    assert made.baits == Decimal("0.25")
    assert made.total == Decimal("0.36")


@pytest.mark.parametrize(("baits", "spilled", "bags"), [(12, 0, 0), (0, 0, 1), (12, -1, 1)])
def test_a_run_that_cannot_be(baits: int, spilled: int, bags: int) -> None:
    with pytest.raises(InputError, match="packing run"):
        bag_cost(Decimal("0.02"), baits=baits, spilled=spilled, bags=bags)


@given(MONEY, st.decimals("0", "0.95", places=2), st.sampled_from(["0.01", "0.05", "0.5"]))
def test_a_price_leaves_its_margin_and_no_step_more(
    cost: Decimal, margin: Decimal, step: str
) -> None:
    price = price_for(cost, margin=margin, step=Decimal(step))
    assert (price - cost) / price >= margin
    lower = price - Decimal(step)
    assert lower * (1 - margin) < cost
    assert price % Decimal(step) == 0


@pytest.mark.parametrize(
    "wrong", [{"margin": Decimal(1)}, {"margin": Decimal("-0.1")}, {"step": Decimal(0)}]
)
def test_a_price_that_cannot_be(wrong: dict[str, Decimal]) -> None:
    with pytest.raises(InputError):
        price_for(Decimal("1.00"), **{"margin": Decimal("0.4"), **wrong})
