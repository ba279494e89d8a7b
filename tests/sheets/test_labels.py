"""Labels: what must stand on them does, it can be read, and the code says the lot."""

from __future__ import annotations

import io
from collections import Counter
from dataclasses import replace
from datetime import date

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from baitwright.materials.cautions import cautions
from baitwright.materials.labels import code_limit, label_size, label_sizes
from baitwright.materials.powders import allergens
from baitwright.sheets.labels import Label, label_data, label_pages, label_text, lot_code
from baitwright.sheets.tables import lines_of
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.bags import Kept
from tests.sheets.on_paper import (
    MM,
    assert_legible,
    codes_in,
    grey_pages,
    needs_poppler,
    words_on,
)
from tests.sheets.test_bench_sheet import printed, read_back, words

USUAL = Label(
    "Copper wafter baits",
    "15 mm wafters",
    "50 baits",
    "2026-11-27/B1/12",
    "Made",
    date(2026, 11, 27),
    date(2027, 5, 1),
    "fridge",
    ("cereals containing gluten", "eggs", "soybeans"),
    ("milk",),
    ("Malt",),
    ("not-food", "keep-apart"),
    "A. Example, 1 Example Lane, 01632 960000",
    invented=True,
)
FULL = replace(
    USUAL,
    name="Winter-spiced copper and fishmeal wafters of Longest Reedpool baits",
    contains=tuple(one.name for one in allergens().values()),
    may_contain=(),
    unknown=("Somebody's secret winter powder",),
    cautions=("not-food", "keep-apart", "glug-skin", "pets-keep", "fish-nuts"),
    invented=False,
)
BARE = replace(
    USUAL,
    name="Mix",
    kind="",
    best_before=None,
    kept="",
    contains=(),
    may_contain=(),
    unknown=(),
    maker="",
    invented=False,
)
UNBROKEN = replace(
    USUAL, name="Copperwafterbaits" * 4, kind="wintermix" * 6, maker="exampleworkshop" * 4
)
LABELS = {"usual": USUAL, "full": FULL, "bare": BARE, "unbroken": UNBROKEN}
INSET = 2.5  # mm of white within a label's edge


@pytest.fixture(params=list(label_sizes()))
def size_name(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def test_all_that_a_label_must_say_stands_on_it(size_name: str) -> None:
    text = words(label_pages([(USUAL, 1)], label_size(size_name)))
    for said in (
        *("Copper wafter baits", "15 mm wafters", "50 baits", "2026-11-27/B1/12"),
        *("Made 27 Nov 2026", "Best before 1 May 2027", "Keep in the fridge."),
        "Contains cereals containing gluten, eggs, soybeans. May contain milk.",
        "Allergens not known of Malt.",
        "Fishing bait. Not food. Keep away from children and animals.",
        *("A. Example, 1 Example Lane, 01632 960000", "invented demo"),
    ):
        assert said in text


def test_what_nobody_told_is_left_to_be_written() -> None:
    text = words(label_pages([(BARE, 1)], label_size("bag")))
    assert "Best before None" not in text
    assert "Keep in" not in text
    assert "None of the fourteen allergen groups" in text
    assert "Best before: not told." in label_text(BARE)


def test_a_terminal_says_the_same() -> None:
    told = label_text(USUAL)
    data = label_data(USUAL, label_size("bag"))
    for key in ("name", "kind", "content", "lot", "made", "best_before", "keep", "allergens"):
        assert data[key].replace("\u200b", "") in told
    assert data["cautions"] in told
    assert data["maker"] in told


@needs_poppler
@pytest.mark.parametrize("which", LABELS)
def test_it_is_legible_without_colour_and_nothing_runs_over(which: str, size_name: str) -> None:
    size = label_size(size_name)
    pdf = label_pages([(LABELS[which], size.places)], size)
    across = size.across * size.label_width + (size.across - 1) * size.gap
    edge = 1e3 * (size.page_width - across) / 2 + INSET
    assert_legible(pdf, edge_mm=edge)
    _, heights = printed(pdf)
    assert min(heights) >= 5.99


@needs_poppler
def test_no_word_leaves_the_label_it_stands_on() -> None:
    size = label_size("a4")
    named = [replace(FULL, lot=f"2026-11-27/B1/{at}") for at in range(1, size.places + 1)]
    middle = [0.5 * (size.page_width - 3 * size.label_width - 2 * size.gap)]
    step = size.label_width + size.gap
    left = [1e3 * MM * (middle[0] + step * at) for at in range(3)]
    right = [start + 1e3 * MM * size.label_width for start in left]
    for one in words_on(label_pages([(one, 1) for one in named], size)):
        assert any(a <= one.left and one.right <= b for a, b in zip(left, right, strict=True)), one


@needs_poppler
def test_a_phone_reads_each_lot_from_the_page(size_name: str) -> None:
    size = label_size(size_name)
    lots = [f"2026-11-27/B1/{at}" for at in range(1, 1 + min(size.places, 6))]
    pages = grey_pages(label_pages([(replace(USUAL, lot=lot), 2) for lot in lots], size))
    found = Counter(one.text for page in pages for one in codes_in(page))
    assert found == dict.fromkeys(lots, 2)


@needs_poppler
def test_modules_and_quiet_zone_are_as_large_on_paper_as_they_must_be(size_name: str) -> None:
    """Measured in the drawn page, not taken from the program."""
    dots = 600
    (page, *_) = grey_pages(label_pages([(USUAL, 1)], label_size(size_name)), dots_per_inch=dots)
    (found,) = codes_in(page)
    corners = found.position
    side = corners.bottom_right.x - corners.top_left.x
    modules = len(lot_code_modules(USUAL.lot))
    module = side / modules
    assert module * 25.4 / dots >= 1e3 * code_limit("least-module")
    quiet = int(4 * module) - 3  # a dot or two of the edge is grey
    top, left = corners.top_left.y, corners.top_left.x
    bottom, right = corners.bottom_right.y, corners.bottom_right.x
    around = page[top - quiet : bottom + quiet, left - quiet : right + quiet].copy()
    around[quiet - 3 : -quiet + 3, quiet - 3 : -quiet + 3] = 255
    assert around.min() == 255


def lot_code_modules(lot: str) -> range:
    """The modules of a lot's code from side to side, without its quiet zone."""
    return range(lot_code(lot, label_size("tub")).modules - 2 * 4)


@needs_poppler
def test_a_torn_or_stained_code_is_read() -> None:
    (page, *_) = grey_pages(label_pages([(USUAL, 1)], label_size("bag")))
    (found,) = codes_in(page)
    at, side = found.position.bottom_right, found.position.bottom_right.x
    side -= found.position.top_left.x
    torn = np.array(page)
    torn[at.y - side // 5 : at.y + 1, at.x - side // 5 : at.x + 1] = 255
    assert [one.text for one in codes_in(torn)] == [USUAL.lot]


@settings(max_examples=15)
@given(st.text(st.sampled_from("ABCXYZ0123456789-/. abcé鯉"), min_size=1, max_size=24))
def test_any_lot_has_a_code_large_enough_or_is_refused(lot: str) -> None:
    size = label_size("bag")
    try:
        code = lot_code(lot, size)
    except InputError as error:
        assert error.field == "lot"
        return
    assert size.code / code.modules >= code_limit("least-module")


def test_a_lot_too_long_for_a_small_label_goes_on_a_larger_one() -> None:
    long = replace(USUAL, lot="supplier's own lot " + "x" * 100)
    with pytest.raises(InputError, match=r"modules of 0\.4 mm") as caught:
        label_pages([(long, 1)], label_size("bag"))
    assert "larger label" in caught.value.hint
    assert label_pages([(long, 1)], label_size("tub"))
    with pytest.raises(InputError, match="lot"):
        lot_code("x" * 5000, label_size("tub"))


def test_words_that_do_not_fit_are_refused_and_never_cut() -> None:
    wordy = replace(FULL, maker="A. Example, " + "some long way off, " * 12)
    with pytest.raises(InputError, match="tub or a4-tub") as caught:
        label_pages([(wordy, 1)], label_size("bag"))
    assert caught.value.field == "paper"
    assert label_pages([(wordy, 1)], label_size("tub"))
    with pytest.raises(InputError, match="fewer words"):
        label_pages([(replace(wordy, maker="word " * 900), 1)], label_size("tub"))


@pytest.mark.parametrize(("skip", "pages"), [(0, 1), (1, 2), (14, 2)])
def test_a_sheet_that_was_begun_is_gone_on_with(skip: int, pages: int) -> None:
    made = read_back(label_pages([(USUAL, 15)], label_size("a4"), skip=skip))
    assert len(made.pages) == pages
    first = made.pages[0].extract_text().count("Not food.")
    assert first == 15 - skip


@pytest.mark.parametrize("skip", [-1, 15])
def test_no_more_places_are_skipped_than_a_page_has(skip: int) -> None:
    with pytest.raises(InputError, match="0 to 14"):
        label_pages([(USUAL, 1)], label_size("a4"), skip=skip)


def test_the_pages_have_the_sizes_of_the_table(size_name: str) -> None:
    size = label_size(size_name)
    pages = read_back(label_pages([(USUAL, size.places + 1)], size)).pages
    assert len(pages) == 2
    for page in pages:
        box = (float(page.mediabox.width), float(page.mediabox.height))
        assert box == pytest.approx(
            (size.page_width * 1e3 * MM, size.page_height * 1e3 * MM), abs=0.5
        )


def test_the_table_puts_no_label_over_the_edge_and_no_code_over_its_label() -> None:
    for size in label_sizes().values():
        assert size.across * size.label_width + (size.across - 1) * size.gap <= size.page_width
        assert size.down * size.label_height + (size.down - 1) * size.gap <= size.page_height
        assert 2 * size.code < size.label_width
        least = code_limit("least-module")
        assert size.code / (21 + 2 * code_limit("quiet-zone")) > least


def test_the_same_labels_give_the_same_bytes_and_the_date_is_theirs() -> None:
    first, second = (label_pages([(USUAL, 3), (FULL, 2)], label_size("a4")) for _ in range(2))
    assert first == second
    made = PdfReader(io.BytesIO(first)).metadata
    assert made is not None
    assert made.creation_date is not None
    assert made.creation_date.date() == USUAL.day


def test_it_is_tagged_and_its_code_is_told_to_who_cannot_see_it(size_name: str) -> None:
    pdf = label_pages([(USUAL, 1)], label_size(size_name))
    reader = read_back(pdf)
    assert reader.root_object["/MarkInfo"]["/Marked"]
    assert b"pdfuaid" in reader.root_object["/Metadata"].get_object().get_data()
    assert reader.metadata is not None
    assert reader.metadata.title == "Labels: Copper wafter baits"
    told = [one for one in map(reader.get_object, range(1, len(reader.xref[0]))) if one]
    alts = {str(one["/Alt"]) for one in told if isinstance(one, dict) and "/Alt" in one}
    assert f"QR code of lot {USUAL.lot}" in alts


@pytest.mark.parametrize("name", ["鯉の餌", '#set page(height: 1mm) "x" \\ $', "*_`<a>@b"])
def test_a_name_is_text_whatever_it_holds(name: str) -> None:
    pdf = label_pages([(replace(USUAL, name=name), 1)], label_size("bag"))
    assert len(read_back(pdf).pages) == 1
    if name.isascii():
        assert name in words(pdf)


def test_words_of_cautions_and_of_places_are_those_that_there_are() -> None:
    told = [one["id"] for one in lines_of("label_cautions", ("id", "text"))]
    assert set(told) <= cautions().keys()
    assert told[:2] == ["not-food", "keep-apart"]
    assert {one["id"] for one in lines_of("label_keeping", ("id", "text"))} == set(Kept)
