"""A batch at the bench: the strip of the paper sheet, taps that fold to one state, writing down."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.notebook.store import Notebook, open_notebook
from baitwright.sheets.bench_steps import stages
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import BATCH
from baitwright.workshop.batches.batch_hours import PLAN as PLAN_KEPT
from baitwright.workshop.batches.batches import batch_of
from baitwright.workshop.batches.plans_kept import told_with
from baitwright.workshop.bench.bench_book import look, tap
from baitwright.workshop.bench.bench_form import taps_of_form
from baitwright.workshop.bench.bench_writing import to_write
from baitwright.workshop.bench.bench_written import told_at, write_down
from baitwright.workshop.copies.known_bodies import is_well_shaped
from baitwright.workshop.strip.bench_entries import read_entry
from baitwright.workshop.strip.bench_fold import BenchState, folded
from baitwright.workshop.strip.bench_strip import (
    STRIP,
    Strip,
    StripStep,
    Timing,
    strip_as_json,
    strip_from_json,
    strip_of,
)
from baitwright.workshop.strip.bench_tap import TAPS, Tap, Tapped, tap_from_json
from baitwright.workshop.strip.bench_taps import ON_A_PAGE, tap_pages
from tests.workshop.batching import NOW, PLAN, plan_one
from tests.workshop.shelf import PAIRS, planned

START = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)


def bare(key: str, *timings: Timing) -> StripStep:
    return StripStep(key, *[""] * 8, (), (), timings)


STEPS: Strip = (
    bare("1"),
    bare("2", Timing("paste", 2700.0, by_itself=True)),
    bare("3", Timing("pan 1", 90.0), Timing("pan 2", 90.0)),
    bare("4"),
)


@st.composite
def many_taps(draw: st.DrawFn) -> list[Tap]:
    """Taps as hands make them, some at the same moment, some undoing another."""
    made: list[Tap] = []
    for at in range(draw(st.integers(0, 12))):
        kind = draw(st.sampled_from(Tapped))
        when = START + timedelta(milliseconds=draw(st.integers(0, 6)))
        name = draw(st.sampled_from(["", "pan 1", "pan 2", "paste"]))
        if kind is Tapped.UNDO:
            name = draw(st.sampled_from([one.id for one in made] or ["nothing-there"]))
        ends = when + timedelta(seconds=draw(st.integers(0, 99))) if kind is Tapped.START else None
        step = draw(st.sampled_from(["1", "2", "3", "4", "9"]))
        mark = f"tap-{draw(st.integers(100, 999))}-{at:02d}"
        made.append(Tap(mark, kind, when, step, name, f"told {at}", ends))
    return made


@given(st.data(), many_taps())
def test_order_and_repeats_change_nothing(data: st.DataObject, taps: list[Tap]) -> None:
    again = data.draw(st.lists(st.sampled_from(taps), max_size=8)) if taps else []
    mixed = data.draw(st.permutations([*taps, *again]))
    assert folded(STEPS, mixed) == folded(STEPS, taps)


@given(many_taps(), st.sampled_from([Tapped.DONE, Tapped.VALUE, Tapped.START, Tapped.STOP]))
def test_undoing_takes_the_last_tap_back(taps: list[Tap], kind: Tapped) -> None:
    before = folded(STEPS, taps)
    after = max([one.at for one in taps], default=START) + timedelta(seconds=1)
    ends = after + timedelta(seconds=90) if kind is Tapped.START else None
    last = Tap("the-last-one", kind, after, "3", "pan 1", "2 g", ends)
    then = folded(STEPS, [*taps, last])
    assert then.last == last
    back = Tap("the-undoing", Tapped.UNDO, after + timedelta(seconds=1), name=last.id)
    assert folded(STEPS, [*taps, last, back]) == before


@given(many_taps())
def test_timers_keep_their_end_and_all_comes_through_json(taps: list[Tap]) -> None:
    again = [tap_from_json(one.as_json()) for one in taps]
    assert again == taps
    state = folded(STEPS, again)
    started = {one.name: one.ends for one in taps if one.kind is Tapped.START}
    for name, running in state.running.items():
        if name in started and name != "paste":
            ends = {one.ends for one in taps if one.kind is Tapped.START and one.name == name}
            assert running.ends in ends


@given(many_taps())
def test_what_is_live_is_not_done(taps: list[Tap]) -> None:
    state = folded(STEPS, taps)
    assert (state.live == "") == (len(state.done) == len(STEPS))
    assert state.live not in state.done


def done(*keys: str) -> BenchState:
    at = (START + timedelta(seconds=turn) for turn in range(99))
    return folded(STEPS, [Tap(f"done-{key}-00", Tapped.DONE, next(at), key) for key in keys])


def test_the_next_step_follows_the_one_done_last() -> None:
    assert done().live == "1"
    assert done("1").live == "2"
    assert done("3").live == "4"
    assert done("3", "4").live == "1"
    assert done("3", "4", "1", "2").live == ""


def test_paste_begins_to_stiffen_when_it_is_mixed() -> None:
    running = done("1", "2").running
    assert running["paste"].ends == START + timedelta(seconds=1 + 2700)
    assert done("1", "2").seconds_to_next(START + timedelta(seconds=1)) == 2701
    assert done("1").seconds_to_next(START) is None


@pytest.mark.parametrize(("recipe", "bench"), PAIRS)
def test_the_strip_is_the_paper_sheet(recipe: str, bench: str) -> None:
    plan = planned(recipe, bench)
    strip = strip_of(plan)
    paper = [(one.name, step) for one in stages(plan) for step in one.steps]
    assert [one.key for one in strip] == [str(at) for at in range(1, len(paper) + 1)]
    for one, (stage, step) in zip(strip, paper, strict=True):
        assert (one.stage, one.do, one.how) == (stage, step.do, step.how)
        assert (one.number, one.unit) == (step.number, step.unit)
    assert strip_from_json(strip_as_json(strip)) == strip
    names = [timing.name for one in strip for timing in one.timings]
    assert len(names) == len(set(names))


@cache
def usual() -> Strip:
    return strip_of(planned(*PLAN))


def entry(name: str) -> Any:
    return next(one for step in usual() for one in step.entries if one.name == name)


@pytest.mark.parametrize(
    ("name", "typed", "read"),
    [
        ("tub_before", "550", "550 g"),
        ("tub_before", "0,55 kg", "0,55 kg"),
        ("drawn.Malt", "2,6", "2,6 ml"),
        ("baits_made", "264", 264),
        ("eggs", "62 64,5 61 g", ["62 g", "64,5 g", "61 g"]),
        ("eggs", "62 g; 64", ["62 g", "64 g"]),
        ("boiled", "90", "90 s"),
    ],
)
def test_a_bare_number_has_the_unit_of_its_step(name: str, typed: str, read: object) -> None:
    assert read_entry(entry(name), typed) == read


@pytest.mark.parametrize(("name", "typed"), [("tub_before", "550 ml"), ("baits_made", "many")])
def test_a_value_that_cannot_be_is_told(name: str, typed: str) -> None:
    with pytest.raises(InputError):
        read_entry(entry(name), typed)


def test_what_has_to_be_measured_is_not_offered_as_measured() -> None:
    assert entry("tub_before").offered == "550 g"
    assert entry("drawn.Malt").offered
    for name in ("egg_in_bowl", "twenty_fresh", "cup_rise", "tub_after"):
        assert entry(name).offered == ""


@given(st.sampled_from([one for step in usual() for one in step.entries]), st.text(max_size=30))
def test_whatever_is_typed_is_read_or_refused_in_words(one: Any, typed: str) -> None:
    with suppress(InputError):
        read_entry(one, typed)


@pytest.mark.parametrize(
    "told",
    [
        {"id": "short", "kind": "done", "at": "2026-11-27T09:00:00Z"},
        {"id": "long-enough", "kind": "dance", "at": "2026-11-27T09:00:00Z"},
        {"id": "long-enough", "kind": "done", "at": "2026-11-27T09:00:00"},
        {"id": "long-enough", "kind": "done", "at": "soon"},
        {"id": "long-enough", "kind": "start", "at": "2026-11-27T09:00:00Z"},
        {
            "id": "long-enough",
            "kind": "start",
            "at": "2026-11-27T09:00:00Z",
            "ends": "2036-11-27T09:00:00Z",
        },
        {"id": "long-enough", "kind": "value", "at": "2026-11-27T09:00:00Z", "told": "x" * 501},
        {"id": "long-enough", "kind": "done", "at": "2026-11-27T09:00:00Z", "step": 4},
        {"id": "long-enough", "kind": "value", "at": "2026-11-27T09:00:00Z", "told": "\x00"},
        {"id": "long-enough", "kind": "value", "at": "2026-11-27T09:00:00Z", "told": "\ud800"},
        "done",
        None,
    ],
)
def test_a_tap_that_cannot_be_is_told(told: object) -> None:
    with pytest.raises(InputError):
        tap_from_json(told)


@pytest.fixture
def book(tmp_path: Path) -> Any:
    made = open_notebook(tmp_path / "notebook.sqlite", now=NOW)
    yield made
    made.close()


def told(mark: str, name: str, typed: str, step: str = "1") -> Tap:
    second = int(mark[-2:])
    at = NOW + timedelta(seconds=second)
    return Tap(mark, Tapped.VALUE, at, step, name, typed)


def test_taps_are_kept_once_and_the_strip_with_the_plan(book: Notebook) -> None:
    name = plan_one(book).name
    assert look(book, name).taps == ()
    with book.reading() as page:
        assert page.history(STRIP, name)
    first, second = told("told-tub-01", "tub_before", "551"), told("told-tub-02", "x", "1")
    tap(book, name, [first], now=NOW)
    found = tap(book, name, [second, first, second], now=NOW)
    assert found.taps == (first, second)
    tap(book, name, [first], now=NOW)
    with book.reading() as page:
        assert [one.version for one in page.history(TAPS, name)] == [1, 2]
        assert [one.version for one in page.history(STRIP, name)] == [1]
    assert look(book, name).strip == usual()


def test_a_long_list_of_taps_fills_several_pages_and_is_purged_whole(book: Notebook) -> None:
    name = plan_one(book).name
    taps = tuple(told(f"told-tub-{at:02}", "tub_before", str(at)) for at in range(60))
    tap(book, name, taps[:7], now=NOW)
    for one in taps[7:30]:
        tap(book, name, [one], now=NOW)
    assert tap(book, name, taps[25:], now=NOW).taps == look(book, name).taps == taps
    with book.reading() as page:
        pages = [one.body["taps"] for one in tap_pages(page, name) if one.body is not None]
        kept = {(one.kind, one.name) for one in tap_pages(page, name)}
        assert kept <= set(told_with(page, [name]))
    assert [len(page) for page in pages] == [ON_A_PAGE] * 3


def test_a_batch_of_an_older_program_gets_its_strip_with_the_first_tap(book: Notebook) -> None:
    known, name = plan_one(book).name, "2026-11-26/B1"
    with book.writing() as page:
        for kind in (BATCH, PLAN_KEPT):
            found = page.latest(kind, known)
            assert found is not None
            page.write(kind, name, found.body, seen=0, time=NOW)
    assert look(book, name).strip == usual()
    tap(book, name, [told("told-tub-01", "tub_before", "551")], now=NOW)
    with book.reading() as page:
        assert len(page.history(STRIP, name)) == 1


def test_a_batch_nobody_knows_is_told(book: Notebook) -> None:
    with pytest.raises(InputError, match="2026-11-27/B9"):
        look(book, "2026-11-27/B9")


def test_a_form_writes_what_was_changed_and_then_its_deed(book: Notebook) -> None:
    name = plan_one(book).name
    found = look(book, name)
    form = {"id": "f" * 16, "step": "1", "deed": "done", "told.tub_before": "549 g"}
    first = taps_of_form(found, [*form.items(), ("shown.tub_before", "550 g")], now=NOW)
    assert [(one.kind, one.told) for one in first] == [("value", "549 g"), ("done", "")]
    assert first == taps_of_form(found, [*form.items(), ("shown.tub_before", "550 g")], now=NOW)
    unchanged = taps_of_form(found, [*form.items(), ("shown.tub_before", "549 g")], now=NOW)
    assert [one.kind for one in unchanged] == ["done"]
    wrong = {**form, "told.tub_before": "549 ml"}
    with pytest.raises(InputError, match=r"told\.tub_before"):
        taps_of_form(found, wrong.items(), now=NOW)


def test_what_was_told_is_made_and_what_is_weighed_later_is_added(book: Notebook) -> None:
    name = plan_one(book).name
    said = (
        told("tub-before-01", "tub_before", "550"),
        told("tub-after-02", "tub_after", "281,5"),
        told("malt-drawn-03", "drawn.Malt", "2.5", "3"),
        told("baits-made-04", "baits_made", "262", "8"),
        told("note-told-05", "noted.7", "320", "7"),
        told("egg-in-bowl-06", "egg_in_bowl", "a lot", "2"),
    )
    found = tap(book, name, said, now=NOW)
    data, refused = told_at(found)
    assert data["tub_after"] == "281,5 g"
    assert data["drawn"] == {"Malt": "2.5 ml"}
    assert [(one.entry.name, one.typed) for one in refused] == [("egg_in_bowl", "a lot")]
    pairs = [(one.name, one.value) for one in to_write(found).walk() if one.value]
    write_down(book, name, pairs, now=NOW)
    write_down(book, name, pairs, now=NOW)  # sent twice
    with book.reading() as page:
        body = batch_of(page, name).body or {}
    assert body["state"] == "made"
    assert body["baits"] == 262
    assert body["actual"]["tub_after"] == pytest.approx(0.2815)
    later = tap(book, name, [told("twenty-8h-07", "twenty_at_8h", "28.4", "13")], now=NOW)
    group = to_write(later)
    filled = [(one.name, one.value) for one in group.walk() if one.value]
    assert filled == [("twenty_at_8h", "28.4 g")]
    assert not {"baits_made", "drawn", "made"} & {one.name for one in group.walk()}
    assert write_down(book, name, filled, now=NOW) == ()
    assert [one for one in to_write(look(book, name)).walk() if one.value] == []


def test_baits_that_nobody_counted_are_asked_for(book: Notebook) -> None:
    name = plan_one(book).name
    with pytest.raises(InputError, match="baits_made"):
        write_down(book, name, [("tub_before", "550 g"), ("tub_after", "290 g")], now=NOW)


def test_a_bench_from_elsewhere_is_read_before_it_is_taken_in() -> None:
    assert is_well_shaped(STRIP, {"steps": strip_as_json(usual())})
    assert is_well_shaped(TAPS, {"taps": [told("told-tub-01", "tub_before", "551").as_json()]})
    assert not is_well_shaped(STRIP, {"steps": [{"key": "1"}]})
    assert not is_well_shaped(TAPS, {"taps": [{"id": "x"}]})


def test_steps_that_are_kept_stay_whatever_the_plan_becomes(book: Notebook) -> None:
    name = plan_one(book).name
    tap(book, name, [told("told-tub-01", "tub_before", "551")], now=NOW)
    changed = replace(usual()[0], do="Weigh it")
    with book.writing() as page:
        page.write(STRIP, name, {"steps": strip_as_json((changed,))}, seen=1, time=NOW)
    assert look(book, name).strip == (changed,)
