"""Labels from the notebook: the bags of a batch, a tub, packs; what the recipe knows of them."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest

from baitwright.ledger.movements import Amount, Counted
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.bags import Bagging, Kept, bag
from baitwright.workshop.batches.batch_made import Making, made
from baitwright.workshop.batches.batches import plan_into
from baitwright.workshop.entries.stock_moves import undo_last
from baitwright.workshop.labels.label_words import labels_json, labels_text, write_labels
from baitwright.workshop.labels.labels import Telling, labels_of
from baitwright.workshop.labels.lot_allergens import allergens_of
from baitwright.workshop.selling.packing import Packing, pack
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.traces.quarantine import quarantine, release
from baitwright.workshop.tubs.mixing import Mixing, mix
from tests.sheets.test_bench_sheet import words
from tests.workshop.batching import DELIVERIES, NOW, make_one, of_weight
from tests.workshop.counter import stocked
from tests.workshop.records import person
from tests.workshop.shelf import path, planned

USUAL = Telling()
KNOWN = ("cereals containing gluten", "eggs", "soybeans")


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    opened = open_notebook(tmp_path / "notebook.sqlite", now=NOW)
    for one in DELIVERIES:
        bring_in(opened, one, now=NOW)
    yield opened
    opened.close()


def bagged(book: Notebook, bags: int = 2) -> tuple[str, ...]:
    """Bags of fifty baits in the freezer, best before May."""
    batch = make_one(book).name
    how = Bagging(50, bags, Kept.FREEZER, date(2027, 5, 1))
    return bag(book, batch, how, now=NOW)


def tub(book: Notebook, grams: float = 2000.0) -> str:
    told = Mixing(grams / 1000, best_before=date(2027, 4, 1))
    return mix(book, path("copper-wafter"), told, now=NOW).lot


def test_every_bag_of_a_batch_has_its_own(book: Notebook) -> None:
    names = bagged(book)
    labels = labels_of(book, names[0].rpartition("/")[0], USUAL)
    assert [(one.lot, count) for one, count in labels] == [(name, 1) for name in names]
    (first, _), _ = labels
    assert first == labels_of(book, names[0], USUAL)[0][0]
    assert labels_of(book, names[0].lower(), USUAL) == labels_of(book, names[0], USUAL)
    assert (first.name, first.kind, first.content) == (
        *("Copper wafter baits", "15 mm wafters", "50 baits"),
    )
    assert (first.dated, first.day) == ("Made", NOW.date())
    assert (first.best_before, first.kept) == (date(2027, 5, 1), "freezer")
    assert first.invented
    assert {"not-food", "keep-apart"} <= set(first.cautions)
    assert not {"dust-mask", "glug-skin", "fish-nuts"} & set(first.cautions)


def test_what_the_recipe_knows_is_on_the_label_and_on_the_slip(book: Notebook) -> None:
    """The base was bought as Copper, of which the shelf alone knows nothing, and cork is none."""
    (name,) = bagged(book, 1)
    ((label, _),) = labels_of(book, name, USUAL)
    assert label.contains == KNOWN
    assert label.unknown == ("Malt",)
    with book.reading() as page:
        assert allergens_of(page, name).holds == KNOWN
        assert allergens_of(page, name).unknown == ("Malt",)


def test_a_tub_says_its_weight_and_what_its_parts_hold_be_they_on_the_shelf_or_not(
    book: Notebook,
) -> None:
    lot = tub(book)
    ((label, count),) = labels_of(book, lot, USUAL)
    assert (label.name, label.kind, label.content, count) == (
        "Copper",
        "mix for baits",
        "net 2 kg",
        1,
    )
    assert (label.best_before, label.kept, label.day) == (date(2027, 4, 1), "room", NOW.date())
    assert label.contains == KNOWN
    assert "dust-mask" in label.cautions
    four = labels_of(book, lot, Telling(net=of_weight(500), copies=4))
    assert [(one.content, count) for one, count in four] == [("net 500 g", 4)]


def test_what_harms_dogs_is_cautioned_about(book: Notebook, tmp_path: Path) -> None:
    bring_in(book, Delivery("cocoa", of_weight(5000), Decimal(9)), now=NOW)
    recipe = tmp_path / "cocoa.toml"
    text = path("copper-wafter").read_text(encoding="utf-8")
    recipe.write_text(text.replace("maize-meal-fine", "cocoa"), encoding="utf-8")
    made_of_cocoa = mix(book, recipe, Mixing(1.0), now=NOW).lot
    ((label, _),) = labels_of(book, made_of_cocoa, USUAL)
    assert "Harms dogs." in labels_text(((label, 1),))
    ((label, _),) = labels_of(book, tub(book), USUAL)
    assert "Harms dogs." not in labels_text(((label, 1),))


def test_packs_are_labelled_as_many_as_were_packed(book: Notebook) -> None:
    batch = make_one(book, best_before=None).name
    lot = pack(book, Packing(batch, "wafter pack", 6, 12), now=NOW).lot
    ((label, count),) = labels_of(book, lot, USUAL)
    assert (label.name, label.content, count) == ("wafter pack", "12 baits", 6)
    assert label.kind == "Copper wafter baits, 15 mm wafters"
    assert (label.dated, label.kept) == ("Made", "")
    assert label.contains == KNOWN
    told = labels_of(book, lot, Telling(kept="fridge", copies=2))
    assert [(one.kept, count) for one, count in told] == [("fridge", 2)]


def test_packs_of_baits_that_were_bought_have_the_day_of_the_packing(book: Notebook) -> None:
    lots = stocked(book)
    lot = pack(book, Packing(lots["baits"], "pack", 3, 1), now=NOW).lot
    ((label, _),) = labels_of(book, lot, USUAL)
    assert (label.dated, label.day, label.content) == ("Packed", NOW.date(), "1 bait")
    assert (label.contains, label.unknown) == ((), ("wafters",))
    assert not label.invented


def test_a_glug_and_nuts_are_cautioned_about(book: Notebook) -> None:
    plan = planned("copper-wafter-glugged", "bench-three-large-eggs")
    name = plan_into(book, path("copper-wafter-glugged"), plan, now=NOW).name
    made(book, name, Making(BatchTable.model_construct(baits_made=100)), now=NOW)
    bag(book, name, Bagging(50), now=NOW)
    ((label, _),) = labels_of(book, name, USUAL)
    assert "glug-skin" in label.cautions
    assert "fish-nuts" not in label.cautions
    nutty = Delivery("wafters", Amount(50, Counted.PIECES), Decimal(1), allergens="peanuts")
    lot = pack(book, Packing(bring_in(book, nutty, now=NOW), "pack", 1, 12), now=NOW).lot
    ((label, _),) = labels_of(book, lot, USUAL)
    assert label.contains == ("peanuts",)
    assert "fish-nuts" in label.cautions


def test_the_maker_is_a_person_of_the_notebook(book: Notebook) -> None:
    (name,) = bagged(book, 1)
    code = person(book, "name=A. Example", "address=1 Example Lane", "phone=01632 960000")
    ((label, _),) = labels_of(book, name, Telling(maker=code))
    assert label.maker == "A. Example, 1 Example Lane, 01632 960000"
    with pytest.raises(InputError, match=f"one of: {code}"):
        labels_of(book, name, Telling(maker="person 9"))
    with book.writing() as page:
        page.erase_person(code, time=NOW)
    with pytest.raises(InputError, match="still knows"):
        labels_of(book, name, Telling(maker=code))


@pytest.mark.parametrize(
    ("told", "field"),
    [
        (Telling(net=of_weight(2001)), "net"),
        (Telling(net=of_weight(500), copies=5), "net"),
        (Telling(net=Amount(1, Counted.PIECES)), "amount of Copper"),
        (Telling(copies=0), "copies"),
        (Telling(copies=-3), "copies"),
        (Telling(net=of_weight(0.1), copies=2001), "copies"),
    ],
)
def test_more_than_there_is_is_refused(book: Notebook, told: Telling, field: str) -> None:
    lot = tub(book)
    with pytest.raises(InputError) as caught:
        labels_of(book, lot, told)
    assert caught.value.field == field


def test_what_was_not_made_here_has_no_label(book: Notebook) -> None:
    bought = bring_in(book, Delivery("semolina", of_weight(500), Decimal(1)), now=NOW)
    for name in ("2026-11-27/99", bought, ""):
        with pytest.raises(InputError, match="that were made here"):
            labels_of(book, name, USUAL)
    batch = make_one(book).name
    with pytest.raises(InputError, match=f"baitwright batch bag {batch} 50"):
        labels_of(book, batch, USUAL)


def test_what_was_undone_or_set_aside_has_none_until_it_is_back(book: Notebook) -> None:
    first, second = bagged(book)
    batch = first.rpartition("/")[0]
    undo_last(book, now=NOW)
    assert [one.lot for one, _ in labels_of(book, batch, USUAL)] == [first]
    with pytest.raises(InputError, match="made here"):
        labels_of(book, second, USUAL)
    quarantine(book, first, "smells musty", now=NOW)
    with pytest.raises(InputError, match="quarantine"):
        labels_of(book, batch, USUAL)
    release(book, first, "smells fine", now=NOW)
    undo_last(book, now=NOW)
    assert [one.lot for one, _ in labels_of(book, batch, USUAL)] == [first, second]


def test_words_data_and_pages_say_the_same(book: Notebook, tmp_path: Path) -> None:
    labels = labels_of(book, bagged(book)[0], Telling(copies=3))
    text = labels_text(labels)
    assert text.startswith("3 of:\ninvented demo\nCopper wafter baits, 15 mm wafters, 50 baits\n")
    (data,) = json.loads(labels_json(labels))["labels"]
    assert (data["copies"], data["best_before"]) == (3, "2027-05-01")
    for key in ("allergen_words", "caution_words"):
        assert data[key] in text
    paper = write_labels(tmp_path / "new" / "labels.pdf", labels, paper="A5", skip=2)
    said = words(paper.read_bytes())
    assert said.count(data["caution_words"]) == 3
    with pytest.raises(InputError, match="paper"):
        write_labels(tmp_path / "x.pdf", labels, paper="letter")
    assert not (tmp_path / "x.pdf").exists()
