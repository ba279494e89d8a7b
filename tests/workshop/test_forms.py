"""Records: every kind comes back as it was told, and what cannot be is refused in one sentence."""

from __future__ import annotations

import contextlib
import json
from datetime import timedelta
from pathlib import Path
from threading import Thread
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic.fields import FieldInfo

from baitwright.ledger.trace import Stop
from baitwright.notebook.attachments import shelf_beside
from baitwright.notebook.page import ChangedMeanwhileError
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.forms.attached import Beside
from baitwright.workshop.forms.form import DAY, FILES, WRITTEN, Form, fields_of, reads, table_in
from baitwright.workshop.forms.form_fields import LONGEST_NOTE
from baitwright.workshop.forms.form_lists import list_text
from baitwright.workshop.forms.form_reading import read_form
from baitwright.workshop.forms.form_words import from_file, with_words
from baitwright.workshop.forms.forms import FORMS, form_of
from baitwright.workshop.forms.read_records import history, records, search, standing_of
from baitwright.workshop.records.form_text import record_json, record_text
from baitwright.workshop.records.people_book import people, record_person, unless_changed
from baitwright.workshop.records.record_forms import Told, record, take_away, undo
from baitwright.workshop.shelf.deliveries import Delivery, bring_in
from baitwright.workshop.traces.traces import trace
from baitwright.workshop.typed.amounts import read_amount, read_money
from baitwright.workshop.typed.reading import Table
from tests.workshop.records import NOW, body, person, told, write

TODAY = NOW.date()
LEAST: dict[str, dict[str, Any]] = {
    "test": {"water": "17 C", "look": [{"floated": 3}]},
    "readings": {"twenty_fresh": "33.1 g"},
}
"""What a kind asks for beyond its required fields."""


# --- every kind comes back -----------------------------------------------------------------------


def example(field: FieldInfo) -> Any:
    """A value that a field takes, as its own description has it."""
    mark = reads(field)
    assert mark is not None
    if "enum" in mark.schema:
        return st.sampled_from(mark.schema["enum"])
    return st.sampled_from(mark.schema.get("examples", [True, False]))


def entries(table: type[Table]) -> st.SearchStrategy[dict[str, Any]]:
    required, optional = {}, {}
    for name, field in fields_of(table).items():
        held = table_in(field)
        if name in (FILES, DAY, "tub_before", "tub_after", "tub_used"):
            continue  # files lie on a disk; the tub is told in one of two ways
        if name in ("fish", "lost", "still_firm", "off_core", "tray"):
            continue  # no more than others say, which has a test of its own
        if held is None:
            (required if field.is_required() else optional)[name] = example(field)
        else:
            rows = entries(held[0])
            optional[name] = st.lists(rows, min_size=1, max_size=3) if held[1] else rows
    return st.fixed_dictionaries(required, optional=optional)


@pytest.mark.parametrize("kind", FORMS)
@given(data=st.data())
def test_what_was_told_is_what_comes_back(kind: str, data: st.DataObject) -> None:
    form = FORMS[kind]
    written = LEAST.get(kind, {}) | data.draw(entries(form.table))
    if kind == "test":
        written["look"] = LEAST[kind]["look"]
    if "rod" in written:
        written.pop("bites", None)  # no fewer than the rods had, which has a test of its own
    made = read_form(form, written, today=TODAY)
    again = json.loads(json.dumps(made))
    assert again == made
    assert {key: again[WRITTEN][key] for key in written if written[key] not in ("", {}, [])} == (
        without_nothing(written)
    )
    assert read_form(form, again[WRITTEN], today=TODAY + timedelta(days=9)) == made


def without_nothing(written: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in written.items() if value not in ("", {}, [])}


@pytest.mark.parametrize("kind", FORMS)
def test_words_and_a_file_say_the_same(kind: str, tmp_path: Path) -> None:
    form = FORMS[kind]
    fields = {name: field for name, field in fields_of(form.table).items() if reads(field)}
    words, lines = [], []
    for name, field in fields.items():
        mark = reads(field)
        assert mark is not None
        one = (mark.schema.get("examples") or mark.schema.get("enum") or [True])[0]
        words.append(f"{name}={one}")
        lines.append(f"{name} = {json.dumps(one)}")
    path = tmp_path / "told.toml"
    path.write_text("\n".join(lines), encoding="utf-8")
    assert with_words({}, words, form=form) == from_file(path, kind=kind)


def test_a_night_is_kept_in_si_and_as_it_was_written(book: Notebook) -> None:
    made = body(
        write(book, "night", "water=Long Reedpool", "water_temperature=6 C", "rod[1].hours=11 h")
    )
    assert (made["water_temperature"], made["rod"][0]["hours"]) == (279.15, 39600.0)
    assert made[WRITTEN]["rod"] == [{"hours": "11 h"}]
    assert (made["about"], made[DAY]) == ("Long Reedpool", "2026-11-27")
    json.dumps(record_json(history(book, FORMS["night"], "2026-11-27/1")))


# --- correcting ----------------------------------------------------------------------------------


def test_words_change_what_stands_and_leave_the_rest(book: Notebook) -> None:
    write(book, "night", "water=Long Reedpool", "bites=0", "rod[1].bites=0", "rod[2].bites=0")
    made = write(book, "night", "bites=1", "rod[2].bites=1", "rod[1]=", name="2026-11-27/1")
    assert made.version == 2
    assert body(made)["rod"] == [{"bites": 1}]
    said = record_text(
        history(book, FORMS["night"], made.name), people(book), files=shelf_beside(book.place)
    )
    assert "bites: 0 becomes 1" in said


def test_each_weighing_of_a_tub_is_a_version_and_keeps_what_it_is(book: Notebook) -> None:
    batch = "2026-11-27/B1"
    with book.writing() as page:
        page.write("batch", batch, {"day": "2026-11-27"}, seen=0, time=NOW)
    with pytest.raises(InputError, match=f"the last batches are: {batch}"):
        write(book, "tub", "base=Copper", f"batch={delivered(book)}", name="T1")
    write(book, "tub", "base=Copper", "left=2 kg", "day=2026-11-20", name="T1")
    write(book, "tub", "left=550 g", "weighed=before", f"batch={batch}", name="T1")
    made = body(write(book, "tub", "left=282 g", name="T1"))
    assert made["left"] == pytest.approx(0.282)
    assert (made["base"], made[DAY]) == ("Copper", "2026-11-20")
    assert not {"weighed", "batch"} & set(made)
    assert len(history(book, FORMS["tub"], "T1")) == 3


def test_taken_away_and_undone_nothing_is_lost(book: Notebook) -> None:
    form = FORMS["question"]
    first = write(book, "question", "question=how much malt?", name="Malt")
    with pytest.raises(InputError, match="why it is taken away"):
        take_away(book, form, "Malt", now=NOW, reason=" ")
    take_away(book, form, "Malt", now=NOW, reason="twice")
    assert records(book, form) == ()
    with pytest.raises(InputError, match="taken away already"):
        take_away(book, form, "Malt", now=NOW, reason="twice")
    back = undo(book, form, "Malt", now=NOW)
    assert back.body == first.body
    assert [one.version for one in history(book, form, "Malt")] == [1, 2, 3]
    with pytest.raises(InputError, match="the last are: Malt"):
        undo(book, form, "Salt", now=NOW)


def test_two_who_write_at_once_lose_nothing(book: Notebook) -> None:
    write(book, "night", "water=Long Reedpool", name="First")
    write(book, "night", "bites=1", name="First", seen=1)
    with pytest.raises(ChangedMeanwhileError, match="version 2, the newest"):
        write(book, "night", "bites=2", name="First", seen=1)

    threads = [Thread(target=write_in, args=(book.place, key)) for key in ("weather", "remark")]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    last = body(history(book, FORMS["night"], "First")[-1])
    assert (last["weather"], last["remark"], last["bites"]) == ("told", "told", 1)


def write_in(path: Path, key: str) -> None:
    other = open_notebook(path, now=NOW)
    write(other, "night", f"{key}=told", name="First")
    other.close()


# --- what belongs together -----------------------------------------------------------------------


def delivered(book: Notebook) -> str:
    """A lot that stands as a bag would."""
    return bring_in(book, Delivery("semolina", read_amount("1 kg"), read_money("2")), now=NOW)


def test_a_night_has_no_fewer_bites_than_its_rods(book: Notebook) -> None:
    with pytest.raises(InputError, match="bites: got 0, but it takes 2 at least"):
        write(book, "night", "water=Reed", "bites=0", "rod[1].bites=2")


def test_a_night_stands_in_the_trace_of_what_was_fished(book: Notebook) -> None:
    lot = delivered(book)
    write(book, "night", "water=Long Reedpool", f"rod[1].bag={lot}", name="Late")
    assert [one.place.name for one in trace(book, lot).onward] == ["Late"]
    assert trace(book, "Late").start.stop is Stop.NIGHT
    write(book, "night", "rod[1].bag=", "rod[1].bait=bread", name="Late")
    with pytest.raises(InputError):
        trace(book, "Late")
    undo(book, FORMS["night"], "Late", now=NOW)
    assert [one.place.name for one in trace(book, "Late").back] == [lot]


def test_a_record_mentions_people_by_code_and_is_told_with_the_name(book: Notebook) -> None:
    with pytest.raises(InputError, match="nobody yet"):
        write(book, "question", "question=how?", "customer=1")
    assert person(book, "name=A. Example", "phone=01632 960000") == "person 1"
    made = write(book, "question", "question=how?", "customer=person 1", name="How")
    assert "A. Example" not in json.dumps(made.body)
    told_now = record_text((made,), people(book), files=shelf_beside(book.place))
    assert "customer: person 1 (A. Example)" in told_now
    person(book, "name=B. Example", name="1")
    assert (people(book)["person 1"] or {})["phone"] == "01632 960000"
    with pytest.raises(InputError, match="one of: person 1"):
        person(book, "name=C", name="7")


def test_a_person_has_no_files_and_no_versions(book: Notebook) -> None:
    person(book, "name=A. Example")
    with pytest.raises(InputError, match="files"):
        person(book, "files=tray.jpg", name="1")
    for seen in (0, 99):
        with pytest.raises(InputError, match="none for a person"):
            record_person(book, told("person", "role=other", name="1", seen=seen), now=NOW)
    assert (people(book)["person 1"] or {})[WRITTEN] == {"name": "A. Example"}


def test_answers_over_what_changed_meanwhile_are_refused(book: Notebook) -> None:
    """Two windows ask for the same person: the second does not write over the first."""
    person(book, "name=A. Example")
    _, seen = standing_of(book, FORMS["person"], "person 1")
    answers = {**seen, "role": "customer"}
    here = Beside(book.place.parent, book.place.parent)
    asked = Told(unless_changed(seen, answers), here, "person 1")
    person(book, "phone=01632 960000", name="1")
    with pytest.raises(InputError, match="read it again"):
        record_person(book, asked, now=NOW)
    assert (people(book)["person 1"] or {})["phone"] == "01632 960000"


def test_a_photo_may_lie_deep_in_folders(book: Notebook, tmp_path: Path) -> None:
    deep = tmp_path / ("photos of the season " * 9).strip() / "tray.jpg"
    deep.parent.mkdir()
    deep.write_bytes(b"baits")
    made = write(book, "night", "water=Long Reedpool", f"files={deep}", name="Late")
    assert len(str(deep)) > 200
    assert Path(body(made)[FILES][0]["path"]).name == "tray.jpg"


def test_a_file_is_known_by_what_it_was(book: Notebook, tmp_path: Path) -> None:
    (tmp_path / "tray.jpg").write_bytes(b"baits")
    made = write(book, "night", "water=Long Reedpool", "files=tray.jpg", name="Late")
    assert body(made)[FILES][0]["path"] == "tray.jpg"
    kept = body(write(book, "night", "bites=1", name="Late"))[FILES]
    assert kept == body(made)[FILES]
    found = history(book, FORMS["night"], "Late")
    files = shelf_beside(book.place)
    assert "! file" not in record_text(found, {}, files=files)
    (tmp_path / "tray.jpg").write_bytes(b"other baits")
    assert "tray.jpg: changed since" in record_text(
        found, {}, files=shelf_beside(tmp_path / "notebook.sqlite")
    )
    (tmp_path / "tray.jpg").unlink()
    assert "tray.jpg: gone from there" in record_text(
        found, {}, files=shelf_beside(tmp_path / "notebook.sqlite")
    )
    with pytest.raises(InputError, match="a file that can be read"):
        write(book, "night", "files=none.jpg", name="Late")


def test_a_search_finds_all_words_wherever_they_stand(book: Notebook) -> None:
    write(book, "night", "water=Long Reedpool", "weather=overcast, mild", name="Late")
    write(book, "complaint", "what=mild mould", name="Mould")
    assert [one.name for one in search(book, "MILD")] == ["Mould", "Late"]
    assert [one.name for one in search(book, "mild overcast")] == ["Late"]


def test_a_night_without_a_bite_is_counted_as_one(book: Notebook) -> None:
    for name, words in {
        "A": ["bites=0"],
        "B": ["rod[1].bites=0", "rod[2].bites=0"],
        "C": ["rod[1].bites=0", "rod[2].bites=1"],
        "D": [],
    }.items():
        write(book, "night", "water=X", *words, name=name)
    assert list_text("night", records(book, FORMS["night"])).endswith("2 blank, of 4")


def test_a_complaint_is_open_until_it_is_closed(book: Notebook) -> None:
    write(book, "complaint", "what=mould", name="Mould")
    assert list_text("complaint", records(book, FORMS["complaint"])) == (
        "Mould: 2026-11-27, open, mould"
    )
    write(book, "complaint", "state=closed", "done=bag replaced", name="Mould")
    found = history(book, FORMS["complaint"], "Mould")
    assert "state: closed" in record_text(found, {}, files=shelf_beside(book.place))


def test_hazards_are_shown_and_their_absence_is_no_comfort(book: Notebook) -> None:
    made = write(book, "liquid", "hazards=H317; EUH208; P305 + P351", name="Malt")
    assert body(made)["hazards"] == ["H317", "EUH208", "P305+P351"]
    assert "H317, EUH208, P305+P351" in record_text((made,), {}, files=shelf_beside(book.place))
    bare = write(book, "liquid", "supplier=Reedmill", name="Yeast")
    assert "says nothing of the liquid" in record_text((bare,), {}, files=shelf_beside(book.place))


# --- what is refused -----------------------------------------------------------------------------

REFUSED = [
    ("night", ["water=X", "bitez=1"], "Nearest: 'bites'"),
    ("night", ["water=X", "bites=two"], "a whole number"),
    ("night", ["water=X", "water_temperature=6"], "no unit"),
    ("night", ["water=X", "day=2026-11-28"], "2026-11-27 at the latest"),
    ("night", ["water=X", "day=soon"], "a date such as"),
    ("night", ["bites=1"], "water"),
    ("night", ["water=X", "bites=1", "fish=1", "lost=1"], "1 landed and lost at most"),
    ("night", ["water=X", "rod[1].bites=1", "rod[1].fish=2"], r"rod\[1\].fish"),
    ("night", ["water=X", "rod[3].bites=1"], "a row up to 1"),
    ("night", ["water=X", "bites=1", "bites=2"], "a key once"),
    ("night", ["water=X", "bites"], "key=value"),
    ("night", ["water=X", "water.name=Y"], "key=value"),
    ("night", ["water=X", "rod[1].bag=none"], "a bag or a batch"),
    ("night", ["water=X", "owner=A. Example"], "a person's code"),
    ("night", ["water=Long\x1b[2JReedpool"], "one line"),
    ("night", ["water=X", "remark=a\x1b[2Jb"], "nobody can see"),
    ("liquid", ["hazards=H999"], "codes of phrases"),
    ("liquid", ["hazards=H317; hot"], "codes of phrases"),
    ("liquid", ["allergens=gold"], "."),
    ("liquid", ["price=-1"], "money"),
    ("liquid", ["data_sheet=2027-01-01"], "at the latest"),
    ("tub", ["left=100 g"], "base"),
    ("test", ["water=17 C"], "at least one look"),
    ("test", ["water=17 C", "tray=3", "look[1].sank=4"], "no more than the 3"),
    ("readings", ["remark=none"], "at least one reading"),
    ("readings", ["tub_before=500 g", "tub_after=600 g"], "less than the 500 g"),
    ("complaint", ["what=mould", "state=ajar"], "one of: open, answered, closed"),
]


@pytest.mark.parametrize(("kind", "words", "said"), REFUSED)
def test_one_sentence_for_what_cannot_be(
    book: Notebook, kind: str, words: list[str], said: str
) -> None:
    with pytest.raises(InputError, match=said) as error:
        write(book, kind, *words, name="Any")
    assert len(str(error.value)) < 700
    assert records(book, FORMS[kind]) == ()


@pytest.mark.parametrize("key", ["remark", "weather", "day", "files"])
def test_ten_megabytes_are_refused_at_their_limit(book: Notebook, key: str) -> None:
    with pytest.raises(InputError) as error:
        write(book, "night", "water=X", f"{key}={'a' * 10_000_000}")
    assert len(str(error.value)) < 700


def test_a_note_may_be_long_and_in_lines(book: Notebook) -> None:
    long = "malt\n" * (LONGEST_NOTE // 5)
    assert body(write(book, "night", "water=X", f"remark={long}"))["remark"] == long.strip()


@pytest.mark.parametrize("text", ["[1]", "{", "7", "\xff"])
def test_a_json_file_that_is_none(tmp_path: Path, text: str) -> None:
    path = tmp_path / "told.json"
    path.write_text(text, encoding="latin-1")
    with pytest.raises(InputError, match="a JSON object"):
        from_file(path, kind="night")
    with pytest.raises(InputError, match="can be read"):
        from_file(tmp_path / "none.json", kind="night")


def test_a_file_is_the_whole_record(book: Notebook, tmp_path: Path) -> None:
    write(book, "night", "water=X", "weather=mild", name="Late")
    whole = Told(lambda before: {"water": "Y"}, Beside(tmp_path, tmp_path), "Late")
    assert "weather" not in body(record(book, FORMS["night"], whole, now=NOW))


# --- names ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["malt", "MALT", "Malt\u200b", "Ma\nlt", "x" * 81])
def test_a_name_that_reads_like_another_is_told(book: Notebook, name: str) -> None:
    write(book, "liquid", "supplier=Reedmill", name="Malt")
    said = "'Malt', which stands there" if name.lower() == "malt" else "on one line"
    with pytest.raises(InputError, match=said):
        write(book, "liquid", "supplier=Reedmill", name=name)


def test_spaces_around_a_name_are_not_part_of_it(book: Notebook) -> None:
    write(book, "liquid", "supplier=Reedmill", name="Malt")
    assert write(book, "liquid", "price=3", name=" Malt ").version == 2


@pytest.mark.parametrize("name", [" Semolina", "semolina", "SEMOLINA "])
def test_an_item_that_reads_like_another_is_told(book: Notebook, name: str) -> None:
    came = Delivery("Semolina", read_amount("1 kg"), read_money("2"))
    bring_in(book, came, now=NOW)
    with pytest.raises(InputError, match=r"Semolina|spaces around"):
        bring_in(book, Delivery(name, came.amount, came.value), now=NOW)


def test_days_and_numbers_name_what_nobody_named(book: Notebook) -> None:
    names = [write(book, "night", "water=X").name for _ in range(2)]
    take_away(book, FORMS["night"], names[1], now=NOW, reason="twice")
    assert [*names, write(book, "night", "water=X").name] == [
        f"2026-11-27/{at}" for at in (1, 2, 3)
    ]
    with pytest.raises(InputError, match="baitwright record tub NAME"):
        write(book, "tub", "base=Copper")


def test_a_name_that_was_given_already_is_not_given_again(book: Notebook) -> None:
    write(book, "night", "water=X", name="2026-11-27/2")
    assert [write(book, "night", "water=Y").name for _ in range(2)] == [
        "2026-11-27/3",
        "2026-11-27/4",
    ]


JUNK = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=9),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner),
    max_leaves=6,
)


@pytest.mark.parametrize("kind", FORMS)
@given(data=st.data())
def test_whatever_is_told_is_read_or_refused(kind: str, data: st.DataObject) -> None:
    keys = st.sampled_from([*fields_of(FORMS[kind].table), "gibberish"])
    written = data.draw(st.dictionaries(keys, JUNK, max_size=4))
    with contextlib.suppress(InputError):
        json.dumps(read_form(FORMS[kind], written, today=TODAY), allow_nan=False)


def test_lists_without_end_are_refused() -> None:
    deep: list[Any] = []
    for _ in range(900):
        deep = [deep]
    with pytest.raises(InputError):
        read_form(FORMS["night"], {"water": "X", "rod": deep}, today=TODAY)


def test_a_kind_nobody_knows() -> None:
    with pytest.raises(InputError, match="Nearest: 'night'"):
        form_of("nights")
    assert isinstance(form_of("night"), Form)
