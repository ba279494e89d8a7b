"""The pages in every language: complete catalogues, the reader's choice, English marked as such."""

from __future__ import annotations

import re
from datetime import datetime
from decimal import Decimal
from html import unescape

import pytest
from babel.messages.catalog import Message
from fastapi.testclient import TestClient

from baitwright.web.language import CHOSEN, ENGLISH, LANGUAGES, wanted
from baitwright.web.words import Words
from tests.web.catalogues import CORE, PAGES, ROWS, compiled, gathered, path_of, read
from tests.web.conftest import HOST
from tests.web.rooms import filled

OTHERS = [one for one in LANGUAGES if one != ENGLISH]
WITHIN = re.compile(r"%\(\w+\)s|#+|`[^`]+`|--\w+")
"""What has to stand in a translation as it stands in the text: places, commands, options."""
WORDS = "python make.py words, then fill what is empty in pages.po, then once more"
GERMAN = {"accept-language": "de-CH, de;q=0.9, en;q=0.5"}


def messages(language: str) -> dict[str, Message]:
    return {str(one.id): one for one in read(language) if one.id}


@pytest.mark.parametrize("language", OTHERS)
def test_every_text_of_the_pages_is_translated(language: str) -> None:
    found = messages(language)
    lacking = [
        said
        for said, room in gathered().items()
        if room == PAGES and (said not in found or not found[said].string)
    ]
    assert lacking == [], WORDS
    assert [said for said, one in found.items() if one.fuzzy] == []


@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("where", [ROWS, CORE])
def test_nine_in_ten_texts_of_the_others_are_translated(language: str, where: str) -> None:
    found = messages(language)
    said = [text for text, room in gathered().items() if room == where]
    told = [text for text in said if text in found and found[text].string]
    assert len(told) >= 0.9 * len(said), WORDS


@pytest.mark.parametrize("language", OTHERS)
def test_what_the_program_reads_is_what_was_written(language: str) -> None:
    path = path_of(language).with_suffix(".mo")
    assert path.read_bytes() == compiled(read(language)), WORDS


@pytest.mark.parametrize("language", OTHERS)
def test_places_and_commands_agree(language: str) -> None:
    for said, one in messages(language).items():
        told = str(one.string)
        if told:
            assert sorted(WITHIN.findall(said)) == sorted(WITHIN.findall(told)), said
            assert told == told.strip(), said


@pytest.mark.parametrize(
    ("header", "language"),
    [
        ("", "en"),
        ("de", "de"),
        ("de-AT,en;q=0.7", "de"),
        ("en-GB, de;q=0.8", "en"),
        ("fr, de;q=0.4, en;q=0.3", "de"),
        ("de;q=0, fr", "en"),
        ("nonsense;;;q=x, *", "en"),
        ("de;q=2", "en"),
    ],
)
def test_a_browser_is_answered_in_the_language_it_likes_best(header: str, language: str) -> None:
    assert wanted(header) == language


def test_the_reader_chooses_against_the_browser(client: TestClient) -> None:
    first = client.get("/", headers=GERMAN)
    assert '<html lang="de">' in first.text
    assert "Dein Notizbuch ist leer" in first.text
    assert (
        '<button class="quiet" name="language" value="en" lang="en">English</button>' in first.text
    )
    chosen = client.post(
        "/language", data={"language": "en", "to": "/dose?eggs=150+g"}, headers=GERMAN
    )
    assert chosen.url == f"http://{HOST}/dose?eggs=150+g"
    assert '<html lang="en">' in chosen.text
    assert client.cookies[CHOSEN] == "en"
    client.post("/language", data={"language": "tlh"})
    assert CHOSEN not in client.cookies
    assert '<html lang="de">' in client.get("/nowhere", headers=GERMAN).text


@pytest.mark.parametrize("to", ["https://example.org/", "//example.org", "/\\example.org"])
def test_the_choice_leads_nowhere_else(client: TestClient, to: str) -> None:
    answer = client.post("/language", data={"language": "de", "to": to}, follow_redirects=False)
    assert answer.headers["location"] == "/"


def test_a_choice_needs_our_token(client: TestClient) -> None:
    del client.headers["x-baitwright-token"]
    assert client.post("/language", data={"language": "de"}).status_code == 403


def test_a_page_that_was_sent_keeps_what_was_typed_rather_than_change_its_language(
    client: TestClient,
) -> None:
    answer = client.post("/shelf/in", data={"item": "Eggs"})
    assert answer.status_code == 422
    assert 'action="/language"' not in answer.text


def test_numbers_have_a_decimal_comma_where_the_language_has_one() -> None:
    german, english = Words("de"), Words("en")
    assert german.money(Decimal("1234.5")) == "1.234,50"
    assert english.money(Decimal("1234.5")) == "1,234.50"
    assert german.figure("12.5 to 13.25") == "12,5 bis 13,25"
    assert german.figure("Sun 29 Nov 2026 06:30") == "So 29. Nov 2026 06:30"
    assert english.figure("12.5 to 13.25") == "12.5 to 13.25"
    assert german.share(Decimal("0.125")) == "12,5 %"
    assert german.paid(Decimal("2.5"), whole=False) == "2,50 mindestens"
    assert english.paid(Decimal("2.5"), whole=False) == "2.50 at least"
    assert german.clock(datetime(2026, 12, 4, 17, 5)) == "Fr 4. Dez, 17:05"
    assert english.clock(datetime(2026, 12, 4, 17, 5)) == "Fri 4 Dec, 17:05"
    assert german.figure("2026-11-27/B1, 17:00") == "2026-11-27/B1, 17:00"


def test_what_only_english_has_words_for_is_marked_as_english() -> None:
    german = Words("de")
    assert german.told("Stir & <wait>.") == '<span lang="en">Stir &amp; &lt;wait&gt;.</span>'
    assert german.told("Liquid 2") == "Flüssigkeit 2"
    assert german.told("12") == "12"
    assert german.told("Name") == "Name"
    assert Words("en").told("Stir & <wait>.") == "Stir & <wait>."
    assert german.told(None) == german.told("") == ""


def test_what_is_put_together_is_known_by_what_is_fixed_in_it() -> None:
    german = Words("de")
    assert german.told("Draw Malt") == "Malt aufziehen"
    assert german.told("Draw <Malt>") == "<Malt> aufziehen"  # a template escapes it
    assert german.told("Weigh whole egg") == "Vollei wiegen"
    dust = "Dust: mask on, pour low, wipe damp. Keep meal dust from flames. Wheezing? Stop."
    assert 'lang="en"' not in german.told(dust)
    assert german.told("2.7 to 3.5 mm") == "2,7 bis 3,5 mm"
    assert german.told("GB: Raw egg: wash hands, bowl and bench. No cracked eggs. (Malt)") == (
        "GB: Rohes Ei: Hände, Schüssel und Arbeitsplatz waschen. Keine angeschlagenen Eier. (Malt)"
    )


@pytest.mark.parametrize(
    "said",
    [
        "Draw it slowly up to the mark that you made on the glass",
        "Weigh it.",
        "3 kg at most for an outing",
        "Chalk sinker baits",
        "No cracked eggs. Then nobody knows.",
    ],
)
def test_a_text_of_which_a_part_is_not_known_stays_english(said: str) -> None:
    assert Words("de").told(said) == f'<span lang="en">{said}</span>'


def test_headings_of_the_most_used_pages_are_german(client: TestClient) -> None:
    place = client.app.state.house.place  # type: ignore[attr-defined]
    shown = filled(place)
    # What the maker called something, and what is joined of it.
    named = re.compile("Copper|Chalk sinker|Malt|Caraway oil|Yeast extract|, of the paste")
    for path in ("/", "/plan?start=demo", f"/batches/{shown.planned}/bench", "/dose?eggs=150+g"):
        page = client.get(path, headers=GERMAN).text
        headings = re.findall(r"<(h[1-4]|summary|dt)[^>]*>(.*?)</\1>", page, re.DOTALL)
        english = {
            unescape(one)
            for _, told in headings
            for one in re.findall('<span lang="en">(.*?)<', told)
        }
        assert [one for one in english if not named.search(one)] == [], path


def test_the_words_of_scripts_come_from_the_page(client: TestClient) -> None:
    place = client.app.state.house.place  # type: ignore[attr-defined]
    shown = filled(place)
    page = client.get(f"/batches/{shown.planned}/bench", headers=GERMAN).text
    assert '"kept": "Alles ist aufbewahrt"' in page
    assert '"point": ","' in page
    dose = client.get("/dose?eggs=150+g", headers=GERMAN).text
    assert 'data-done="Neu ausgerechnet."' in dose
    assert re.search(r'class="number-now">\d+,\d+<', dose)
