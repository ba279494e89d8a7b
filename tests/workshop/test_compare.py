"""Baits compared by the notebook's nights: what counts, what is left out, and what is told."""

from __future__ import annotations

import json

import pytest

from baitwright.learning.sequential import Standing
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_needs import baits_of
from baitwright.workshop.comparing.compare import compare
from baitwright.workshop.comparing.compare_json import compared_json
from baitwright.workshop.comparing.compare_words import compared_text
from baitwright.workshop.comparing.repeatability import repeated
from baitwright.workshop.comparing.trial import looked_at, nights_by_notebook
from baitwright.workshop.nights.fished_nights import nights_fished
from baitwright.workshop.nights.night_doubts import doubts_text
from tests.workshop.batching import plan_one
from tests.workshop.records import write


def fished(book: Notebook, day: int, *rods: str, water: str = "Reed") -> str:
    """A night whose rods are each told as bait, bites and hours; its name."""
    words = [f"water={water}", f"day=2026-10-{day:02d}"]
    for at, rod in enumerate(rods, start=1):
        bait, bites, hours = rod.split()
        words += [
            f"rod[{at}].bait={bait}",
            f"rod[{at}].bites={bites}",
            f"rod[{at}].hours={hours} h",
        ]
        side = ("left", "right")[(at + day) % 2]
        words.append(f"rod[{at}].position={side}")
    return write(book, "night", *words).name


def ten_nights(book: Notebook) -> None:
    """Twelve bites on Malt and six on Fish, ten nights of twelve hours each."""
    for day, (malt, fish) in enumerate(((3, 0), (0, 1), (2, 1), (1, 0), (0, 0)) * 2, start=1):
        fished(book, day, f"Malt {malt} 12", f"Fish {fish} 12")


def why(book: Notebook) -> list[str]:
    return [one.said for one in nights_fished(book).doubtful]


# --- two baits --------------------------------------------------------------------------------


def test_two_baits_within_their_nights(book: Notebook) -> None:
    ten_nights(book)
    made = compare(book, ("Malt", "Fish"))
    assert [(one.name, one.fished.bites, one.blanks) for one in made.baits] == [
        ("Malt", 12, 4),
        ("Fish", 4, 6),
    ]
    two = made.two
    assert two is not None
    assert (two.shared, two.chance, two.same_side) == (10, None, False)
    assert two.ratio.ratio == pytest.approx(3.0)
    assert two.more[1].nights == pytest.approx(24.5 / 0.4 * two.scatter.widens - 10, rel=0.02)
    said = compared_text(made)
    assert "Malt: 12 bites in 120 rod-hours, 10 nights, 4 of them blank" in said
    assert "Too few bites to say more: 10 on each bait at least." in said
    assert "Chance" not in said


def test_from_ten_bites_each_a_chance_is_told(book: Notebook) -> None:
    for day in range(1, 13):
        fished(book, day, "Malt 2 12", "Fish 1 12")
    made = compare(book, ("fish", "MALT"))
    assert made.two is not None
    assert made.two.chance == pytest.approx(0.02, abs=0.01)
    said = compared_text(made)
    assert "0.5 bites on Fish for each on Malt in the same hours, but anything from" in said
    assert "Chance that Fish has the higher rate, given nothing else: 2 in 100." in said
    for word in ("winner", "significant", "p-value", "best"):
        assert word not in said


def test_baits_that_never_met_say_so(book: Notebook) -> None:
    for day in range(1, 6):
        fished(book, day, "Malt 1 12" if day % 2 else "Fish 1 12")
    made = compare(book)
    assert made.two is not None
    assert made.two.shared == 0
    assert "never shared a night" in compared_text(made)


def test_rods_of_their_own_are_told(book: Notebook) -> None:
    for day in (2, 4, 6):
        fished(book, day, "Malt 1 12", "Fish 0 12")
    assert "what looks like the bait may be the place" in compared_text(compare(book))


def test_a_blank_bait_tells_what_is_likely_at_most(book: Notebook) -> None:
    fished(book, 1, "Malt 0 24")
    said = compared_text(compare(book))
    assert "no more than 1 in 8 rod-hours is likely" in said


def test_data_has_no_infinity(book: Notebook) -> None:
    fished(book, 1, "Malt 1 12", "Fish 0 12")
    told = json.loads(compared_json(compare(book, ("Malt", "Fish"))))
    assert told["two"]["exact"][-1]["high"] is None
    assert told["two"]["ratio"] is None
    assert told["baits"][1]["blanks"] == 1


# --- more than two ----------------------------------------------------------------------------


def test_three_baits_are_drawn_together_in_no_order(book: Notebook) -> None:
    ten_nights(book)
    fished(book, 20, "Nut 1 12", "Malt 0 12")
    made = compare(book)
    assert made.joined
    said = compared_text(made)
    assert "In no order: some had fewer than 10 bites." in said
    assert said.index("\n  Fish: ") < said.index("\n  Malt: ") < said.index("\n  Nut: ")
    assert set(json.loads(compared_json(made))["times_them_all"]) == {"Fish", "Malt", "Nut"}


def test_with_bites_enough_the_highest_is_told_first(book: Notebook) -> None:
    for day in range(1, 13):
        fished(book, day, "Aniseed 1 12", "Malt 3 12", "Fish 2 12")
    said = compared_text(compare(book))
    assert said.index("\n  Malt: ") < said.index("\n  Fish: ") < said.index("\n  Aniseed: ")


def test_baits_without_shared_nights_are_drawn_by_their_totals(book: Notebook) -> None:
    for day in range(1, 7):
        fished(book, day, f"{('Malt', 'Fish', 'Nut')[day % 3]} {day % 2} 12")
    assert not compare(book).joined


# --- what counts ------------------------------------------------------------------------------


def test_a_rod_without_a_bait_is_left_out_and_named(book: Notebook) -> None:
    write(book, "night", "water=Reed", "rod[1].bites=1", "rod[1].hours=12 h")
    assert why(book) == ["rod 1 has no bait or bag"]
    with pytest.raises(InputError, match="rod 1 has no bait or bag"):
        compare(book)


def test_what_is_doubtful_is_told_as_it_is_written(book: Notebook) -> None:
    bare = write(book, "night", "water=Reed", "rod[1].bites=1", "rod[1].hours=12 h")
    assert doubts_text(book, bare) == (
        "  doubtful: rod 1 has no bait or bag; left out when baits are compared"
    )
    told = ("rod[1].bait=Malt", "rod[1].bites=1", "rod[1].hours=12 h", "day=2026-10-01")
    first = write(book, "night", "water=Reed", *told)
    assert doubts_text(book, first) == ""
    assert f"says the same as {first.name}" in doubts_text(
        book, write(book, "night", "water=reed", *told)
    )


def test_the_same_night_twice_counts_once(book: Notebook) -> None:
    first = fished(book, 1, "Malt 1 12", "Fish 0 12")
    fished(book, 1, "Malt 1 12", "Fish 0 12", water="reed")
    assert len(nights_fished(book).nights) == 1
    assert why(book)[0].startswith(f"says the same as {first}")


def test_a_second_record_of_a_day_is_asked_about(book: Notebook) -> None:
    fished(book, 1, "Malt 1 12")
    fished(book, 1, "Malt 0 6")
    found = nights_fished(book)
    assert len(found.nights) == 2
    assert found.doubtful[0].counted
    assert "(counted)" in compared_text(compare(book))


def test_hours_of_a_night_are_shared_by_its_rods(book: Notebook) -> None:
    rods = ("rod[1].bait=Malt", "rod[1].bites=1", "rod[2].bait=Fish")
    write(book, "night", "water=Reed", "rod_hours=22 h", "bites=1", *rods)
    (night,) = nights_fished(book).nights
    assert [(rod.fished.bites, rod.fished.rod_hours) for rod in night.rods] == [
        (1, 11.0),
        (0, 11.0),
    ]


def test_bites_that_nobody_counted_are_not_none(book: Notebook) -> None:
    write(book, "night", "water=Reed", "rod[1].bait=Malt", "rod[1].hours=12 h")
    assert why(book) == ["rod 1 has no bites"]


def test_bites_on_no_rod_are_named(book: Notebook) -> None:
    rod = ("rod[1].bait=Malt", "rod[1].bites=1", "rod[1].hours=12 h")
    write(book, "night", "water=Reed", "bites=3", *rod)
    assert why(book) == ["2 of its bites are on no rod"]


def test_a_bag_is_known_by_what_is_in_it(book: Notebook) -> None:
    batch = plan_one(book).name
    rod = ("rod[1].bites=1", "rod[1].hours=12 h", "rod[1].bait=in other words")
    write(book, "night", "water=Reed", f"rod[1].bag={batch}", *rod)
    assert nights_fished(book).baits == (baits_of("Copper wafter"),)
    assert nights_fished(book, by_batch=True).baits == (batch,)


def test_one_water_only(book: Notebook) -> None:
    fished(book, 1, "Malt 1 12")
    fished(book, 2, "Fish 1 12", water="Long Pool")
    assert nights_fished(book, water="long pool").baits == ("Fish",)


@pytest.mark.parametrize(
    ("words", "field"),
    [
        (("rod[1].bites=145", "rod[1].hours=12 h"), r"rod\[1\].bites: got 145"),
        (("bites=1", "rod_hours=0 h"), "bites: got 1"),
        (("rod_hours=10 h", "rod[1].hours=11 h"), "rod_hours: got '10 h'"),
    ],
)
def test_what_cannot_have_been_is_refused(
    book: Notebook, words: tuple[str, ...], field: str
) -> None:
    with pytest.raises(InputError, match=field):
        write(book, "night", "water=Reed", *words)


def test_an_unknown_bait_is_told_those_that_were_fished(book: Notebook) -> None:
    fished(book, 1, "Malt 1 12")
    with pytest.raises(InputError, match="one that was fished: Malt"):
        compare(book, ("Malt", "Kipper"))


# --- trials -----------------------------------------------------------------------------------


def test_nights_by_ones_own_rate(book: Notebook) -> None:
    ten_nights(book)
    made = nights_by_notebook(book)
    assert made.bites == pytest.approx(16 / 20)
    assert [one.ratio for one in made.needs] == [1.25, 1.5, 2.0, 3.0]


def test_a_trial_with_a_rule_is_looked_at(book: Notebook) -> None:
    for day in range(1, 10):
        fished(book, day, "Malt 3 12", "Fish 0 12")
    fished(book, 10, "Malt 3 12", "Fish 0 11")
    made = looked_at(book, "malt", "fish", ratio=1.5)
    assert made.standing is Standing.FIRST
    assert (made.nights, made.bites, made.uneven) == (6, (18, 0), 1)
    later = looked_at(book, "malt", "fish", ratio=1.5, since="2026-10-08")
    assert (later.standing, later.nights) == (Standing.GO_ON, 2)


@pytest.mark.parametrize(
    "rows",
    [
        ("1.02 g, 1.03 ml", "1.01 g, 1.00 g"),
        ("1.02 g, 1.03 g", "1.01 g"),
        ("1.02, 1.03", "1.01, 1.02"),
        ("1.02 g, 1.03 g",),
    ],
)
def test_readings_of_two_kinds_or_none_are_refused(rows: tuple[str, ...]) -> None:
    with pytest.raises(InputError):
        repeated(rows)


def test_a_syringe_of_two_hands() -> None:
    made = repeated(
        ("1.0 ml, 1.1 ml / 1.2 ml, 1.3 ml", "2 ml, 2.1 ml / 2.2 ml, 2.3 ml"), wanted="1.6 ml"
    )
    assert made.unit == "ml"
    assert made.off == pytest.approx(0.05)
    assert made.study.repeat == pytest.approx(0.004)
    assert made.study.hand == pytest.approx((0.08 - 0.004) / 4)
