"""The price list, what batches cost, and the shelf as a table."""

from __future__ import annotations

import csv
from decimal import Decimal
from pathlib import Path

import pytest

from baitwright.ledger.movements import Amount, Counted, Reason
from baitwright.materials.powders import allergens
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.bags import Bagging, bag
from baitwright.workshop.batches.batch_made import Making, made
from baitwright.workshop.batches.batches import plan_into
from baitwright.workshop.batches.cost_lines import lines_of
from baitwright.workshop.costs.cost_words import cost_json, cost_text
from baitwright.workshop.costs.costs import BagPlan, cost_of_batch, cost_of_lot
from baitwright.workshop.costs.price_words import price_json, price_table, price_text, read_share
from baitwright.workshop.costs.prices import Asking, ask, price_lines
from baitwright.workshop.entries.batch_unmade import unmade
from baitwright.workshop.entries.stock_moves import Taking, take_out
from baitwright.workshop.labels.lot_allergens import allergens_of
from baitwright.workshop.selling.ordering import Wanted, take_order
from baitwright.workshop.selling.sending import send
from baitwright.workshop.selling.slips import slip
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.shelf_table import shelf_table
from baitwright.workshop.shelf.stock import shelves
from baitwright.workshop.strip.batch_file import BatchTable
from tests.workshop.counter import NOW, grams, pieces
from tests.workshop.records import write
from tests.workshop.shelf import path, planned


@pytest.fixture(autouse=True)
def lots(lots: dict[str, str]) -> dict[str, str]:
    return lots


def rows_of(table: Path) -> list[dict[str, str]]:
    with table.open(encoding="utf-8-sig", newline="") as lines:
        return list(csv.DictReader(lines))


def test_a_price_by_hand(book: Notebook) -> None:
    """Semolina at 1.30 a kg; 2.40 with 20 % VAT is 2.00, which leaves 0.70, 35 %."""
    told = Asking(Decimal("2.40"), Decimal("0.2"), Decimal("0.5"), Decimal("0.05"))
    line = ask(book, "semolina", told, now=NOW)
    assert (line.cost, line.left, line.left_share) == (
        Decimal("1.30"), Decimal("0.70"), Decimal("0.35")
    )  # fmt: skip
    assert line.price_wanted == Decimal("3.15")  # 1.56 / 0.5 = 3.12, up to the next step
    text = price_text(price_lines(book))
    assert "semolina: 2.40 a kg with 20.0 % VAT in it, costs 1.3000" in text
    assert "leaves 0.70, 35.0 %, 3.15 would leave 50.0 %" in text


def test_what_is_not_told_of_a_price_stays(book: Notebook) -> None:
    ask(book, "hooks", Asking(Decimal("0.50"), Decimal("0.2"), Decimal("0.3")), now=NOW)
    line = ask(book, "hooks", Asking(Decimal("0.20")), now=NOW)
    assert (line.asked, line.vat, line.wanted) == (
        Decimal("0.20"), Decimal("0.2"), Decimal("0.3")
    )  # fmt: skip
    assert line.is_below_cost
    assert price_text([line]).startswith("! below cost  hooks")
    line = ask(book, "hooks", Asking(without_vat=True), now=NOW)
    assert (line.asked, line.vat) == (Decimal("0.20"), None)
    with book.reading() as page:
        assert len(page.history("price", "hooks")) == 3


def test_items_without_price_or_cost(book: Notebook) -> None:
    assert price_text(price_lines(book)).startswith("No price yet")
    assert "hooks: costs 0.2500 each, no price yet" in price_text(price_lines(book, "hooks"))
    ask(book, "hooks", Asking(Decimal(1)), now=NOW)
    take_out(book, Taking("hooks", pieces(50)), now=NOW)
    assert "no cost, for none is on the shelf" in price_text(price_lines(book))
    assert '"cost": null' in price_json(price_lines(book))


@pytest.mark.parametrize(
    ("item", "told", "message"),
    [
        ("salt", Asking(Decimal(1)), "one of the shelf"),
        ("hooks", Asking(vat=Decimal("0.2")), "a price, such as --ask"),
        ("hooks", Asking(Decimal(1), step=Decimal(0)), "price step"),
        ("hooks", Asking(Decimal(1), wanted=Decimal(1)), "margin"),
    ],
)
def test_a_price_that_cannot_be_writes_nothing(
    book: Notebook, item: str, told: Asking, message: str
) -> None:
    with pytest.raises(InputError, match=message):
        ask(book, item, told, now=NOW)
    assert price_lines(book) == ()


def test_shares_as_they_are_typed() -> None:
    assert read_share("20%", "vat") == read_share(" 20,0 % ", "vat") == Decimal("0.2")
    for wrong in ("20", "0.2", "x%", "-1%", "100%", "nan%", "%"):
        with pytest.raises(InputError, match="per cent such as 20%"):
            read_share(wrong, "vat")


def test_the_price_list_as_a_table(book: Notebook, tmp_path: Path) -> None:
    bring_in(book, Delivery("=cmd()", pieces(2), Decimal(1)), now=NOW)
    for item in ("=cmd()", "hooks"):
        ask(book, item, Asking(Decimal("0.20")), now=NOW)
    first, second = rows_of(price_table(tmp_path / "prices.csv", price_lines(book)))
    assert (first["item"], first["margin"], first["below_cost"]) == ("'=cmd()", "-0.300000", "yes")
    assert (second["asked"], second["vat_percent"], second["margin_percent"]) == (
        "0.20", "", "-25.00"
    )  # fmt: skip


def test_the_shelf_as_a_table_makes_up_its_value(book: Notebook, tmp_path: Path) -> None:
    bring_in(book, Delivery("@sum", grams(100), Decimal("0.10")), now=NOW)
    bring_in(book, Delivery("@sum", grams(200), Decimal("0.01")), now=NOW)
    rows = rows_of(shelf_table(tmp_path / "shelf.csv", shelves(book)))
    assert len(rows) == 8
    for shelf in shelves(book):
        values = [row["value"] for row in rows if row["item"].lstrip("'") == shelf.item]
        assert sum(map(Decimal, values)) == shelf.account.value
    (semolina,) = (row for row in rows if row["item"] == "semolina")
    assert (semolina["held"], semolina["unit"], semolina["in_quarantine"]) == ("25", "kg", "no")
    assert [row["item"] for row in rows].count("'@sum") == 2
    assert rows[-1]["best_before"] == "2027-06-01"


def test_a_value_that_no_lot_can_bear_is_told_apart(book: Notebook, tmp_path: Path) -> None:
    told = Taking("hooks", pieces(51), lot="2026-11-27/5", override="not counted")
    take_out(book, told, now=NOW)
    bring_in(book, Delivery("hooks", pieces(1), Decimal("4.00")), now=NOW)
    rows = rows_of(shelf_table(tmp_path / "shelf.csv", shelves(book)))
    found = [(row["lot"], row["held"], row["value"]) for row in rows if row["item"] == "hooks"]
    assert found[0] == ("", "0", "3.750000")
    assert {row[1:] for row in found[1:]} == {("-1", "0"), ("1", "0")}


# --- batches -------------------------------------------------------------------------------


@pytest.fixture
def batch(book: Notebook) -> str:
    """A batch of 264 rolled and 250 good baits, of Copper, eggs and malt."""
    for one in (
        Delivery("Copper", grams(5000), Decimal("20.00")),
        Delivery("Eggs", pieces(30), Decimal("6.00")),
        Delivery("Malt", Amount(250_000, Counted.MICROLITRES), Decimal("9.00")),
    ):
        bring_in(book, one, now=NOW)
    found = plan_into(
        book, path("copper-wafter"), planned("copper-wafter", "bench-three-large-eggs"), now=NOW
    )
    told = BatchTable.model_construct(baits_made=264, baits_good=250)
    return made(book, found.name, Making(told), now=NOW).name


def test_a_batch_costs_what_it_took(book: Notebook, batch: str) -> None:
    told = cost_of_batch(book, batch)
    assert (told.rolled, told.cost.baits) == (264, 250)
    (eggs,) = (part for part in told.cost.parts if part.item == "Eggs")
    assert (eggs.amount, eggs.value) == (3, Decimal("0.6"))
    with book.reading() as page:
        lines = lines_of(page, batch)
    assert told.cost.total == sum(one.value for one in lines if one.reason is Reason.MADE)
    text = cost_text(told, of="batch", each="bait")
    assert "  Eggs: 3, 0.60, " in text
    assert "14 of 264 rolled were lost in the making" in text
    assert '"rolled": 264' in cost_json(told, of="batch", each="bait")


def test_a_bag_costs_its_baits_what_was_spilled_and_its_label(book: Notebook, batch: str) -> None:
    plan = BagPlan(10, 12, 5, Decimal("0.11"))
    told = cost_of_batch(book, batch, plan)
    assert told.bag is not None
    each = told.cost.total / 250
    assert abs(told.bag.total - (each * 125 / 10 + Decimal("0.11"))) < Decimal("0.00001")
    assert "a bag: " in cost_text(told, of="batch", each="bait")
    for wrong in (BagPlan(0, 12), BagPlan(21, 12), BagPlan(2, 12, -1)):
        with pytest.raises(InputError):
            cost_of_batch(book, batch, wrong)


def test_baits_lost_since_are_borne_by_the_rest(book: Notebook, batch: str) -> None:
    (name,) = bag(book, batch, Bagging(50), now=NOW)
    item = "Copper wafter baits"
    take_out(book, Taking(item, pieces(30), Reason.LOST, lot=name), now=NOW)
    take_out(book, Taking(item, pieces(20), Reason.LOST, lot=batch), now=NOW)
    told = cost_of_batch(book, batch)
    assert told.lost == 50
    borne = f"{told.cost.total / 200:.4f}"
    assert f"50 lost; each of the 200 left bears {borne}" in cost_text(
        told, of="batch", each="bait"
    )
    assert cost_of_lot(book, name).cost.baits == 50


def test_a_batch_that_is_not_made_costs_nothing_yet(book: Notebook, batch: str) -> None:
    unmade(book, batch, now=NOW)
    with pytest.raises(InputError, match="planned"):
        cost_of_batch(book, batch)
    with book.reading() as page:
        assert lines_of(page, batch) == ()
    with pytest.raises(InputError, match="a batch of the notebook"):
        cost_of_batch(book, "B9")
    with pytest.raises(InputError, match="put together here"):
        cost_of_lot(book, "2026-11-27/1")


def test_a_slip_knows_the_allergens_of_a_batch(book: Notebook, batch: str) -> None:
    """Eggs hold egg, and the recipe tells the parts of its base; malt the tables cannot know."""
    item = "Copper wafter baits"
    take_order(book, "", [Wanted(item, pieces(5), Decimal("0.20"))], now=NOW, day=NOW.date())
    send(book, "1", now=NOW, day=NOW.date())
    (line,) = slip(book, "1").lines
    assert line.allergens.holds == ("cereals containing gluten", "eggs", "soybeans")
    assert line.allergens.unknown == ("Malt",)


def test_a_base_of_which_the_recipe_tells_no_parts_stays_unknown(book: Notebook) -> None:
    plan = planned("bought-mix", "bench-three-large-eggs")
    name = plan.request.recipe.base.name
    bring_in(book, Delivery(name, grams(2000), Decimal(1)), now=NOW)
    batch = plan_into(book, path("bought-mix"), plan, now=NOW).name
    made(book, batch, Making(BatchTable.model_construct(baits_made=50)), now=NOW)
    with book.reading() as page:
        found = allergens_of(page, batch)
    assert name in found.unknown
    assert "eggs" in found.holds


def test_a_slip_tells_what_labels_name(book: Notebook, batch: str) -> None:
    """A lot's own label, the label of a lot that went into baits, and the record of a liquid."""
    labelled = Delivery("semolina", grams(10), Decimal(0), allergens="peanuts; molluscs")
    lot = bring_in(book, labelled, now=NOW)
    write(book, "liquid", "supplier=Reed Mill", "allergens=milk; fish", name="malt")
    write(book, "ingredient", "allergens=milk", name="barley")
    with book.reading() as page:
        found = allergens_of(page, lot)
        baits = allergens_of(page, batch)
    assert found.holds == ("cereals containing gluten", "peanuts", "molluscs")
    assert found.unknown == ()
    told_by_recipe = ("cereals containing gluten", "eggs", "soybeans")
    assert baits.holds == tuple(sorted((*told_by_recipe, "fish", "milk"), key=_in_law))
    assert baits.unknown == ()


def _in_law(name: str) -> int:
    return [one.name for one in allergens().values()].index(name)


def test_an_item_of_which_one_lot_has_no_label_is_not_known(book: Notebook) -> None:
    for told in ("soybeans", ""):
        bring_in(book, Delivery("meal Z", grams(10), Decimal(0), allergens=told), now=NOW)
    with book.reading() as page:
        one, other = (allergens_of(page, lot) for lot in page.lots("meal Z"))
    assert (one.holds, one.unknown) == (("soybeans",), ())
    assert (other.holds, other.unknown) == ((), ("meal Z",))
