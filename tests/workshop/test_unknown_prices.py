"""A price that nobody told: unknown and not nothing, all the way to the packs that are sold."""

from __future__ import annotations

import csv
import json
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from baitwright.ledger.movements import Account
from baitwright.notebook.store import Notebook
from baitwright.workshop.bench.batch_words import made_text
from baitwright.workshop.costs.cost_words import cost_json, cost_text
from baitwright.workshop.costs.costs import cost_of_batch, cost_of_lot
from baitwright.workshop.costs.price_words import price_json, price_text
from baitwright.workshop.costs.prices import Asking, ask, price_lines
from baitwright.workshop.entries.batch_unmade import unmade
from baitwright.workshop.entries.made_words import moved_text
from baitwright.workshop.entries.stock_moves import Taking, count_lot, take_out, undo_last
from baitwright.workshop.selling.ordering import Wanted, take_order
from baitwright.workshop.selling.packing import Packing, pack
from baitwright.workshop.selling.sending import send
from baitwright.workshop.selling.takings import takings
from baitwright.workshop.selling.takings_words import takings_json, takings_text
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.lots import lot_of
from baitwright.workshop.shelf.shelf_table import shelf_json, shelf_table
from baitwright.workshop.shelf.stock import Shelf, shelves
from baitwright.workshop.shelf.stock_words import moved_in, shelf_lines
from baitwright.workshop.tubs.mixing import Mixing, mix
from tests.workshop.batching import DELIVERIES, make_one, of_weight
from tests.workshop.counter import NOW, TODAY, grams, pieces
from tests.workshop.records import write
from tests.workshop.shelf import path

KG = 1_000_000


def shelf(book: Notebook, item: str) -> Shelf:
    return next(one for one in shelves(book) if one.item == item)


@pytest.fixture
def lots(book: Notebook) -> tuple[str, str]:
    """25 kg of semolina for 32.50, and 10 kg of which nobody said what they cost."""
    return (
        bring_in(book, Delivery("semolina", grams(25_000), Decimal("32.50")), now=NOW),
        bring_in(book, Delivery("semolina", grams(10_000), None), now=NOW),
    )


@pytest.fixture
def packs(book: Notebook) -> str:
    """Twenty baits at 1.00 and ten bags of unknown price, in ten packs."""
    baits = bring_in(book, Delivery("wafters", pieces(20), Decimal("1.00")), now=NOW)
    bring_in(book, Delivery("bags", pieces(10), None), now=NOW)
    return pack(book, Packing(baits, "pack", 10, 2, 0, (("bags", pieces(10)),)), now=NOW).lot


def test_an_unknown_price_moves_no_average(book: Notebook, lots: tuple[str, str]) -> None:
    priced, unpriced = lots
    (gone,) = take_out(book, Taking("semolina", grams(5000), lot=priced), now=NOW)
    assert gone.value == Decimal("-6.5")
    assert moved_in(book, [gone]).endswith("-5 kg of semolina, 6.50")
    (gone,) = take_out(book, Taking("semolina", grams(2000), lot=unpriced), now=NOW)
    assert gone.value == 0
    assert moved_in(book, [gone]).endswith("-2 kg of semolina, price unknown")
    count_lot(book, unpriced, grams(9000), now=NOW)
    found = shelf(book, "semolina")
    assert found.account == Account(29 * KG, Decimal("26"))
    assert (found.priced, found.apart) == (
        Account(20 * KG, Decimal("26")),
        {unpriced: Account(9 * KG)},
    )
    undo_last(book, now=NOW)
    take_out(book, Taking("semolina", grams(8000), lot=unpriced), now=NOW)
    assert not shelf(book, "semolina").apart


def test_the_shelf_says_what_is_left_out(
    book: Notebook, lots: tuple[str, str], tmp_path: Path
) -> None:
    bring_in(book, Delivery("salt", grams(1000), None), now=NOW)
    bring_in(book, Delivery("water", grams(1000), Decimal(0)), now=NOW)
    told = shelf_lines(shelves(book), today=TODAY).splitlines()
    assert "semolina: 35 kg, worth 32.50 at least: 1 lot without a full price" in told
    assert f"    {lots[1]}: 10 kg, price unknown" in told
    assert "salt: 1 kg, worth unknown: 1 lot without a price" in told
    assert "water: 1 kg, worth 0.00" in told
    assert told[-1] == "all together worth 32.50 at least: 2 lots without a full price"
    written = shelf_table(tmp_path / "s.csv", shelves(book)).read_text(encoding="utf-8-sig")
    rows = list(csv.DictReader(written.splitlines()))
    values = {(one["item"], one["held"]): (one["value"], one["value_known"]) for one in rows}
    assert values["semolina", "25"] == ("32.500000", "yes")
    assert values["semolina", "10"] == values["salt", "1"] == ("", "no")
    assert float(values["water", "1"][0]) == 0
    data = {one["item"]: one for one in json.loads(shelf_json(shelves(book)))["items"]}
    assert (data["salt"]["value"], data["salt"]["value_known"]) == (None, False)
    assert Decimal(data["semolina"]["value"]) == Decimal("32.5")
    assert [one["priced"] for one in data["semolina"]["lots"]] == [True, False]


@pytest.mark.usefixtures("lots")
def test_the_price_list_says_what_the_cost_leaves_out(book: Notebook, packs: str) -> None:
    (line,) = price_lines(book, "semolina")
    assert line.cost == Decimal("1.3")
    assert "costs 1.3000 (1 lot without a full price left out) a kg" in price_text([line])
    for item, price in (("pack", "0.50"), ("bags", "0.10")):
        ask(book, item, Asking(Decimal(price), wanted=Decimal("0.5")), now=NOW)
    (line,) = price_lines(book, "pack")
    assert "costs 0.1000 at least (1 lot without a full price)" in price_text([line])
    assert "leaves 0.40 at most, 80.0 % at most" in price_text([line])
    assert json.loads(price_json([line]))["prices"][0]["cost_known"] == "in part"
    bring_in(book, Delivery("bags", pieces(10), None), now=NOW)
    (line,) = price_lines(book, "bags")
    assert (line.cost, line.left, line.is_below_cost) == (None, None, False)
    assert "cost unknown, 1 lot without a price" in price_text([line])
    assert json.loads(price_json([line]))["prices"][0]["cost_known"] == "no"
    assert packs


def test_what_is_made_of_it_has_no_full_price(book: Notebook, packs: str) -> None:
    with book.reading() as page:
        assert not lot_of(page, packs).priced
    told = cost_of_lot(book, packs)
    text = cost_text(told, of="lot", each="piece")
    assert text.splitlines() == [
        f"lot {packs}, 10 pieces: 1.00 at least: 1 lot without a full price",
        "  wafters: 20, 1.00",
        "  bags: 10, price unknown",
        "each piece: 0.1000 at least",
    ]
    data = json.loads(cost_json(told, of="lot", each="piece"))
    assert (data["all_known"], data["lots_without_price"]) == (False, 1)
    assert {one["item"]: one["value"] for one in data["parts"]} == {
        "wafters": "1.000000",
        "bags": None,
    }


def test_takings_say_what_they_do_not_know(book: Notebook, packs: str) -> None:
    order = take_order(book, "", [Wanted("pack", pieces(4), Decimal("0.50"))], now=NOW, day=TODAY)
    send(book, order.order.name, now=NOW, day=TODAY)
    told = takings(book)
    assert "cost 0.40 at least, leaves 1.60 at most, 80.0 % at most" in takings_text(told)
    assert "stock on the shelf worth 0.60 at least: 1 lot without" in takings_text(told)
    data = json.loads(takings_json(told))
    assert {one["cost_known"] for one in data["margins"]} == {"in part"}
    assert data["stock_lots_without_price"] == 1
    assert packs


def test_a_batch_of_what_has_no_price_is_made_and_unmade(book: Notebook) -> None:
    for one in DELIVERIES:
        bring_in(book, replace(one, value=None), now=NOW)
    before = {one.item: (one.account, one.apart) for one in shelves(book)}
    made = make_one(book)
    assert "each price unknown" in made_text(made, "")
    told = cost_text(cost_of_batch(book, made.name), of="batch", each="bait")
    assert "264 baits: unknown: 4 lots without a price" in told
    unmade(book, made.name, now=NOW)
    after = {one.item: (one.account, one.apart) for one in shelves(book)}
    assert {item: after[item] for item in before} == before


def test_a_tub_of_what_has_no_price_is_recorded_as_one_is_mixed(book: Notebook) -> None:
    sack = bring_in(book, Delivery("Copper", grams(5000), Decimal("20.00")), now=NOW)
    gift = bring_in(book, Delivery("egg albumen", grams(1000), None), now=NOW)
    bring_in(book, Delivery("semolina", grams(1000), Decimal("2.00")), now=NOW)
    told = ("base=Copper", f"base_lot={sack}", f"hardener_lot={gift}", "hardener=10 %")
    made = write(book, "tub", *told, "left=1100 g", name="T1")
    assert moved_text(book, made).splitlines()[:3] == [
        f"{sack}: -1 kg of Copper, 4.00",
        f"{gift}: -100 g of egg albumen, price unknown",
        "T1: +1.1 kg of Copper, 4.00 at least",
    ]
    mixed = mix(book, path("copper-wafter"), Mixing(0.5), now=NOW).lot
    found = shelf(book, "Copper")
    assert found.priced == Account(4 * KG, Decimal("16"))
    assert set(found.apart) == {"T1", mixed}
    assert [one.priced for one in found.lots if one.is_mixed] == [False, False]
    undo_last(book, now=NOW)
    write(book, "tub", "base=Copper", "base_lot=T1", "left=600 g", name="T2")
    write(book, "tub", "left=450 g", name="T1")
    apart = shelf(book, "Copper").apart
    assert apart["T1"].amount == 450_000
    assert sum(one.value for one in apart.values()) < 4
    for stands in (False, True):  # the weighing and the second tub, taken back and done again
        undo_last(book, now=NOW)
        assert (shelf(book, "Copper").apart == apart) is stands
    with book.reading() as page:
        assert [lot_of(page, one).priced for one in ("T1", "T2", sack)] == [False, False, True]


def test_a_blend_of_what_has_no_price(book: Notebook) -> None:
    for one in DELIVERIES:
        bring_in(book, replace(one, value=None if one.item == "Malt" else one.value), now=NOW)
    malt = shelf(book, "Malt").lots[0].lot
    told = ("part[1].liquid=Malt", "part[1].parts=1", f"part[1].lot={malt}", "lot=B-4")
    made = write(book, "blend", *told, "left=80 ml", name="Sweet")
    assert "B-4: +80 ml of Sweet, price unknown" in moved_text(book, made)
    assert shelf(book, "Sweet").apart == {"B-4": Account(80_000)}
    undo_last(book, now=NOW)
    assert not shelf(book, "Sweet").apart
    priced = bring_in(book, Delivery("Malt", DELIVERIES[2].amount, Decimal("9.00")), now=NOW)
    told = ("part[1].liquid=Malt", "part[1].parts=1", f"part[1].lot={priced}", "lot=B-4")
    write(book, "blend", *told, "left=80 ml", name="Sweet")
    assert not shelf(book, "Sweet").apart  # made anew, of what was paid for
    assert shelf(book, "Sweet").account.value == Decimal("2.88")


def test_a_batch_of_prices_that_are_all_told_says_no_word_of_it(book: Notebook) -> None:
    for one in DELIVERIES:
        bring_in(book, one, now=NOW)
    made = make_one(book)
    assert "least" not in cost_text(cost_of_batch(book, made.name), of="batch", each="bait")
    assert "unknown" not in shelf_lines(shelves(book), today=TODAY)
    assert of_weight(1).units == 1000
