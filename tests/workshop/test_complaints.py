"""From a complaint to its answer: the batch, who else has it, what differs, the bag kept back."""

from __future__ import annotations

import json
from collections.abc import Iterator
from contextlib import closing
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from baitwright.advice.complaint_care import first_care, speaks_of_harm
from baitwright.ledger.trace import Stop
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_list import last_batches
from baitwright.workshop.batches.batch_made import measured_later
from baitwright.workshop.batches.samples import give_up, keep_back
from baitwright.workshop.copies.purge import loss_of, purge
from baitwright.workshop.faults.complaint_asked import draft, followed_json, listed_json
from baitwright.workshop.faults.complaint_deeds import answered, closed, sample_looked_at
from baitwright.workshop.faults.complaint_followed import followed
from baitwright.workshop.faults.complaint_words import followed_text, list_text
from baitwright.workshop.faults.complaints import complaints
from baitwright.workshop.faults.faults_asked import why_wrong
from baitwright.workshop.faults.faults_words import fault_json, fault_text
from baitwright.workshop.forms.attached import Beside
from baitwright.workshop.forms.forms import FORMS
from baitwright.workshop.records.record_forms import Told, record
from baitwright.workshop.shelf.lots import lot_of
from baitwright.workshop.shelf.stock import shelf_of
from baitwright.workshop.shelf.too_little import left_of
from baitwright.workshop.strip.batch_file import BatchTable
from baitwright.workshop.traces.quarantine import quarantine
from baitwright.workshop.typed.reading import parse
from tests.web.rooms import filled
from tests.workshop.records import write

NAME = "Sedge"
"""Of person 2 of the demonstration, who is invented."""


def now() -> datetime:
    return datetime.now().astimezone()


@pytest.fixture
def demo(tmp_path: Path) -> Iterator[Notebook]:
    place = tmp_path / "notebook.sqlite"
    filled(place)
    with closing(open_notebook(place, now=now())) as book:
        yield book


def first_made(book: Notebook) -> str:
    """The oldest batch of the demonstration: it was packed, and some of it sold to person 2."""
    return [one.name for one in last_batches(book)][-1]


def pack_sold(book: Notebook) -> str:
    with book.reading() as page:
        links = page.links()
    return next(one.source.name for one in links if one.into.stop is Stop.SALE)


def test_from_a_complaint_to_its_answer(demo: Notebook) -> None:
    pack, batch = pack_sold(demo), first_made(demo)
    made = write(
        demo,
        "complaint",
        "what=Too strong for me",
        f"bag={pack}",
        "noticed=too strong",
        "customer=person 2",
    )
    kept = keep_back(demo, f"{batch}/4", "freezer, door", now=now())
    assert (kept.baits, kept.where) == (30, "freezer, door")
    found = followed(demo, made.name)
    assert found.batches == (batch,)
    assert found.customer == "T. Sedge (invented)"
    sales = [about for one, about in found.recall if one.stop is Stop.SALE]
    assert sales == ["person 2"]  # who else has it, by code
    assert [one.bag for one in found.samples] == [kept.bag]
    said = draft(demo, made.name)
    assert f"It is of batch {batch}." in said
    assert "We kept a bag of it back, and look at it next." in said
    assert "the dose drawn" in said
    assert NAME not in said
    sample_looked_at(demo, made.name, "smells right", now=now())
    assert "looked at it: smells right." in draft(demo, made.name)
    text = draft(demo, made.name)
    answered(demo, made.name, text, now=now())
    assert followed(demo, made.name).row.state == "answered"
    assert made.name in list_text(complaints(demo))
    last = closed(demo, made.name, "a new pack sent", now=now())
    assert (last.body or {})["state"] == "closed"
    assert made.name not in [one.name for one in complaints(demo)]
    assert made.name in [one.name for one in complaints(demo, closed=True)]
    told = json.loads(followed_json(followed(demo, made.name)))
    assert told["answer"] == text
    assert told["kept_back"][0]["where"] == "freezer, door"
    assert "answered: Thank you" in followed_text(followed(demo, made.name))


def test_harm_is_told_first_and_never_as_medicine(demo: Notebook) -> None:
    write(demo, "complaint", "what=a rash on my hand", name="rash")
    write(demo, "complaint", "what=soft", "harm=true", name="hurt")
    rows = complaints(demo)
    assert {rows[0].name, rows[1].name} == {"rash", "hurt"}
    assert json.loads(listed_json(rows))[0]["harm"] is True
    told = followed_text(followed(demo, "rash"))
    assert "ask a doctor. This is no medical advice. [common practice]" in told
    assert "authority of your country. [eu-2023-988]" in told
    assert "ask a doctor; we can give no medical advice" in draft(demo, "rash")
    assert [one.id for one in first_care(harm=False)] == ["stop-using"]


@pytest.mark.parametrize(
    ("words", "is_harm"),
    [
        ("my son was ILL after it", True),
        ("Allergic to it", True),
        ("Ausschlag an der Hand", True),
        ("he vomited", True),
        ("it will not float, still good", False),
        ("sinks by morning", False),
        ("veteran of the lake", False),
    ],
)
def test_words_of_harm_are_heard(words: str, is_harm: bool) -> None:
    assert speaks_of_harm(words) is is_harm


def test_purging_a_person_reaches_the_complaint(demo: Notebook, tmp_path: Path) -> None:
    write(demo, "complaint", "what=soft", "customer=person 2", name="soft")
    answered(demo, "soft", draft(demo, "soft"), now=now())
    write(demo, "complaint", f"what=says {NAME}: soft", "customer=person 2", name="named")
    loss = loss_of(demo, "person", "person 2", words=[NAME])
    assert purge(demo, loss, now=now()) == {}
    found = followed(demo, "soft")
    assert (found.customer, found.row.customer) == ("", "person 2")
    assert NAME not in followed(demo, "named").row.what
    assert NAME not in followed_text(followed(demo, "named"))
    assert not any(NAME.encode() in one.read_bytes() for one in tmp_path.glob("*.sqlite*"))


def test_nothing_picks_a_bag_that_is_kept_back(demo: Notebook) -> None:
    batch = first_made(demo)
    with demo.reading() as page:
        item = lot_of(page, f"{batch}/4").item

    def free() -> int:
        with demo.reading() as page:
            return left_of(shelf_of(page, item), f"{batch}/4")[0]

    assert free() == 30
    keep_back(demo, f"{batch}/4", "freezer", now=now())
    keep_back(demo, f"{batch}/4", "fridge", now=now())  # moved: still kept once
    assert free() == 0
    with pytest.raises(InputError, match="where it is to be found"):
        keep_back(demo, f"{batch}/4", " ", now=now())
    with pytest.raises(InputError, match="a bag of the notebook"):
        keep_back(demo, "2020-01-01/B1/1", "fridge", now=now())
    give_up(demo, f"{batch}/4", now=now())
    assert free() == 30
    with pytest.raises(InputError, match="kept back as a sample"):
        give_up(demo, f"{batch}/4", now=now())


def test_what_was_set_aside_is_told(demo: Notebook) -> None:
    batch = first_made(demo)
    write(demo, "complaint", "what=mould", f"bag={batch}/2", name="mould")
    assert not followed(demo, "mould").aside
    quarantine(demo, batch, "a complaint", now=now())
    assert followed(demo, "mould").aside
    assert f"batch {batch}, in quarantine" in followed_text(followed(demo, "mould"))


def test_what_cannot_be_is_refused(demo: Notebook) -> None:
    with pytest.raises(InputError, match="complaint"):
        followed(demo, "none such")
    write(demo, "complaint", "what=soft", name="soft")
    assert "say which with bag=" in followed_text(followed(demo, "soft"))
    with pytest.raises(InputError, match="what they are told"):
        answered(demo, "soft", " ", now=now())
    with pytest.raises(InputError, match="an answer before it is closed"):
        closed(demo, "soft", now=now())
    with pytest.raises(InputError, match="what it showed"):
        sample_looked_at(demo, "soft", "", now=now())


def test_the_record_of_a_batch_speaks(demo: Notebook) -> None:
    """A boil cut short, written down later, is found first; asked by a bag as by its batch."""
    batch = first_made(demo)
    weighed = parse({"boiled": "55 s"}, BatchTable, where="")
    measured_later(demo, batch, weighed, now=now() + timedelta(minutes=1))
    found = why_wrong(demo, f"{batch}/3", "soft centre")
    assert found.batch == batch
    assert found.fault.causes[0].grounds[0].text.startswith("time in the pot, boil: 55 s; planned")
    text = fault_text(found, most=1)
    assert "1. time in the pot (goes far; in your record)" in text
    assert "2." not in text
    assert "[scald-first-aid]" in text  # a test in hot water calls for it
    told = json.loads(fault_json(found))
    assert told["causes"][0]["because"][0]["speaks"] == "done otherwise than planned"
    with pytest.raises(InputError, match="one of: splits off the core"):
        why_wrong(demo, batch, "sour")


def test_cores_weighed_with_a_bottle_test_speak(demo: Notebook) -> None:
    batch = first_made(demo)
    look = {"on": "alone", "floated": 2, "hung": 0, "sank": 6}
    weighed = {"count": 20, "weight": "2.3 g"}
    told = {"batch": batch, "water": "17 C", "look": [look], "cores_weighed": weighed}
    what = Told(lambda before: told, Beside(Path(), Path()))
    record(demo, FORMS["test"], what, now=now())
    found = why_wrong(demo, batch, "sinks by morning").fault.causes
    assert found[0].what == "the cores' density, more than planned"
    assert any("one core: 0.115 g; the plan says" in one.text for one in found[0].grounds)
