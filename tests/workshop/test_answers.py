"""Questions answered: the same however they are asked, kept, found, repeated, sent and purged."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import timedelta
from html.parser import HTMLParser
from itertools import product
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baitwright.advice.answers import Advice, as_plain, changed, from_plain
from baitwright.advice.grades import Grade
from baitwright.materials.cautions import cautions
from baitwright.notebook.attachments import checksum
from baitwright.notebook.backup import back_up
from baitwright.notebook.merging import LOCAL
from baitwright.notebook.plain_pages import follow, pages_beside
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.quantities import from_si
from baitwright.recipe.levels import Reference, convert
from baitwright.sheets.advice_html import advice_html
from baitwright.sheets.advice_message import advice_message
from baitwright.sheets.advice_sheet import advice_pages
from baitwright.sheets.list_sheet import Paper
from baitwright.terms.errors import InputError
from baitwright.workshop.copies.held_about import held_about
from baitwright.workshop.copies.purge import loss_of, purge
from baitwright.workshop.copies.purge_words import loss_text
from baitwright.workshop.levels import bridges
from baitwright.workshop.levels.levels import levels
from baitwright.workshop.levels.levels_footing import statements
from baitwright.workshop.levels.levels_request import Asked, understand
from baitwright.workshop.levels.levels_under import Under
from baitwright.workshop.questions import question_with
from baitwright.workshop.questions.answer_book import Answered, answer
from baitwright.workshop.questions.answer_copies import COPY
from baitwright.workshop.questions.answer_sheets import write_sheet
from baitwright.workshop.questions.answers_found import advice_of, find
from baitwright.workshop.questions.answers_found import given as given_to
from tests.sheets.on_paper import assert_legible, needs_poppler
from tests.sheets.test_bench_sheet import words
from tests.workshop.records import NOW, person, write
from tests.workshop.test_purge import told_of

LATER = NOW + timedelta(days=400)
SURNAME = "Quillfeather"
MALT = "levels=Malt: 12 ml per kg dry mix"


def asked(book: Notebook, *told: str, name: str = "Malt") -> Answered:
    write(book, "question", "question=how much malt in winter?", *told, name=name)
    return answer(book, name, now=NOW)


# --- the same however it is asked -----------------------------------------------------------------

_BASES = (
    (Reference.EGG_VOLUME, 50e-6),
    (Reference.EGG_VOLUME, 37e-6),
    (Reference.EGG_MASS, 0.5),
    (Reference.DRY_MIX, 1.0),
    (Reference.DRY_MIX, 0.45359237),
    (Reference.PASTE, 1.0),
)
_PLAIN = st.floats(0.01, 5.0)


@settings(deadline=None, max_examples=60)
@given(amount=_PLAIN, egg=st.floats(35.0, 70.0), dry=st.floats(0.8, 2.5), count=st.integers(1, 12))
def test_an_answer_is_independent_of_the_basis_it_was_asked_in(
    amount: float, egg: float, dry: float, count: int
) -> None:
    """Dose, every basis, what is usual and all liquids together, to 1e-12."""
    request = understand(
        Asked(
            (f"Malt: {amount:.6f} ml per egg of 50 ml",),
            f"{count} x {egg:.4f} ml",
            dry_mix=f"{dry * egg:.4f} g per egg",
            carriers=("propylene glycol",),
        )
    )
    first = levels(request)
    (one,) = first.answers
    for reference, per in _BASES:
        level = convert(one.liquid.level, first.bridges.middle, reference=reference, per=per)
        again = replace(one.liquid, level=replace(level, text=one.liquid.level.text))
        other = levels(replace(request, liquids=(again,)))
        (beside,) = other.answers
        pairs = [
            (beside.dose.low, one.dose.low),
            (beside.dose.high, one.dose.high),
            (beside.dose.mass, one.dose.mass),
            (other.share, first.share),
            *zip(beside.usual, one.usual, strict=True),
            *((b.low, a.low) for a, b in zip(one.bases, beside.bases, strict=True)),
            *((b.high, a.high) for a, b in zip(one.bases, beside.bases, strict=True)),
        ]
        for got, wanted in pairs:
            assert got == pytest.approx(wanted, rel=1e-12, abs=0.0)
        assert (beside.remark is None) == (one.remark is None)


def test_the_worked_example_of_all_bases() -> None:
    """3 ml an egg, 75 g of dry mix and 50 g of egg: 40 ml a kg, 18.14 ml a lb, 30 ml per 500 g.

    Computed by hand from the definitions of the bases; 23.4 ml a kg of paste takes the liquid for
    3 g and an egg of 50 g for 50 ml, so that it is held to one in a hundred.
    """
    egg = 50 / 1.03
    found = levels(
        understand(
            Asked(
                (f"3 ml per egg of {egg:.6f} ml",),
                "50 g in the bowl",
                dry_mix="75 g per egg",
                strengths=("weak",),
            )
        )
    )
    per = {one.per: from_si(one.low, "ml") for one in found.answers[0].bases if one.unit == "ml"}
    assert per["per kg dry mix"] == pytest.approx(40.0, abs=1e-4)
    assert per["per lb dry mix"] == pytest.approx(18.14, abs=0.01)
    assert per["per 500 g egg"] == pytest.approx(30.0, abs=1e-4)
    assert per["per kg paste"] == pytest.approx(23.4, rel=0.01)


# --- grades ---------------------------------------------------------------------------------------


def test_a_dose_is_as_sure_as_its_eggs_and_its_mix() -> None:
    """Weighed eggs and mix are the asker's; of a grade and an unweighed mix the tables tell."""
    on_egg, on_mix = "Malt: 0.8 ml per egg of 50 ml", "Malt: 12 ml per kg dry mix"
    found = {
        (level, eggs, dry): _dose(level, eggs, dry)
        for level, eggs, dry in product(
            (on_egg, on_mix), ("3 x 40 ml", "3 x EU L"), (None, "86 g per egg")
        )
    }
    assert found[on_egg, "3 x 40 ml", None] is Grade.TOLD
    assert found[on_mix, "3 x 40 ml", "86 g per egg"] is Grade.TOLD
    assert found[on_mix, "3 x EU L", None] is Grade.PRACTICE
    assert found[on_egg, "3 x EU L", "86 g per egg"] is Grade.JUDGEMENT  # the shell's share


def _dose(level: str, eggs: str, dry: str | None) -> Grade:
    request = understand(Asked((level,), eggs, dry_mix=dry))
    told = statements(Under(request, levels(request)))
    return next(one.grade for one in told if one.head == "dose")


@pytest.mark.parametrize(
    ("level", "carrier", "strength"),
    [
        ("Malt: 5 ml per egg of 50 ml", "propylene glycol", ""),
        ("Oil: 0.05 ml per egg of 50 ml", "essential-oil", ""),
        ("Acid: 0.2 ml per egg of 50 ml", "acid", ""),
        ("Thick: 4 g per egg of 50 ml", "thick-extract", ""),
        ("Malt: 0.02 ml per egg of 50 ml", "", "concentrated"),
        ("Malt: 1 g per kg paste", "", ""),
    ],
)
def test_every_line_of_a_level_has_its_footing(level: str, carrier: str, strength: str) -> None:
    for use in ("hookbait", "free bait"):
        request = understand(
            Asked(
                (level, "Yeast: 12 ml per kg dry mix"),
                "1 x EU L",
                carriers=(carrier or "unknown", "water"),
                strengths=(strength, "") if strength else (),
                use=use,
            )
        )
        told = list(statements(Under(request, levels(request))))
        assert all(one.source or one.grade is Grade.TOLD for one in told)
        assert {one.about for one in told} >= {"all in one bait"}


# --- a question and its answer --------------------------------------------------------------------


def test_an_answer_keeps_all_that_was_said(book: Notebook) -> None:
    write(book, "template", "opening=Good day.", "closing=Tight lines.", name="usual")
    done = asked(
        book, MALT, "eggs=3 x EU L", "answer=Begin low.", "asker=spring order", "template=usual"
    )
    kept = advice_of(book, "Malt")
    assert kept == done.advice
    assert (kept.opening, kept.words, kept.closing) == ("Good day.", "Begin low.", "Tight lines.")
    assert kept.label == "spring order"
    assert kept.found.factors == "priors"
    assert dict(kept.told)["eggs"] == "3 x EU L"
    (ask,) = kept.found.asks
    assert ask == (
        "How much dry mix does one egg of yours take up? With 80 to 109 g, Malt comes to 2.88 to "
        "3.91 ml in all."
    )
    texts = {one.text for one in cautions().values()}
    assert any("safety data sheet" in one.text for one in kept.found.cares)
    assert {one.text for one in kept.found.cares} & texts
    assert from_plain("Malt", 1, as_plain(kept)) == kept


def test_a_data_sheet_of_the_notebook_is_pointed_to(book: Notebook) -> None:
    write(book, "liquid", "hazards=H317", "data_sheet=2026-03-01", name="Malt")
    cares = [one.text for one in asked(book, MALT, "eggs=3 x EU L").advice.found.cares]
    assert cares[0] == (
        "Malt: read its supplier's safety data sheet of 2026-03-01 first; it has H317."
    )


def test_a_hookbait_beside_their_free_bait(book: Notebook) -> None:
    """Common practice, no source: the hookbait's level lies above the free bait's."""
    free = ("levels=Malt: 0.4 ml per egg of 50 ml", "eggs=3 x 50 ml", "about=hookbait level")
    told = asked(book, *free).advice.found.statements
    first = next(one for one in told if one.head == "hookbait")
    assert first.text == "0.8 ml per egg of 50 ml; makers take 1.5 to 3 times the free bait's"
    assert first.grade is Grade.PRACTICE
    assert next(one.text for one in told if one.head == "dose").startswith("2.4 ml in all")


@pytest.mark.parametrize(
    ("told", "says"),
    [
        (("levels=Malt: 5 ml", "eggs=3 x EU L"), "For an egg of 50 ml it could be"),
        (("levels=Malt: 5 drops per egg of 50 ml", "eggs=3 x EU L"), "may be"),
        (("levels=Malt: 1 oz per kg dry mix", "eggs=3 x EU L"), "it could be"),
        (("levels=Malt: 1 ml per egg of 50 ml", "eggs=2 oz in the bowl"), "Which ounce?"),
        ((MALT,), "eggs"),
        (("about=keeping",), "batch"),
        ((), "your own words"),
        ((MALT, "eggs=3 x EU L", "template=none such"), "none such"),
    ],
)
def test_what_is_missing_is_asked_back_in_one_line(
    book: Notebook, told: tuple[str, ...], says: str
) -> None:
    with pytest.raises(InputError) as refused:
        asked(book, *told)
    assert says in str(refused.value)
    assert "\n" not in str(refused.value)
    assert [one.version for one in find(book)] == [0]


def test_own_words_alone_answer(book: Notebook) -> None:
    done = asked(book, "answer=Ask the owner of the water.")
    assert done.advice.found.statements == ()
    assert "Ask the owner of the water." in advice_message(done.advice)


# --- last year's answer ---------------------------------------------------------------------------


def test_last_years_answer_is_read_as_it_was_and_computed_again(
    book: Notebook, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Table, program and template have moved on since; the question was never touched."""
    write(book, "template", "opening=Good day.", name="usual")
    told = (MALT, "eggs=3 x 50 ml", "template=usual", "asker=spring order")
    with monkeypatch.context() as last_year:
        last_year.setattr(bridges, "USUAL_DRY_MIX", (0.060, 0.080))
        last_year.setattr("baitwright.workshop.questions.answer_book.__version__", "0.0.9")
        then = asked(book, *told).advice
    same = answer(book, "Malt", now=LATER)
    assert same.is_new
    assert advice_of(book, "Malt", 1) == then  # to the letter, whatever has changed since
    found = {one.entry: (one.before, one.after) for one in same.changes}
    assert found["program"] == ("0.0.9", same.advice.program)
    dose, now = found["Malt: 12 ml per kg dry mix: dose"]
    assert dose == "2.16 to 2.88 ml in all, 0.72 to 0.96 ml an egg [common practice]"
    assert now == "2.52 to 3.42 ml in all, 0.84 to 1.14 ml an egg [common practice]"
    assert "dry mix" in found
    assert "question" not in found
    again = answer(book, "Malt", now=LATER)
    assert (again.is_new, again.advice) == (False, same.advice)
    assert [one.advice.version for one in given_to(book, "Malt")] == [1, 2]
    with pytest.raises(InputError):
        advice_of(book, "Malt", 3)


def test_what_was_asked_otherwise_is_named(book: Notebook) -> None:
    asked(book, MALT, "eggs=3 x EU L")
    write(book, "question", "eggs=6 x EU L", "answer=Sorry, six.", name="Malt")
    found = {one.entry: (one.before, one.after) for one in answer(book, "Malt", now=LATER).changes}
    assert found["eggs"][0] != found["eggs"][1]
    assert found["words"] == (None, "Sorry, six.")
    assert found["Malt: 12 ml per kg dry mix: dose"][1] is not None


def test_no_statement_hides_behind_another_of_its_head(book: Notebook) -> None:
    """Each of the bases stands under one head; a change in the last of them is named."""
    advice = asked(book, MALT, "eggs=3 x EU L").advice
    for at, one in enumerate(advice.found.statements):
        told = list(advice.found.statements)
        told[at] = replace(one, text="something else")
        other = replace(advice, found=replace(advice.found, statements=tuple(told)))
        assert len(changed(advice, other)) == 1


def test_answers_are_found_by_what_was_asked_or_said(book: Notebook) -> None:
    asked(book, MALT, "eggs=3 x EU L", "asker=spring order")
    asked(book, "answer=Ask the owner.", name="Rules")
    write(book, "question", "question=and plum?", name="Plum")
    assert {one.name for one in find(book)} == {"Malt", "Rules", "Plum"}
    assert [one.name for one in find(book, "spring")] == ["Malt"]
    assert [one.name for one in find(book, "syringe")] == ["Malt"]  # stands in the answer alone
    assert [one.name for one in find(book, "OWNER")] == ["Rules"]
    assert find(book, "nothing of it") == ()


# --- sent -----------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def advice(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Advice]:
    book = open_notebook(tmp_path_factory.mktemp("sent") / "notebook.sqlite", now=NOW)
    write(book, "template", "opening=Good day & welcome.", "closing=Tight <lines>.", name="usual")
    told = (MALT, "eggs=3 x EU L", "answer=Begin low.", "asker=spring order", "template=usual")
    yield asked(book, *told).advice
    book.close()


def test_the_message_is_short_and_says_what_matters(advice: Advice) -> None:
    """Room for some four text messages of 160 characters (judgement)."""
    told = advice_message(advice)
    assert len(told) <= 640
    assert told.startswith("Good day & welcome.\nBegin low.\n")
    assert "2.88 to 3.91 ml in all" in told
    assert "(common practice)" in told
    assert "safety data sheet" in told
    assert "How much dry mix" in told
    assert told.endswith("Answer Malt, version 1\n")


class _Tags(HTMLParser):
    """Every tag and attribute of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[tuple[str, dict[str, str | None]]] = []
        self.words = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found.append((tag, dict(attrs)))

    def handle_data(self, data: str) -> None:
        self.words += data


def alone(html: str) -> str:
    """The words of a page that fetches nothing and runs nothing."""
    read = _Tags()
    read.feed(html)
    assert not {tag for tag, _ in read.found} & {"script", "link", "img", "iframe", "form", "style"}
    names = {name for _, attrs in read.found for name in attrs}
    assert not names & {"src", "href", "action", "background", "data", "srcset"}
    assert not any(name.startswith("on") for name in names)
    assert not re.search(r"url\(|https?:|//[a-z]", html)
    return read.words


def test_the_mail_stands_alone(advice: Advice) -> None:
    read = alone(advice_html(advice))
    assert "Tight <lines>." in read
    for one in advice.found.statements:
        assert one.text in read
        assert str(one.grade) in read
    assert all(one.text in read for one in advice.found.cares)
    assert "safe" not in read.lower().replace("safety data sheet", "")


@needs_poppler
@pytest.mark.parametrize("paper", list(Paper))
def test_the_sheet_has_all_of_it_legible_in_grey(advice: Advice, paper: Paper) -> None:
    pages = advice_pages(advice, paper)
    assert pages == advice_pages(advice, paper)
    text = "".join(words(pages).split())
    told = (*advice.found.statements, *advice.found.assumptions, *advice.found.cares)
    own = (advice.question, advice.opening, advice.words, advice.closing, advice.label)
    for one in (*own, *(each.text for each in told), *advice.found.asks):
        assert "".join(one.split()) in text, one
    assert_legible(pages, edge_mm=10 if paper is Paper.A5 else 18)


# --- handed over and purged -----------------------------------------------------------------------


def test_all_that_is_held_about_somebody_is_handed_over(book: Notebook, tmp_path: Path) -> None:
    code, other = person(book, f"name=Ada {SURNAME}"), ""
    while other != f"{code}2":  # so that one code begins another
        other = person(book, "name=Somebody Else")
    asked(book, MALT, "eggs=3 x EU L", f"customer={code}")
    asked(book, "answer=Yes.", f"customer={other}", name="Other")
    write(book, "complaint", "what=mould", f"customer={code}", name="Mould")
    write(book, "night", "water=Long Reedpool", f"remark=with {SURNAME}", name="Late")
    sheet = write_sheet(book, tmp_path / "a.pdf", advice_of(book, "Malt"), paper="a5", now=NOW)
    told = held_about(book, code)
    assert told["entry"]["name"] == f"Ada {SURNAME}"
    kinds = {(one["kind"], one["name"]) for one in told["records"]}
    assert kinds == {("question", "Malt"), ("answer", "Malt"), ("complaint", "Mould")}
    assert told["files"] == [str(sheet)]
    assert told["named_in"] == [{"kind": "night", "name": "Late"}]


def test_no_byte_of_a_person_and_their_questions_is_left(book: Notebook, tmp_path: Path) -> None:
    """Notebook, copies, pages, and every file that the answer was written into."""
    code = person(book, f"name=Ada {SURNAME}")
    told = (MALT, "eggs=3 x EU L", f"answer=Dear {SURNAME}, begin low.", f"customer={code}")
    asked(book, *told, f"asker={SURNAME}")
    write(book, "question", f"question=asks {SURNAME} again", "eggs=6 x EU L", name="Malt")
    answer(book, "Malt", now=LATER)
    back_up(book.place, now=NOW)
    advice = advice_of(book, "Malt")
    for name in ("sheet.pdf", "mail.html", "message.txt"):
        write_sheet(book, tmp_path / "sent" / name, advice, paper="a4", now=NOW)
    follow(book, pages_beside(book.place), now=NOW)
    other = tmp_path / "not-ours.txt"
    other.write_text("Answer Malt, version 2", encoding="utf-8")
    assert len(told_of(tmp_path, SURNAME)) >= 5
    loss = loss_of(book, "person", code, questions=True)
    said = loss_text(loss)
    assert "their question Malt" in said
    assert "every answer to Malt" in said
    assert str(tmp_path / "sent" / "mail.html") in said
    assert loss.named_in == ()
    assert purge(book, loss, now=LATER) == {}
    assert told_of(tmp_path, SURNAME) == []
    assert list((tmp_path / "sent").iterdir()) == []
    assert other.exists()
    assert find(book) == ()
    with pytest.raises(InputError):
        advice_of(book, "Malt")
    assert held_about(book, code)["records"] == []


def test_an_answer_goes_with_its_question(book: Notebook, tmp_path: Path) -> None:
    asked(book, MALT, "eggs=3 x EU L", f"asker={SURNAME}")
    path = write_sheet(book, tmp_path / "sent.html", advice_of(book, "Malt"), paper="a4", now=NOW)
    path.write_text(f"{SURNAME}, written on", encoding="utf-8")
    loss = loss_of(book, "question", "Malt")
    assert "no longer what was written" in loss_text(loss)
    assert purge(book, loss, now=LATER) == {
        path: "It is no longer what was written: look into it yourself."
    }
    assert told_of(tmp_path, SURNAME) == ["sent.html"]


def test_no_note_from_elsewhere_lets_a_file_be_deleted(book: Notebook, tmp_path: Path) -> None:
    """A note that was brought in may tell path and checksum of any file; only answers go."""
    asked(book, MALT, "eggs=3 x EU L")
    mine = tmp_path / "mine.txt"
    mine.write_text("the only copy", encoding="utf-8")
    for marks in ([], ["the"], ["Answer Malt, version 1"]):
        body = {
            "day": "2026-11-27",
            "path": str(mine),
            "sha256": checksum(mine),
            "answers": ["Malt"],
            "marks": marks,
        }
        with book.writing() as page:
            page.write(COPY, f"brought {marks}", body, seen=0, time=NOW)
    left = purge(book, loss_of(book, "question", "Malt"), now=LATER)
    assert mine.exists()
    assert list(left) == [mine]
    assert COPY in LOCAL  # and an import leaves such notes where they are


def test_a_persons_questions_stay_unless_told(book: Notebook) -> None:
    code = person(book, f"name=Ada {SURNAME}")
    asked(book, MALT, "eggs=3 x EU L", f"customer={code}")
    purge(book, loss_of(book, "person", code), now=LATER)
    assert advice_of(book, "Malt").version == 1


def test_a_template_that_changes_leaves_answers_as_they_were(book: Notebook) -> None:
    write(book, "template", "opening=Good day.", MALT, "use=free bait", name="usual")
    done = asked(book, "eggs=3 x EU L", "template=usual").advice
    write(book, "template", "opening=Hello.", name="usual")
    assert advice_of(book, "Malt") == done
    assert done.opening == "Good day."
    with book.reading() as page:
        assert question_with.template_of(page, "USUAL").opening == "Hello."
