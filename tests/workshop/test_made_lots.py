"""Tubs and blends that are written down: lots made of lots, weighed, traced, and taken back."""

from __future__ import annotations

from datetime import date
from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baitwright.ledger.movements import Amount, Counted
from baitwright.ledger.trace import Place, Stop
from baitwright.notebook.page import Revision
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.entries.made_words import moved_text, shelf_text
from baitwright.workshop.entries.stock_moves import undo_last
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.records.record_forms import take_away, undo
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.shelf.lots import Lot, lot_of
from baitwright.workshop.shelf.stock import shelves
from baitwright.workshop.traces.quarantine import quarantine, take_back
from baitwright.workshop.traces.traces import trace
from baitwright.workshop.tubs.mixing import Mixing, mix
from tests.workshop.batching import NOW, make_one, of_weight, plan_one
from tests.workshop.counter import held, worth_of_all
from tests.workshop.records import write
from tests.workshop.shelf import path

SOON, LATE = date(2027, 2, 1), date(2027, 5, 1)


def ml(amount: int) -> Amount:
    return Amount(1000 * amount, Counted.MICROLITRES)


STOCK = {
    "sack": Delivery("Copper", of_weight(5000), Decimal("20.00"), LATE, "Mill", "S-881"),
    "albumen": Delivery("egg albumen", of_weight(1000), Decimal("15.00"), SOON, "Dairy", "A-1"),
    "malt": Delivery("Malt", ml(250), Decimal("9.00"), LATE, "Still", "M-1"),
    "honey": Delivery("Honey", of_weight(400), Decimal("4.00"), SOON, "Bees", "H-1"),
}


def shop(book: Notebook) -> dict[str, str]:
    return {name: bring_in(book, one, now=NOW) for name, one in STOCK.items()}


@pytest.fixture
def lots(book: Notebook) -> dict[str, str]:
    return shop(book)


def a_tub(book: Notebook, lots: dict[str, str], *words: str, name: str = "T1") -> Revision:
    told = (f"base_lot={lots['sack']}", f"hardener_lot={lots['albumen']}", "hardener=10 %")
    return write(book, "tub", "base=Copper", *told, "left=1100 g", *words, name=name)


def a_blend(book: Notebook, lots: dict[str, str], *words: str) -> Revision:
    write(book, "liquid", "density=1.4 g/ml", name="Honey")
    malt = ("part[1].liquid=Malt", "part[1].parts=3", f"part[1].lot={lots['malt']}")
    honey = ("part[2].liquid=Honey", "part[2].parts=1", f"part[2].lot={lots['honey']}")
    return write(book, "blend", *malt, *honey, "left=80 ml", "lot=B-4", *words, name="Sweet")


def lot(book: Notebook, name: str) -> Lot:
    with book.reading() as page:
        return lot_of(page, name)


def places(book: Notebook, name: str) -> tuple[set[Place], set[Place]]:
    """What a trace reaches back and onward."""
    found = trace(book, name)
    return {one.place for one in found.back}, {one.place for one in found.onward}


def test_a_tub_is_drawn_from_its_lots_and_traced_both_ways(
    book: Notebook, lots: dict[str, str]
) -> None:
    worth = worth_of_all(book)
    a_tub(book, lots)
    stands = held(book)
    assert stands["T1"] == 1_100_000
    assert stands[lots["sack"]] == 4_000_000
    assert stands[lots["albumen"]] == 900_000
    assert worth_of_all(book) == worth
    assert lot(book, "T1") == Lot("Copper", "2026-11-27", "2027-02-01", stop=Stop.MIX.value)
    back, _ = places(book, "T1")
    assert {one.name for one in back} == {
        *(lots["sack"], lots["albumen"], "Mill S-881", "Dairy A-1")
    }
    assert Place(Stop.MIX, "T1") in places(book, "A-1")[1]


def test_a_batch_uses_the_tub_before_the_sack_and_its_weight_agrees(
    book: Notebook, lots: dict[str, str]
) -> None:
    a_tub(book, lots)
    batch = make_one(book, tub_used=0.268).name
    assert held(book)["T1"] == 832_000
    before = worth_of_all(book)
    made = write(book, "tub", "left=832 g", "weighed=after", f"batch={batch}", name="T1")
    assert (held(book)["T1"], worth_of_all(book)) == (832_000, before)
    assert "lot T1, 832 g of Copper, best before 2027-02-01" in moved_text(book, made)
    assert Place(Stop.BATCH, batch) in places(book, "A-1")[1]
    assert Place(Stop.MIX, "T1") in places(book, batch)[0]
    assert set(quarantine(book, lots["albumen"], "musty", now=NOW).lots) == {
        *(lots["albumen"], "T1", batch)
    }
    made = write(book, "tub", "left=800 g", name="T1")
    assert "T1: -32 g of Copper" in moved_text(book, made)
    assert "in quarantine" in moved_text(book, made)


def test_a_tub_that_was_lighter_after_a_batch_is_in_it_until_that_is_undone(
    book: Notebook, lots: dict[str, str]
) -> None:
    a_tub(book, lots)
    a_tub(book, lots, name="T2")
    batch = make_one(book, tub_used=0.268).name
    assert Place(Stop.BATCH, batch) not in places(book, "T2")[1]
    quarantine(book, "T2", "musty", now=NOW)
    told = ("left=900 g", "weighed=after", f"batch={batch}")
    write(book, "tub", *told, name="T2")
    assert Place(Stop.BATCH, batch) in places(book, "T2")[1]
    assert lot(book, batch).quarantined
    for is_in in (False, True):
        undo_last(book, now=NOW)
        assert (Place(Stop.BATCH, batch) in places(book, "T2")[1]) == is_in
    write(book, "tub", *("left=800 g", *told[1:]), name="T1")
    undo_last(book, now=NOW)  # the book drew on this one, whatever the scale says
    assert Place(Stop.BATCH, batch) in places(book, "T1")[1]


def test_the_shelf_takes_a_tub_back_with_its_record_and_brings_both_back(
    book: Notebook, lots: dict[str, str]
) -> None:
    stands = held(book)
    a_tub(book, lots)
    made, links = held(book), places(book, "T1")
    for _ in range(2):
        undo_last(book, now=NOW)
        assert held(book) == stands
        with book.reading() as page:
            assert page.all("tub") == ()
            assert page.links_back(Place(Stop.MIX, "T1")) == ()
        undo_last(book, now=NOW)
        assert (held(book), places(book, "T1")) == (made, links)
        with book.reading() as page:
            assert [one.name for one in page.all("tub")] == ["T1"]
    write(book, "tub", "left=900 g", name="T1")
    undo_last(book, now=NOW)
    assert held(book) == made
    with book.reading() as page:
        (tub,) = page.all("tub")
    assert (tub.body or {})["left"] == pytest.approx(1.1)
    assert tub.version == 7
    assert tub.reason == "undoes version 6"


def test_a_tub_taken_back_is_made_anew_of_other_lots(book: Notebook, lots: dict[str, str]) -> None:
    a_tub(book, lots)
    undo_last(book, now=NOW)
    assert "not on the shelf" in shelf_text(book, a_note(book))
    second = bring_in(book, STOCK["albumen"], now=NOW, again=True)
    a_tub(book, {**lots, "albumen": second})
    assert held(book)[second] == 900_000
    assert Place(Stop.INGREDIENT, lots["albumen"]) not in places(book, "T1")[0]


def a_note(book: Notebook) -> Revision:
    return write(book, "tub", "base=Copper", "left=2 kg", "base_lot=from the market", name="T1")


def test_a_tub_of_nothing_named_moves_nothing_and_says_how(
    book: Notebook, lots: dict[str, str]
) -> None:
    stands = held(book)
    made = a_note(book)
    assert held(book) == stands
    told = moved_text(book, made)
    assert told.startswith("  not on the shelf: name base_lot=LOT")
    assert "baitwright mix RECIPE" in told
    undo(book, FORMS["tub"], "T1", now=NOW)
    assert moved_text(book, write(book, "night", "water=Long Reedpool")) == ""


def test_what_stock_rests_on_is_undone_on_the_shelf(book: Notebook, lots: dict[str, str]) -> None:
    a_tub(book, lots)
    tub = FORMS["tub"]
    with pytest.raises(InputError, match="baitwright shelf undo"):
        undo(book, tub, "T1", now=NOW)
    with pytest.raises(InputError, match="baitwright shelf undo"):
        take_away(book, tub, "T1", now=NOW, reason="empty")
    write(book, "tub", "remark=smells fine", name="T1")
    with pytest.raises(InputError, match="left=0 first"):
        take_away(book, tub, "T1", now=NOW, reason="empty")
    undo(book, tub, "T1", now=NOW)
    write(book, "tub", "left=0 g", name="T1")
    write(book, "tub", "remark=empty", name="T1")
    take_away(book, tub, "T1", now=NOW, reason="empty")
    assert "T1" not in held(book)


def test_a_blend_is_drawn_by_its_parts_by_volume_or_by_weight(
    book: Notebook, lots: dict[str, str]
) -> None:
    worth = worth_of_all(book)
    made = a_blend(book, lots)
    stands = held(book)
    assert stands["B-4"] == 80_000
    assert stands[lots["malt"]] == 190_000
    assert stands[lots["honey"]] == 400_000 - 20 * 1400  # 20 ml of it, at 1.4 g/ml
    assert worth_of_all(book) == worth
    assert "lot B-4, 80 ml of Sweet, best before 2027-02-01" in moved_text(book, made)
    back, _ = places(book, "B-4")
    assert {one.name for one in back} == {lots["malt"], lots["honey"], "Still M-1", "Bees H-1"}
    assert Place(Stop.INGREDIENT, "B-4") in places(book, "H-1")[1]
    aside = quarantine(book, "H-1", "fermenting", now=NOW)
    assert set(aside.lots) == {lots["honey"], "B-4"}
    assert set(take_back(book, "H-1", now=NOW).lots) == {lots["honey"], "B-4"}
    write(book, "blend", "left=50 ml", name="Sweet")
    assert held(book)["B-4"] == 50_000
    undo_last(book, now=NOW)
    undo_last(book, now=NOW)
    assert held(book)["B-4"] == 50_000


def test_the_next_bottle_of_a_blend_is_a_lot_of_its_own(
    book: Notebook, lots: dict[str, str]
) -> None:
    a_blend(book, lots)
    write(book, "blend", "lot=B-5", "left=40 ml", name="Sweet")
    assert (held(book)["B-4"], held(book)["B-5"]) == (80_000, 40_000)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("left=",), "left: got nothing"),
        (("left=9 kg",), "stock of Copper"),
        (("hardener=",), "hardener: got nothing"),
        (("hardener_lot=2026-11-27/99",), "hardener_lot: got '2026-11-27/99'"),
        (("hardener_lot=2026-11-27/3",), "amount of Malt"),
    ],
)
def test_a_tub_that_cannot_be_made_leaves_all_as_it_was(
    book: Notebook, lots: dict[str, str], words: tuple[str, ...], said: str
) -> None:
    stands = held(book)
    keys = {one.partition("=")[0] for one in words}
    told = [
        *(f"base_lot={lots['sack']}", f"hardener_lot={lots['albumen']}", "hardener=10 %"),
        *("base=Copper", "left=1 kg"),
    ]
    told = [one for one in told if one.partition("=")[0] not in keys]
    with pytest.raises(InputError, match=said):
        write(book, "tub", *told, *(one for one in words if not one.endswith("=")), name="T1")
    assert held(book) == stands
    with book.reading() as page:
        assert page.latest("tub", "T1") is None


def test_names_lots_and_parts_that_would_mislead_are_refused(
    book: Notebook, lots: dict[str, str]
) -> None:
    with pytest.raises(InputError, match="that no day begins"):
        a_tub(book, lots, name="2026-11-27/9")
    with pytest.raises(InputError, match="a lot of egg albumen"):
        a_tub(book, lots, name=lots["albumen"])
    with pytest.raises(InputError, match=r"part\[1\]\.lot: got .*Honey.* a lot of Malt"):
        a_blend(book, {**lots, "malt": lots["honey"]})
    a_tub(book, lots)
    with pytest.raises(InputError, match=r"hardener: .* was made of"):
        write(book, "tub", "hardener=20 %", name="T1")
    with pytest.raises(InputError, match=r"base: |another name"):
        write(book, "tub", "base=Chalk", name="T1")
    batch = plan_one(book).name
    with pytest.raises(InputError, match=f"got '{batch}, planned', but it takes one that is made"):
        write(book, "tub", "left=1 kg", "weighed=after", f"batch={batch}", name="T1")
    quarantine(book, lots["albumen"], "musty", now=NOW)
    with pytest.raises(InputError, match="not in quarantine"):
        a_tub(book, lots, name="T2")


def test_a_tub_in_quarantine_is_not_made_again_out_of_it(
    book: Notebook, lots: dict[str, str]
) -> None:
    a_tub(book, lots)
    quarantine(book, "T1", "musty", now=NOW)
    undo_last(book, now=NOW)
    with pytest.raises(InputError, match="not in quarantine"):
        a_tub(book, lots)


def test_the_book_needs_a_density_to_weigh_out_a_volume(
    book: Notebook, lots: dict[str, str]
) -> None:
    part = ("part[1].liquid=Honey", "part[1].parts=1", f"part[1].lot={lots['honey']}")
    with pytest.raises(InputError, match=r"density of Honey.*record liquid"):
        write(book, "blend", *part, "left=80 ml", name="Sweet")


# --- mix -----------------------------------------------------------------------------------------


def test_a_tub_of_mix_has_a_record_of_its_name_and_is_weighed_by_it(
    book: Notebook, lots: dict[str, str]
) -> None:
    flour = Delivery("semolina", of_weight(2000), Decimal("10.00"), LATE)
    bring_in(book, flour, now=NOW)
    found = mix(book, path("copper-wafter"), Mixing(0.550), now=NOW)
    assert lot(book, found.lot).best_before == "2027-02-01"  # of the albumen, the earliest
    with book.reading() as page:
        (tub,) = page.all("tub")
    assert tub.name == found.lot
    assert shelf_text(book, tub).startswith(f"  on the shelf: lot {found.lot}, 550 g of Copper")
    written = (tub.body or {})["written"]
    assert (written["left"], written["hardener"]) == ("550 g", "10 %")
    write(book, "tub", "left=282 g", name=found.lot)
    assert held(book)[found.lot] == 282_000
    undo_last(book, now=NOW)
    undo_last(book, now=NOW)
    assert held(book)[found.lot] == 282_000
    told = Mixing(0.550, best_before=LATE)
    assert lot(book, mix(book, path("copper-wafter"), told, now=NOW).lot).best_before == str(LATE)
    undo_last(book, now=NOW)
    with book.reading() as page:
        assert [one.name for one in page.all("tub")] == [found.lot]


@settings(max_examples=10, deadline=None)
@given(
    share=st.integers(1, 50),
    grams=st.integers(1, 3000),
    basis=st.sampled_from(("on top of the base", "of the finished mix")),
)
def test_what_goes_in_is_what_comes_out(
    share: int, grams: int, basis: str, tmp_path_factory: pytest.TempPathFactory
) -> None:
    book = open_notebook(tmp_path_factory.mktemp("shop") / "notebook.sqlite", now=NOW)
    lots = shop(book)
    told = (f"hardener={share} %", f"hardener_basis={basis}", f"left={grams} g")
    try:
        named = (f"base_lot={lots['sack']}", f"hardener_lot={lots['albumen']}")
        write(book, "tub", "base=Copper", *named, *told, name="T1")
    except InputError:  # more albumen than there is
        assert grams * share > 100_000
        return
    finally:
        found = {one.item: one.account.amount for one in shelves(book)}
        book.close()
    albumen, copper = 1_000_000 - found["egg albumen"], found["Copper"] - 5_000_000
    assert abs(albumen - copper) <= 1  # what came to the mix is what left the albumen
    part = share / 100
    wanted = grams * 1000 * (part / (1 + part) if basis.startswith("on") else part)
    assert abs(albumen - wanted) <= 1
