"""Packing runs and kits: all value that goes in comes in again, and nothing is overdrawn."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from baitwright.ledger.cost import bag_cost
from baitwright.ledger.movements import Account, Reason
from baitwright.ledger.trace import Place, Stop
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.costs.cost_words import cost_json, cost_text
from baitwright.workshop.costs.costs import cost_of_lot
from baitwright.workshop.entries.stock_moves import Taking, take_out, undo_last
from baitwright.workshop.selling.kits import Kit, keep_kit, kits, put_together, take_apart
from baitwright.workshop.selling.packing import Packing, pack
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.lots import lot_of
from baitwright.workshop.traces.quarantine import quarantine
from baitwright.workshop.traces.traces import trace
from tests.workshop.counter import (
    MAY,
    NOW,
    accounts,
    grams,
    held,
    pieces,
    set_aside,
    worth_of_all,
)

LATER = NOW + timedelta(days=200)


@pytest.fixture
def run(lots: dict[str, str]) -> Packing:
    """Ten packs of twelve, five baits spilled, ten bags and ten labels."""
    materials = (("bags", pieces(10)), ("labels", pieces(10)))
    return Packing(lots["baits"], "wafter pack", 10, 12, 5, materials)


def test_a_packing_run_by_hand(book: Notebook, lots: dict[str, str], run: Packing) -> None:
    """125 baits at 0.06, ten bags at 0.05 and ten labels at 0.03: 8.30 in ten packs."""
    made = pack(book, run, now=NOW)
    assert [(one.lot, one.amount, one.value, one.reason) for one in made.lines] == [
        (lots["baits"], -120, Decimal("-7.2"), Reason.PACKED),
        (lots["baits"], -5, Decimal("-0.3"), Reason.LOST),
        (lots["bags"], -10, Decimal("-0.5"), Reason.PACKED),
        (lots["labels"], -10, Decimal("-0.3"), Reason.PACKED),
        (made.lot, 10, Decimal("8.3"), Reason.MADE),
    ]
    assert accounts(book)["wafter pack"] == Account(10, Decimal("8.3"))
    bag = bag_cost(Decimal("0.06"), baits=12, spilled=5, bags=10, packing=Decimal("0.08"))
    assert cost_of_lot(book, made.lot).cost.per_bait == bag.total == Decimal("0.83")
    with book.reading() as page:
        assert lot_of(page, made.lot).best_before == MAY.isoformat()
    before = {one.place for one in trace(book, made.lot).back}
    assert before == {Place(Stop.INGREDIENT, lots[name]) for name in ("baits", "bags", "labels")}


def test_what_a_pack_cost_is_told_part_by_part(book: Notebook, run: Packing) -> None:
    told = cost_of_lot(book, pack(book, run, now=NOW).lot)
    text = cost_text(told, of="lot", each="piece")
    assert "10 pieces: 8.30" in text
    assert "  wafters: 125, 7.50, 90.4 % of it" in text
    assert "each piece: 0.8300" in text
    assert "5 lost; the rest bear it" in text
    assert '"percent": "90.36"' in cost_json(told, of="lot", each="piece")


def test_undoing_a_run_is_an_inverse_of_stock_and_trace(book: Notebook, run: Packing) -> None:
    before = accounts(book), held(book)
    made = pack(book, run, now=NOW)
    after = accounts(book), held(book)
    undo_last(book, now=NOW)
    assert (accounts(book), held(book)) == before
    assert trace(book, made.lot).back == ()
    with pytest.raises(InputError, match="this was undone"):
        cost_of_lot(book, made.lot)
    undo_last(book, now=NOW)
    assert (accounts(book), held(book)) == after
    assert len(trace(book, made.lot).back) == 3
    assert cost_of_lot(book, made.lot).cost.total == Decimal("8.3")


@pytest.mark.parametrize(
    ("change", "message"),
    [
        ({"packs": 0}, "packs: got 0"),
        ({"packs": -3}, "packs: got -3"),
        ({"each": 0}, "baits in a pack"),
        ({"lost": -1}, "baits lost"),
        ({"packs": 10**7}, "packs"),
        ({"lot": "2026-11-27/99"}, "a lot of the shelf"),
        ({"packs": 17}, "got '204', but it takes 200 at most"),
        ({"packs": 16, "lost": 20}, "got '20', but it takes 8 at most"),
        ({"materials": (("bags", pieces(101)),)}, "stock of bags"),
        ({"materials": (("string", pieces(1)),)}, "item"),
        ({"materials": (("semolina", pieces(1)),)}, "a weight, as on the shelf"),
        ({"into": "wafters"}, "another than those that go into it"),
        ({"into": "semolina"}, "a weight, as on the shelf"),
    ],
)
def test_what_cannot_be_packed_writes_nothing(
    book: Notebook, run: Packing, change: dict[str, object], message: str
) -> None:
    before = accounts(book)
    with pytest.raises(InputError, match=message):
        pack(book, replace(run, **change), now=NOW)  # type: ignore[arg-type]
    assert accounts(book) == before
    with book.reading() as page:
        assert not page.all("packing")
        assert page.latest("item", "wafter pack") is None


def test_quarantine_and_days_that_are_over_hold_baits_back(
    book: Notebook, lots: dict[str, str], run: Packing
) -> None:
    with pytest.raises(InputError, match="past 2027-05-01', but it takes one within its day"):
        pack(book, run, now=LATER)
    quarantine(book, lots["baits"], "musty", now=NOW)
    for override in ("", "all the same"):
        with pytest.raises(InputError, match="not in quarantine"):
            pack(book, replace(run, override=override), now=NOW)


def test_a_lot_is_overdrawn_with_a_recorded_reason_alone(
    book: Notebook, lots: dict[str, str], run: Packing
) -> None:
    told = replace(run, packs=17, lost=0, override="counted by hand")
    made = pack(book, told, now=LATER)
    assert held(book)[lots["baits"]] == -4
    assert made.lines[0].override == "counted by hand"
    assert sum(one.value for one in made.lines) == 0


def test_what_is_spoken_for_is_not_packed_unsaid(
    book: Notebook, lots: dict[str, str], run: Packing
) -> None:
    with book.writing() as page:
        page.reserve("batch 1", "wafters", {lots["baits"]: 100}, time=NOW)
    with pytest.raises(InputError, match=r"100 at most\. 100 of it are spoken for"):
        pack(book, run, now=NOW)
    pack(book, replace(run, override="batch 1 can wait"), now=NOW)
    assert set_aside(book) == {lots["baits"]: 100}


# --- kits ----------------------------------------------------------------------------------


@pytest.fixture
def box(book: Notebook, lots: dict[str, str]) -> str:
    """A box with 70 baits, three hooks and 500 g of semolina."""
    parts = (("wafters", pieces(70)), ("hooks", pieces(3)), ("semolina", grams(500)))
    keep_kit(book, Kit("box", parts), now=NOW)
    return "box"


def test_a_kit_by_hand(book: Notebook, lots: dict[str, str], box: str) -> None:
    """210 baits at 0.06, nine hooks at 0.25 and 1.5 kg at 1.30: 16.80 in three boxes."""
    made = put_together(book, box, 3, now=NOW)
    assert accounts(book)["box"] == Account(3, Decimal("16.8"))
    assert held(book)[lots["later"]] == 90
    assert lots["baits"] not in held(book)
    recall = trace(book, lots["hooks"]).recall
    assert recall == (Place(Stop.BAG, made.lot),)


def test_kits_taken_apart_go_back_into_the_lots_they_came_of(
    book: Notebook, lots: dict[str, str], box: str
) -> None:
    before = accounts(book), held(book)
    made = put_together(book, box, 3, now=NOW)
    take_apart(book, made.lot, 1, now=NOW)
    assert held(book)[lots["baits"]] == 60  # the last box held 60 of the one and 10 of the other
    assert held(book)[lots["later"]] == 100
    assert accounts(book)["box"] == Account(2, Decimal("11.2"))
    take_apart(book, made.lot, 2, now=NOW)
    assert (accounts(book), held(book)) == before


def test_undoing_what_was_taken_apart_leaves_it_to_be_taken_apart(book: Notebook, box: str) -> None:
    made = put_together(book, box, 2, now=NOW)
    whole = accounts(book), held(book)
    take_apart(book, made.lot, 2, now=NOW)
    undo_last(book, now=NOW)
    assert (accounts(book), held(book)) == whole
    take_apart(book, made.lot, 1, now=NOW)
    with pytest.raises(InputError, match="1 at most"):
        take_apart(book, made.lot, 2, now=NOW)


def test_kits_that_cost_nothing_come_apart_as_well(book: Notebook) -> None:
    for item in ("pebble", "twig"):
        bring_in(book, Delivery(item, pieces(5), Decimal(0)), now=NOW)
    keep_kit(book, Kit("charm", (("pebble", pieces(1)), ("twig", pieces(2)))), now=NOW)
    made = put_together(book, "charm", 2, now=NOW)
    bring_in(book, Delivery("charm", pieces(2), Decimal("0.03")), now=NOW)
    take_apart(book, made.lot, 2, now=NOW)
    assert worth_of_all(book) == Decimal("0.03")
    assert accounts(book)["charm"].amount == 2


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda book: put_together(book, "box", 0, now=NOW), "kits: got 0"),
        (lambda book: put_together(book, "sack", 1, now=NOW), "kit: got 'sack'"),
        (lambda book: put_together(book, "box", 5, now=NOW), "stock of wafters"),
        (lambda book: take_apart(book, "2026-11-27/1", 1, now=NOW), "lot of kits"),
        (lambda book: keep_kit(book, Kit("jar", ()), now=NOW), "parts of jar"),
        (
            lambda book: keep_kit(book, Kit("jar", (("jar", pieces(1)),)), now=NOW),
            "other items, each of them once",
        ),
        (
            lambda book: keep_kit(book, Kit("jar", (("salt", pieces(1)),)), now=NOW),
            "one of the shelf",
        ),
        (
            lambda book: keep_kit(book, Kit("jar", (("hooks", grams(1)),)), now=NOW),
            "a count, as on the shelf",
        ),
    ],
)
def test_what_is_no_kit_writes_nothing(
    book: Notebook, box: str, call: Callable[[Notebook], object], message: str
) -> None:
    before = accounts(book)
    with pytest.raises(InputError, match=message):
        call(book)
    assert accounts(book) == before
    assert [one.item for one in kits(book)] == ["box"]


def test_sold_kits_are_not_taken_apart(book: Notebook, box: str) -> None:
    made = put_together(book, box, 2, now=NOW)
    take_out(book, Taking("box", pieces(2), Reason.SOLD), now=NOW)
    with pytest.raises(InputError, match="stock of box"):
        take_apart(book, made.lot, 1, now=NOW)
