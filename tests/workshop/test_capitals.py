"""Names, lots and kinds are found however they were capitalised; which one, is asked."""

from __future__ import annotations

from decimal import Decimal

import pytest

from baitwright.ledger.movements import Reason
from baitwright.ledger.trace import Stop
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.bags import Bagging, bag, batch_with_bags
from baitwright.workshop.batches.batch_hours import State
from baitwright.workshop.batches.batch_made import Making, measured_later
from baitwright.workshop.batches.batch_made import made as make
from baitwright.workshop.batches.batches import batch_of, cancel_batch
from baitwright.workshop.copies.purge import loss_of
from baitwright.workshop.costs.costs import cost_of_batch
from baitwright.workshop.costs.prices import Asking, ask, price_lines
from baitwright.workshop.entries.batch_unmade import step_back
from baitwright.workshop.entries.stock_moves import Taking, count_lot, take_out
from baitwright.workshop.forms.forms import form_of
from baitwright.workshop.forms.read_records import history
from baitwright.workshop.recipes.recipe_shelf import keep_recipe, versions
from baitwright.workshop.recipes.recipe_taken import take_away, take_back
from baitwright.workshop.selling.as_before import kit_as_before, price_as_before
from baitwright.workshop.selling.kits import Kit, keep_kit, put_together
from baitwright.workshop.selling.ordering import Wanted, take_order
from baitwright.workshop.selling.packing import Packing, pack
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.lots import LOT, Lot
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.traces.quarantine import quarantine, release
from baitwright.workshop.traces.quarantine import take_back as as_if_not_aside
from baitwright.workshop.traces.traces import trace
from baitwright.workshop.tubs.mixing import Mixing, mix
from tests.workshop.batching import DELIVERIES, of_weight, plan_one
from tests.workshop.counter import NOW, TODAY, held, pieces
from tests.workshop.records import body, person, write
from tests.workshop.shelf import path


@pytest.fixture
def stocked(book: Notebook) -> Notebook:
    for one in DELIVERIES:
        bring_in(book, one, now=NOW)
    return book


def test_batches_and_their_bags(stocked: Notebook) -> None:
    name = plan_one(stocked).name
    small = name.lower()
    assert small != name
    assert cancel_batch(stocked, small, now=NOW) == name
    step_back(stocked, small, now=NOW)
    with stocked.reading() as page:
        assert batch_of(page, small, state=State.PLANNED).name == name
        assert page.reserved_for(f"batch {name}")
    making = Making(BatchTable.model_construct(baits_made=264))
    assert make(stocked, small, making, now=NOW).name == name
    made = small
    measured_later(stocked, made, BatchTable.model_construct(twenty_at_8h=0.03), now=NOW)
    bags = bag(stocked, made, Bagging(50), now=NOW)
    assert bags == (f"{made.upper()}/1",)
    found, there = batch_with_bags(stocked, made)
    assert (found.name, len(there)) == (made.upper(), 1)
    assert cost_of_batch(stocked, made).name == made.upper()
    assert trace(stocked, f"{made}/1").start.name == f"{made.upper()}/1"
    assert trace(stocked, f"Bag {made}/1").start.stop is Stop.BAG
    fished = write(stocked, "night", "water=X", f"rod[1].bag={made}/1", "rod[1].hours=11 h")
    assert body(fished)["rod"][0]["bag"] == f"{made.upper()}/1"
    with pytest.raises(InputError, match=f"{name}, 214 of its 264"):
        step_back(stocked, made, now=NOW)


def test_items_lots_and_supplies(stocked: Notebook) -> None:
    (gone,) = take_out(stocked, Taking("COPPER", DELIVERIES[0].amount), now=NOW)
    assert gone.item == "Copper"
    assert trace(stocked, "s-881").start.name == "Mill S-881"
    assert trace(stocked, "mill s-881").start.name == "Mill S-881"
    with stocked.writing() as page:
        told = Lot("Eggs", TODAY.isoformat()).as_body()
        for name in ("Tray/a", "tray/A"):
            page.write(LOT, name, told, seen=0, time=NOW)
    with pytest.raises(InputError, match="one of these, capitals too: Tray/a, tray/A"):
        count_lot(stocked, "TRAY/A", pieces(3), now=NOW)
    assert count_lot(stocked, "tray/A", pieces(3), now=NOW) == 3
    assert quarantine(stocked, "TRAY/a".swapcase(), "musty", now=NOW).lots == ("tray/A",)
    assert release(stocked, "TRAY/a".swapcase(), "a second look", now=NOW).lots == ("tray/A",)
    made = quarantine(stocked, "S-881", "musty", now=NOW).lots
    assert as_if_not_aside(stocked, "mill s-881", now=NOW).lots == made
    quarantine(stocked, "s-881", "musty again", now=NOW)
    assert release(stocked, "MILL S-881", "a third look", now=NOW, with_all=True).lots == made


def test_what_is_sold(book: Notebook) -> None:
    lot = bring_in(book, Delivery("Baits", pieces(20), Decimal(1)), now=NOW)
    bring_in(book, Delivery("Bags", pieces(20), Decimal(1)), now=NOW)
    made = pack(book, Packing(lot, "Pack", 5, 2, 0, (("bags", pieces(5)),)), now=NOW)
    assert {one.item for one in made.lines} == {"Baits", "Bags", "Pack"}
    again = pack(book, Packing(lot, "PACK", 1, 2), now=NOW)
    assert again.lines[-1].item == "Pack"
    keep_kit(book, Kit("Box", (("pack", pieces(1)),)), now=NOW)
    joined = put_together(book, "box", 1, now=NOW)
    assert [(one.item, one.reason) for one in joined.lines] == [
        ("Pack", Reason.PACKED),
        ("Box", Reason.MADE),
    ]
    assert ask(book, "pack", Asking(Decimal(2)), now=NOW).item == "Pack"
    assert price_lines(book, "PACK")[0].asked == 2
    taken = take_order(book, "", [Wanted("pack", pieces(1))], now=NOW, day=TODAY)
    assert taken.order.lines[0].item == "Pack"
    price_as_before(book, "paCK", now=NOW)
    assert price_lines(book) == ()
    keep_kit(book, Kit("Box", (("PACK", pieces(2)),)), now=NOW)
    before = kit_as_before(book, "BOX", now=NOW)
    assert before == Kit("Box", (("Pack", pieces(1)),))
    for parts in (("pack", "Pack"), ("BOX",)):
        with pytest.raises(InputError, match="other items, each of them once"):
            keep_kit(book, Kit("Box", tuple((one, pieces(1)) for one in parts)), now=NOW)


def test_what_tubs_and_blends_are_made_of(stocked: Notebook) -> None:
    sack, malt = (
        bring_in(stocked, Delivery(one.item, one.amount, one.value), now=NOW)
        for one in (DELIVERIES[0], DELIVERIES[2])
    )
    write(stocked, "tub", "base=COPPER", f"base_lot={sack}", "left=900 g", name="T1")
    written = body(write(stocked, "tub", "base=copper", "base_lot=t1", "left=300 g", name="T2"))
    assert (written["base"], written["base_lot"]) == ("Copper", "T1")
    assert (held(stocked)["T1"], held(stocked)["T2"]) == (600_000, 300_000)
    write(stocked, "tub", "base_lot=t1", "hardener_lot=", "left=290 g", name="T2")
    batch = plan_one(stocked).name
    told = ("part[1].liquid=malt", "part[1].parts=1", f"part[1].lot={malt}")
    write(stocked, "blend", *told, "lot=B-4", "left=80 ml", name="Sweet")
    assert body(write(stocked, "blend", "lot=b-4", "left=70 ml", name="Sweet"))["lot"] == "B-4"
    assert held(stocked)["B-4"] == 70_000
    with pytest.raises(InputError, match=f"{batch}, planned"):
        told = ("left=1 g", "weighed=after", f"batch={batch.lower()}")
        write(stocked, "tub", *told, name="T1")


def test_a_tub_is_mixed_of_what_the_shelf_calls_otherwise(book: Notebook) -> None:
    for item in ("COPPER", "Semolina"):
        bring_in(book, Delivery(item, of_weight(2000), Decimal(5)), now=NOW)
    made = mix(book, path("copper-wafter"), Mixing(0.5), now=NOW)
    assert made.item == "COPPER"
    assert body(write(book, "tub", "left=400 g", name=made.lot))["base"] == "COPPER"
    assert held(book)[made.lot] == 400_000


def test_words_that_a_code_overwrites(book: Notebook) -> None:
    code = person(book, "name=Ada Quillfeather")
    write(book, "night", "water=Pond", "remark=with QUILLFEATHER", name="Late")
    loss = loss_of(book, "PERSON", code.upper(), words=["quillFeather"])
    assert [one.where for one in loss.changed] == ["night Late, remark"]


def test_recipes_and_records(book: Notebook) -> None:
    kept = keep_recipe(book, path("copper-wafter"), now=NOW).revision.name
    assert versions(book, kept.upper())[0].name == kept
    assert take_away(book, kept.lower(), now=NOW, reason="x").revision.name == kept
    assert take_back(book, kept.lower(), now=NOW).revision.name == kept
    write(book, "night", "water=X", name="Late")
    assert history(book, form_of("Night"), "LATE")[0].name == "Late"
    loss = loss_of(book, "Night", "late")
    assert (loss.kind, loss.name, loss.versions) == ("night", "Late", 1)
    with pytest.raises(InputError, match="one of: Late"):
        loss_of(book, "night", "later")
