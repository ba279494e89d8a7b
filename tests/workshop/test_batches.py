"""Batches over the notebook: planning reserves, making draws down, cancelling restores."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

import pytest

from baitwright.ledger.movements import Amount, Counted, book_of
from baitwright.ledger.trace import Link, Place, Stop
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.bags import Bagging, bag, batch_with_bags
from baitwright.workshop.batches.batch_hours import State
from baitwright.workshop.batches.batch_list import last_batches
from baitwright.workshop.batches.batch_made import Making, made, measured_later
from baitwright.workshop.batches.batches import cancel_batch, plan_into
from baitwright.workshop.bench.batch_words import batch_text, batches_text
from baitwright.workshop.entries.batch_unmade import step_back
from baitwright.workshop.entries.stock_moves import Taking, take_out, undo_last
from baitwright.workshop.recipes.recipe_shelf import recipes
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.stock import shelves
from baitwright.workshop.strip.batch_file import BatchTable, read_batch
from baitwright.workshop.traces.quarantine import quarantine, release
from baitwright.workshop.traces.trace_words import recall_text, trace_text
from baitwright.workshop.traces.traces import trace
from baitwright.workshop.tubs.mixing import Mixing, mix
from tests.workshop.batching import DELIVERIES, NOW, PLAN, held, make_one, of_weight, plan_one
from tests.workshop.shelf import path, planned


@pytest.fixture
def book(book: Notebook) -> Notebook:
    for one in DELIVERIES:
        bring_in(book, one, now=NOW)
    return book


def test_planning_keeps_the_recipe_and_speaks_for_what_the_shelf_has(book: Notebook) -> None:
    found = plan_one(book)
    assert found.name == "2026-11-27/B1"
    assert found.missing == ("Caraway oil", "Yeast extract")
    assert found.short == ()
    spoken = {item: units for item, _, units in found.reserved}
    assert spoken["Eggs"] == 3
    assert spoken["Malt"] == pytest.approx(0.8 / 50 * 165_000, rel=0.05)  # 0.8 ml per 50 ml of egg
    assert [one.name for one in recipes(book)] == ["Copper wafter"]
    assert held(book)["Copper"][:2] == (5_000_000, spoken["Copper"])
    assert plan_one(book).name == "2026-11-27/B2"


@pytest.mark.parametrize(("letters", "fits"), [(74, True), (75, False), (80, False)])
def test_a_recipe_whose_baits_could_not_stand_on_the_shelf_is_not_planned(
    book: Notebook, letters: int, fits: bool
) -> None:
    plan = planned(*PLAN)
    recipe = replace(plan.request.recipe, name="C" * letters)
    plan = replace(plan, request=replace(plan.request, recipe=recipe))
    if fits:
        told = Making(BatchTable.model_construct(baits_made=264))
        name = plan_into(book, path(PLAN[0]), plan, now=NOW).name
        assert made(book, name, told, now=NOW).item == f"{'C' * letters} baits"
        return
    with pytest.raises(InputError, match="C baits', but it takes a name on one line of up to 80"):
        plan_into(book, path(PLAN[0]), plan, now=NOW)
    assert last_batches(book) == ()


def test_what_is_spoken_for_is_not_picked_for_another(book: Notebook) -> None:
    plan_one(book)
    spoken = held(book)["Eggs"][1]
    with pytest.raises(InputError, match="it takes 27 at most"):
        take_out(book, Taking("Eggs", Amount(28, Counted.PIECES)), now=NOW)
    take_out(book, Taking("Eggs", Amount(30 - spoken, Counted.PIECES)), now=NOW)


def test_what_is_short_is_told_and_the_rest_spoken_for(book: Notebook) -> None:
    take_out(book, Taking("Eggs", Amount(28, Counted.PIECES)), now=NOW)
    found = plan_one(book)
    assert [(one.item, one.amount.units) for one in found.short] == [("Eggs", 1)]
    with pytest.raises(InputError, match="stock of Eggs: got '3', but it takes 2 at most"):
        made(book, found.name, Making(BatchTable.model_construct(baits_made=264)), now=NOW)
    assert held(book)["Eggs"][:2] == (2, 2)
    short = Making(BatchTable.model_construct(baits_made=264), why_short="one from the neighbour")
    made(book, found.name, short, now=NOW)
    assert held(book)["Eggs"][:2] == (-1, 0)


def test_making_draws_down_what_was_really_used(book: Notebook) -> None:
    before = held(book)
    found = make_one(
        book,
        tub_used=0.282,
        baits_good=258,
        drawn={"Malt": Amount(2_700, Counted.MICROLITRES)},
        eggs=(0.064, 0.066, 0.067),
    )
    after = held(book)
    assert after["Copper"][:2] == (5_000_000 - 282_000, 0)
    assert after["Malt"][:2] == (250_000 - 2_700, 0)
    assert after["Eggs"][:2] == (27, 0)
    assert after["cork ball 9mm"][:2] == (500 - 264, 0)
    assert after["Copper wafter baits"] == (258, 0, found.value)
    # 282 g of 5 kg at 20.00, 2.7 ml of 250 ml at 9.00, 3 of 30 at 6.00 and 264 of 500 at 25.00
    worth = 0.282 / 5 * 20 + 2.7 / 250 * 9 + 0.6 + 264 / 500 * 25
    assert float(found.value) == pytest.approx(worth, abs=4e-6)
    assert sum(one[2] for one in after.values()) == sum(one[2] for one in before.values())


def test_every_step_can_be_taken_back(book: Notebook) -> None:
    name = plan_one(book).name
    spoken = held(book)
    cancel_batch(book, name, now=NOW, why="no time")
    assert all(one[1] == 0 for one in held(book).values())
    assert step_back(book, name, now=NOW) == ()
    assert held(book) == spoken
    for _ in range(2):
        made(book, name, Making(BatchTable.model_construct(baits_made=264)), now=NOW)
        assert {one.place for one in trace(book, name).back} == {
            Place(Stop.INGREDIENT, f"2026-11-27/{at}") for at in (1, 2, 3, 4)
        } | {Place(Stop.SUPPLIED, "Mill S-881")}
        assert step_back(book, name, now=NOW) == ()
        assert {item: one for item, one in held(book).items() if item in spoken} == spoken
        with pytest.raises(InputError, match="it takes a lot"):
            trace(book, name)
    with pytest.raises(InputError, match=r"got '2026-11-27/B1, planned'.*one that is made"):
        step_back(book, name, now=NOW)
    with book.reading() as page:
        states = [(one.body or {})["state"] for one in page.history("batch", name)]
    assert states == ["planned", "cancelled", "planned", "made", "planned", "made", "planned"]


def test_steps_out_of_order_are_refused(book: Notebook) -> None:
    found = make_one(book)
    with pytest.raises(InputError, match="one that is planned"):
        made(book, found.name, Making(BatchTable.model_construct(baits_made=264)), now=NOW)
    with pytest.raises(InputError, match="one that is planned"):
        cancel_batch(book, found.name, now=NOW)
    with pytest.raises(InputError, match="the last are: 2026-11-27/B1"):
        cancel_batch(book, "B9", now=NOW)
    bag(book, found.name, Bagging(50), now=NOW)
    with pytest.raises(InputError, match=r"214 of its 264 baits.*Undo what moved them"):
        step_back(book, found.name, now=NOW)


@pytest.mark.parametrize(
    ("told", "said"),
    [
        ({}, "baits_made: got nothing"),
        ({"baits_made": 264, "baits_good": 265}, "264 at most, which were rolled"),
        ({"baits_made": 264, "made": NOW + timedelta(days=1)}, "a day up to today, 2026-11-27"),
        ({"baits_made": 264, "tub_before": 0.5}, "tub_after: got nothing"),
    ],
)
def test_what_cannot_be_of_a_batch_is_refused(
    book: Notebook, told: dict[str, object], said: str
) -> None:
    name, before = plan_one(book).name, held(book)
    table = BatchTable.model_construct(**told)
    with pytest.raises(InputError, match=said):
        made(book, name, Making(table), now=NOW)
    assert held(book) == before


def test_bags_hold_what_the_batch_gave(book: Notebook) -> None:
    found = make_one(book, baits_good=258)
    names = bag(book, found.name, Bagging(50, 3, best_before=date(2026, 12, 3)), now=NOW)
    assert names == tuple(f"2026-11-27/B1/{at}" for at in (1, 2, 3))
    assert bag(book, found.name, Bagging(100), now=NOW) == ("2026-11-27/B1/4",)
    with pytest.raises(InputError, match="8 baits at most"):
        bag(book, found.name, Bagging(9), now=NOW)
    for wrong in (Bagging(0), Bagging(1, 0), Bagging(1, 101)):
        with pytest.raises(InputError, match="of 1 bait or more"):
            bag(book, found.name, wrong, now=NOW)
    assert held(book)["Copper wafter baits"] == (258, 0, found.value)
    (item,) = (one for one in shelves(book) if one.item == "Copper wafter baits")
    assert {one.lot: one.held for one in item.lots} == {
        found.name: 8, **dict.fromkeys(names, 50), "2026-11-27/B1/4": 100
    }  # fmt: skip
    batch, bags = batch_with_bags(book, found.name)
    assert "bag 2026-11-27/B1/1: 50 baits, fridge, best before 2026-12-03" in batch_text(
        batch, bags
    )


def test_the_shelfs_undo_takes_a_bag_back_and_leaves_a_batch_alone(book: Notebook) -> None:
    found = make_one(book)
    (name,) = bag(book, found.name, Bagging(50), now=NOW)
    before = held(book)
    for bags in ((), (name,)):
        undo_last(book, now=NOW)
        assert held(book) == before
        assert tuple(one.name for one in batch_with_bags(book, found.name)[1]) == bags
        assert [one.name for one in trace(book, found.name).recall] == list(bags)
    undo_last(book, now=NOW)
    assert bag(book, found.name, Bagging(50), now=NOW) == (f"{found.name}/2",)
    undo_last(book, now=NOW)
    other = make_one(book, baits_made=200).name
    with pytest.raises(InputError, match=f"baitwright batch undo {other}"):
        undo_last(book, now=NOW)
    step_back(book, other, now=NOW)
    step_back(book, found.name, now=NOW)
    with pytest.raises(InputError, match="baitwright batch made 2026-11-27/B1 FILE"):
        undo_last(book, now=NOW)


def test_a_trace_goes_from_the_supplier_to_the_bag_and_back(book: Notebook) -> None:
    found = make_one(book)
    (name,) = bag(book, found.name, Bagging(50), now=NOW)
    supplied, at_end = Place(Stop.SUPPLIED, "Mill S-881"), Place(Stop.BAG, name)
    for said in ("S-881", "Mill S-881"):
        followed = trace(book, said)
        assert followed.start == supplied
        assert followed.recall == (at_end,)
        assert followed.back == ()
    back = trace(book, name)
    assert supplied in {one.place for one in back.back}
    under = "      ingredient lot 2026-11-27/1, Copper\n        supplier's lot Mill S-881\n"
    assert under in trace_text(back)
    assert recall_text(trace(book, "2026-11-27/3")).endswith(f"bag {name}, Copper wafter baits")
    assert trace(book, found.name).onward[0].place == at_end
    with pytest.raises(InputError, match="a lot, a batch, a bag"):
        trace(book, "S-9")


def test_quarantine_holds_all_that_was_made_of_a_lot(book: Notebook) -> None:
    found = make_one(book)
    (name,) = bag(book, found.name, Bagging(50), now=NOW)
    with pytest.raises(InputError, match="why: got nothing"):
        quarantine(book, "S-881", " ", now=NOW)
    aside = quarantine(book, "S-881", "musty", now=NOW)
    assert aside.lots == ("2026-11-27/1", found.name, name)
    assert [one.name for one in aside.recall] == [name]
    with pytest.raises(InputError, match="it takes 0 g at most"):
        take_out(book, Taking("Copper", of_weight(1)), now=NOW)
    with pytest.raises(InputError, match=r"not in quarantine\. musty"):
        bag(book, found.name, Bagging(1), now=NOW)
    release(book, "2026-11-27/1", "it was the cupboard", now=NOW)
    take_out(book, Taking("Copper", of_weight(1)), now=NOW)
    with pytest.raises(InputError, match="a lot in quarantine"):
        release(book, "2026-11-27/1", "again", now=NOW)


def test_a_liquid_kept_by_weight_is_drawn_by_weight(tmp_path: Path) -> None:
    book = open_notebook(tmp_path / "by-weight.sqlite", now=NOW)
    for one in (DELIVERIES[0], Delivery("Malt", of_weight(100), Decimal(10))):
        bring_in(book, one, now=NOW)
    planned_mg = held(book)["Malt"][0]
    name = plan_one(book).name
    reserved = held(book)["Malt"][1]
    told = BatchTable.model_construct(
        baits_made=264, drawn={"malt": Amount(1_321, Counted.MICROLITRES)}
    )
    made(book, name, Making(told), now=NOW)
    # half of the 2.642 ml that were planned, so half of their weight
    assert planned_mg - held(book)["Malt"][0] == pytest.approx(reserved / 2, rel=0.01)
    assert len(trace(book, name).back) == 3
    book.close()


def test_a_liquid_that_was_not_planned_is_refused(book: Notebook) -> None:
    name = plan_one(book).name
    drawn = {"Mallt": Amount(2_700, Counted.MICROLITRES)}
    told = BatchTable.model_construct(baits_made=264, drawn=drawn)
    with pytest.raises(InputError, match=r"drawn\.Mallt.*Malt, Caraway oil, Yeast extract"):
        made(book, name, Making(told), now=NOW)


def test_what_stock_rests_on_is_not_measured_later(book: Notebook) -> None:
    name = make_one(book).name
    with pytest.raises(InputError, match=r"baits_good: got '100'.*batch undo"):
        measured_later(book, name, BatchTable.model_construct(baits_good=100), now=NOW)
    heavy = BatchTable.model_construct(twenty_at_8h=0.294, twenty_fresh=0.0338)
    assert measured_later(book, name, heavy, now=NOW) == ("twenty_at_8h",)


def test_a_lot_and_a_night_of_one_name_are_told_apart(book: Notebook) -> None:
    found = make_one(book)
    (name,) = bag(book, found.name, Bagging(50), now=NOW)
    with book.writing() as page:
        page.link(Link(Place(Stop.BAG, name), Place(Stop.NIGHT, "2026-11-27/1")))
    with pytest.raises(InputError, match="ingredient lot 2026-11-27/1, night 2026-11-27/1"):
        trace(book, "2026-11-27/1")
    assert trace(book, "night 2026-11-27/1").start.stop is Stop.NIGHT
    assert quarantine(book, "2026-11-27/2", "musty", now=NOW).lots == (
        *("2026-11-27/2", found.name, name),
    )
    assert "2026-11-27/1" in quarantine(book, "2026-11-27/1", "musty", now=NOW).lots


def test_what_is_measured_later_is_added(book: Notebook) -> None:
    found = make_one(book, twenty_fresh=0.0338)
    measured_later(book, found.name, BatchTable.model_construct(twenty_at_8h=0.0294), now=NOW)
    batch, _ = batch_with_bags(book, found.name)
    text = batch_text(batch, ())
    assert "twenty fresh: planned 33.1 g (29.9 g to 37.2 g), was 33.8 g" in text
    assert "was 29.4 g" in text
    assert "baits made: planned 274 (229 to 321), was 264" in text
    assert batches_text(last_batches(book)) == "2026-11-27/B1: Copper wafter, made, 264 baits"
    assert last_batches(book, words="chalk") == ()


def test_the_book_alone_tells_the_same_as_the_shelf(book: Notebook) -> None:
    bag(book, make_one(book).name, Bagging(50), now=NOW)
    with book.reading() as page:
        standing = book_of(page.book_lines())
    for one in shelves(book):
        assert standing.items[one.item] == one.account
        assert {lot.lot: lot.held for lot in one.lots}.items() <= standing.lots.items()
        assert one.account.amount == sum(lot.held for lot in one.lots)


def test_a_batch_file_is_read_as_a_maker_writes_it(tmp_path: Path) -> None:
    file = tmp_path / "batch.toml"
    file.write_text(
        'made = 2026-11-26\ntub_used = "282 g"\neggs = ["64 g", "66 g"]\nboiled = "90 s"\n'
        'baits_made = 264\ndiameter_fresh = ["15.4 mm"]\ntwenty_at_24h = "27.9 g"\n'
        '[drawn]\nMalt = "2.7 ml"\n'
    )
    told = read_batch(file)
    assert told.eggs == (0.064, 0.066)
    assert told.boiled == 90.0
    assert told.drawn == {"Malt": Amount(2_700, Counted.MICROLITRES)}
    for wrong, said in (
        ('eggs = ["64 ml"]', "eggs: got '64 ml'"),
        ("eggs = []", "a list, of each a weight"),
        ('drawn = "2 ml"', "each liquid with its amount"),
        ('boild = "90 s"', "Nearest: 'boiled'"),
    ):
        file.write_text(f"{wrong}\n")
        with pytest.raises(InputError, match=said):
            read_batch(file)


def test_a_tub_is_made_of_its_parts_and_stands_in_the_trace(book: Notebook) -> None:
    for item, supplier_lot in (("semolina", "S-1"), ("egg albumen", "A-1")):
        came = Delivery(item, of_weight(2000), Decimal("10.00"), None, "Mill", supplier_lot)
        bring_in(book, came, now=NOW)
    found = mix(book, path("copper-wafter"), Mixing(0.550, raw=0.520), now=NOW)
    # 550 g hold 50 g of hardener, 10 % on top of 500 g; 520 g went on the sieve, 45 % semolina
    assert held(book)["semolina"][0] == 2_000_000 - 234_000
    assert "liver-powder" in found.missing
    assert found.item == "Copper"
    worth = sum((one.value for one in found.used), Decimal(0))
    assert held(book)["Copper"] == (5_550_000, 0, Decimal("20.00") - worth)
    assert trace(book, "S-1").onward[-1].place == Place(Stop.MIX, found.lot)
    with pytest.raises(InputError, match="raw: got '490 g', but it takes 500 g at least"):
        mix(book, path("copper-wafter"), Mixing(0.550, raw=0.490), now=NOW)
    with pytest.raises(InputError, match=r"base\.parts: got nothing"):
        mix(book, path("bought-mix"), Mixing(0.5), now=NOW)


def test_states_are_told_in_words() -> None:
    assert [str(one) for one in State] == ["planned", "made", "cancelled"]
    assert replace(Bagging(1), bags=2).bags == 2
