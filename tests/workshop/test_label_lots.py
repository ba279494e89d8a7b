"""Labels of kits, with what is in one, and of blends, with what their liquids' sheets say."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.entries.stock_moves import undo_last
from baitwright.workshop.labels.label_words import labels_text, write_labels
from baitwright.workshop.labels.labels import Telling, labels_of
from baitwright.workshop.selling.kits import Kit, keep_kit, put_together, take_apart
from baitwright.workshop.selling.packing import Packing, pack
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from tests.sheets.test_bench_sheet import words
from tests.workshop.batching import DELIVERIES, NOW, make_one
from tests.workshop.counter import grams, pieces
from tests.workshop.records import write
from tests.workshop.test_made_lots import ml

USUAL = Telling()
WHITING = Delivery(
    "whiting pellets", grams(900), Decimal("4.00"), date(2027, 2, 1), allergens="fish"
)


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    opened = open_notebook(tmp_path / "notebook.sqlite", now=NOW)
    for one in (
        *DELIVERIES,
        Delivery("hooks", pieces(50), Decimal("12.50")),
        WHITING,
        Delivery("Honey", ml(250), Decimal("9.00"), date(2027, 5, 1), hazards="H319; H412"),
    ):
        bring_in(opened, one, now=NOW)
    yield opened
    opened.close()


def kits_of(book: Notebook, count: int = 3) -> str:
    """Boxes of two packs, three hooks and 100 g of pellets."""
    packs = pack(book, Packing(make_one(book).name, "wafter pack", 6, 12), now=NOW).lot
    assert packs
    parts = (("wafter pack", pieces(2)), ("hooks", pieces(3)), ("whiting pellets", grams(100)))
    keep_kit(book, Kit("box", parts), now=NOW)
    return put_together(book, "box", count, now=NOW).lot


def blend_of(book: Notebook, *told: str) -> str:
    with book.reading() as page:
        (honey,) = page.lots("Honey")
    part = ("part[1].liquid=Honey", "part[1].parts=1", f"part[1].lot={honey}")
    write(book, "blend", *part, "lot=B-4", "left=80 ml", *told, name="Sweet")
    return "B-4"


def test_kits_tell_what_is_in_one_and_are_as_many_as_were_put_together(book: Notebook) -> None:
    ((label, count),) = labels_of(book, kits_of(book), USUAL)
    assert (label.name, label.content, count) == ("box", "1 kit", 3)
    assert label.kind == "2 × wafter pack; 3 × hooks; 100 g whiting pellets"
    assert (label.dated, label.day, label.best_before) == ("Packed", NOW.date(), date(2027, 2, 1))
    assert label.contains == ("cereals containing gluten", "eggs", "fish", "soybeans")
    assert label.invented
    assert "not-food" in label.cautions


def test_hooks_hold_no_allergens_once_they_are_in_the_notebook(book: Notebook) -> None:
    lot = kits_of(book)
    ((label, _),) = labels_of(book, lot, USUAL)
    assert label.unknown == ("Malt", "hooks")
    write(book, "hook", "size=6", name="hooks")
    ((label, _),) = labels_of(book, lot, USUAL)
    assert label.unknown == ("Malt",)


def test_kits_that_were_taken_apart_or_undone_need_no_label(book: Notebook) -> None:
    lot = kits_of(book)
    take_apart(book, lot, 1, now=NOW)
    ((label, count),) = labels_of(book, lot, USUAL)
    assert (label.content, count) == ("1 kit", 2)
    take_apart(book, lot, 2, now=NOW)
    with pytest.raises(InputError, match="not taken apart"):
        labels_of(book, lot, USUAL)
    undo_last(book, now=NOW)
    assert labels_of(book, lot, USUAL)[0][1] == 2
    lot = put_together(book, "box", 1, now=NOW).lot
    assert labels_of(book, lot, USUAL)[0][1] == 1
    undo_last(book, now=NOW)
    with pytest.raises(InputError, match="made here"):
        labels_of(book, lot, USUAL)


def test_a_blend_tells_what_the_sheets_of_its_liquids_say(book: Notebook) -> None:
    lot = blend_of(book)
    write(book, "liquid", "hazards=H317", name="Honey")
    ((label, count),) = labels_of(book, lot, USUAL)
    assert (label.name, label.kind, label.content, count) == (
        *("Sweet", "liquids blended for baits", "net 80 ml"),
        1,
    )
    assert (label.dated, label.best_before, label.kept) == ("Made", date(2027, 5, 1), "")
    assert label.sheets == "On the sheets of its liquids: H317, H319, H412."
    assert "glug-skin" in label.cautions
    assert {"skin-allergy", "eyes", "water-life"} <= {*label.cautions}  # H317, H319, H412
    assert "flash-shelf" not in label.cautions
    write(book, "liquid", "hazards=H317", "flash_point=40 C", name="Honey")
    ((label, _),) = labels_of(book, lot, USUAL)
    assert "flash-shelf" in label.cautions
    assert "Catches fire" in labels_text(((label, 1),))
    assert label.sheets in labels_text(((label, 1),))
    two = labels_of(book, lot, Telling(net=ml(40), copies=2))
    assert [(one.content, count) for one, count in two] == [("net 40 ml", 2)]
    with pytest.raises(InputError, match="80 ml at most"):
        labels_of(book, lot, Telling(net=ml(41), copies=2))


def test_a_blend_of_which_nothing_was_written_down_says_so(book: Notebook) -> None:
    bring_in(book, Delivery("Malt", ml(100), Decimal(3)), now=NOW)
    with book.reading() as page:
        malt = list(page.lots("Malt"))[-1]
    part = ("part[1].liquid=Malt", "part[1].parts=1", f"part[1].lot={malt}")
    write(book, "blend", *part, "lot=B-9", "left=20 ml", name="Plain")
    ((label, _),) = labels_of(book, "B-9", USUAL)
    assert label.sheets == "No hazard phrases written down."


def test_a_bottle_that_was_bought_under_the_name_of_a_blend_has_no_label(book: Notebook) -> None:
    blend_of(book)
    bought = bring_in(book, Delivery("Sweet", ml(9), Decimal(1)), now=NOW)
    with pytest.raises(InputError, match="made here"):
        labels_of(book, bought, USUAL)


def test_both_are_printed_on_the_smallest_label(book: Notebook, tmp_path: Path) -> None:
    for lot in (kits_of(book, 1), blend_of(book)):
        labels = labels_of(book, lot, USUAL)
        said = words(write_labels(tmp_path / "labels.pdf", labels, paper="bag").read_bytes())
        ((label, _),) = labels
        assert label.kind in said
        assert label.sheets in said
