"""Questions on More: answered as pages with numbers, tables and pictures, by the plan's own."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from icalendar import Calendar

from baitwright.sheets.text_design import best_told
from baitwright.sheets.text_keep import cautious
from baitwright.sheets.wording import figure
from baitwright.web.pages.ask import questions
from baitwright.workshop.batches.kept_plan import kept_plan
from baitwright.workshop.comparing.compare import compare
from baitwright.workshop.comparing.compare_words import compared_text
from baitwright.workshop.plans.worked_out import worked_out
from baitwright.workshop.recipe_files.demo import WISHES, demo_file
from baitwright.workshop.shelf.deliveries import bring_in
from baitwright.workshop.wishes.design_mix import designed
from baitwright.workshop.wishes.wishes_file import read_wishes
from tests.web.conftest import notebook_of
from tests.web.rooms import DOORS, Shown, asked, filled
from tests.workshop.batching import DELIVERIES, NOW, make_one
from tests.workshop.test_compare import fished
from tests.workshop.test_steadiness import FLOW, batches

QUESTIONS = [door for door in DOORS if door in questions() and door != "/levels"]
"""Levels have a page of their own, which is looked at below."""


@pytest.fixture
def shown(place: Path) -> Shown:
    return filled(place)


def words(page: str) -> str:
    return re.sub(r"\s+", " ", unescape(re.sub(r"<[^>]+>", " ", page)))


@pytest.mark.parametrize("door", QUESTIONS)
def test_an_answer_is_a_page_and_no_printout(client: TestClient, shown: Shown, door: str) -> None:
    page = client.get(asked(door, shown)).text
    answer = page.partition('class="answer"')[2]
    assert "<h2>" in answer
    assert "<pre" not in page
    assert "--" not in words(answer)  # options of the command line are no business of a page


def test_answers_are_the_numbers_of_the_plan(client: TestClient, shown: Shown) -> None:
    with notebook_of(shown.place) as standing, standing.looking() as book:
        plan = worked_out(kept_plan(book, shown.made))
    pot = client.get(asked("/ask/boil", shown)).text
    own = words(re.findall(r'<tr class="own">.*?</tr>', pot, re.DOTALL)[0])
    assert f" {figure(plan.boil.seconds).number} " in own
    keep = words(client.get(asked("/ask/keep", shown)).text)
    for place in plan.keep.places:
        assert cautious(place) in keep


def test_a_day_is_handed_out_as_a_calendar_that_follows_the_batch(
    client: TestClient, shown: Shown
) -> None:
    """Read by icalendar: each step once, and one name for what the batch's own paper has too."""
    page = client.get("/ask/day").text
    assert "What it takes" in words(page)
    (link,) = re.findall(r'href="(/ask/day\.ics[^"]*)"', page)
    day = Calendar.from_ical(client.get(unescape(link)).content).walk("VEVENT")
    own = Calendar.from_ical(client.get(f"/batches/{shown.planned}/day.ics").content)
    names = {str(one["uid"]) for one in day}
    assert len(names) == len(day)
    assert {str(one["uid"]) for one in own.walk("VEVENT")} <= names


def test_free_baits_freezer_and_fan_are_asked_on_the_page(client: TestClient, shown: Shown) -> None:
    free = {"name": shown.planned, "dry_mix": "500 g", "frozen": "wet"}
    told = {f"free_bait[1].{key}": value for key, value in free.items()}
    page = client.get("/ask/day", params={**told, "fans": "1", "freezer": "40 l"})
    said = words(page.text)
    assert page.status_code == 200
    assert ", free bait" in said
    assert "l of freezer" in said
    small = client.get("/ask/day", params={**told, "freezer": "0.1 l"})
    assert small.status_code == 422
    assert "0.1 at most" in words(small.text)


def test_a_trip_leads_to_its_bags_filled_in(client: TestClient, shown: Shown) -> None:
    page = client.get("/ask/trip", params={"batch": shown.made, "rods": "1", "nights": "1"}).text
    (link,) = re.findall(r'href="(/batches/[^"]*/bag\?[^"]*)"', page)
    each, bags = re.findall(r"baits=(\d+)&amp;bags=(\d+)", link)[0]
    form = client.get(unescape(link)).text
    for name, value in (("baits", each), ("bags", bags)):
        assert re.search(rf'name="{name}"[^>]*value="{value}"', form)


def test_a_mix_is_designed_from_the_demonstration(client: TestClient) -> None:
    begins = client.get("/mix/design").text
    link = re.findall(r'href="(\?wishes=[^"]+)"', begins)[0]
    page = client.get(f"/mix/design{unescape(link)}&prices=fishmeal-65").text
    told = words(page)
    made = designed(read_wishes(demo_file(WISHES)))
    assert made.found is not None
    assert made.weighed is not None
    assert best_told(made.found, made.weighed) in told
    assert "comes in under" in told
    assert 'role="img"' in page
    assert "Invented" in told


def test_a_free_bait_is_matched_to_a_recipe_of_the_notebook(
    client: TestClient, shown: Shown
) -> None:
    assert 'href="?recipe=Copper%20wafter"' in client.get("/mix/match").text
    page = words(client.get(asked("/mix/match", shown)).text)
    assert "free bait's dry mix 5 kg" in page
    assert "at 50 % of the hookbait's level" in page
    assert re.search(r"diameter as rolled 15.0 mm 14.5 to 15.5 18.0 mm", page)
    assert "Invented" in page
    wrong = client.get("/mix/match?recipe=Copper wafter&kilos=a sackful")
    assert wrong.status_code == 422
    assert 'href="#kilos"' in wrong.text


def test_a_recipe_for_cold_water_leads_to_keeping_it(client: TestClient, shown: Shown) -> None:
    page = client.get(asked("/mix/winter", shown)).text
    told = words(page)
    assert "soluble part: 10 % instead of none" in told
    assert "maize-meal-fine 15 % 13.4 %" in told
    link = unescape(re.findall(r'href="(/recipes/keep\?recipe=[^"]+)"', page)[0])
    form = unescape(client.get(link).text)
    assert 'name = "Copper wafter, winter"' in form
    assert 'milk-powder-skimmed = "11 %"' in form
    wrong = client.get("/mix/winter?recipe=Copper wafter&keep=colour")
    assert wrong.status_code == 422
    assert 'href="#keep"' in wrong.text


def test_wishes_that_clash_are_told(client: TestClient) -> None:
    told = demo_file(WISHES).read_text("utf-8").replace('"34 %"', '"70 %"')
    page = words(client.get("/mix/design", params={"wishes": told}).text)
    assert "70 % protein" in page
    assert "The nearest mix there is" in page


def test_wishes_that_are_none_lead_to_their_field(client: TestClient) -> None:
    page = client.get("/mix/design", params={"wishes": "name = Copper"})
    assert page.status_code == 422
    assert 'href="#wishes"' in page.text
    assert "name = Copper</textarea>" in page.text


def test_a_mix_is_mended_from_the_demonstration(client: TestClient) -> None:
    begins = client.get("/mix/mend").text
    link = re.findall(r'href="(\?mix=[^"]+)"', begins)[0]
    told = words(client.get(f"/mix/mend{unescape(link)}").text)
    for said in ("Invented", "Copper 2: Copper without beef liver powder", "Say yes when"):
        assert said in told
    asked_of = {"mix": 'name = "Grey"', "without": "semolina"}
    page = client.get("/mix/mend", params=asked_of)
    assert page.status_code == 422
    assert 'href="#mix"' in page.text


def test_baits_are_compared_as_the_command_compares_them(client: TestClient, place: Path) -> None:
    empty = client.get("/notebook/compare")
    assert empty.status_code == 200
    assert "No night tells bait" in empty.text
    with notebook_of(place) as standing, standing.writing() as book:
        for day in range(1, 4):
            fished(book, day, "Malt 2 12", "Fish 0 12")
        said = compared_text(compare(book, ("Malt", "Fish")))
    page = client.get("/notebook/compare?bait[1].name=Malt&bait[2].name=Fish")
    for line in filter(None, said.splitlines()):
        assert line.strip() in words(page.text)
    assert "more nights" in said
    assert page.text.count(" checked>") == 2
    assert 'class="band95"' in page.text
    for word in ("winner", "significant", "p-value"):
        assert word not in page.text


def test_batches_are_charted_from_ten_on(client: TestClient, place: Path) -> None:
    with notebook_of(place) as standing, standing.writing() as book:
        batches(book, *FLOW, 70.0)
    page = client.get("/batches/steady?recipe=Copper").text
    assert page.count('role="img"') == 4
    assert "beyond a limit: 2026-11-11/B1" in words(page)
    assert client.get("/batches/steady?recipe=Chalk").status_code == 422


def test_a_year_is_told_as_the_command_tells_it(client: TestClient, place: Path) -> None:
    empty = client.get("/notebook/year")
    assert "No batch was made." in empty.text
    with notebook_of(place) as standing, standing.writing() as book:
        for one in DELIVERIES:
            bring_in(book, one, now=NOW)
        make_one(book)
    page = client.get("/notebook/year?year=2026")
    assert "Good baits 264" in words(page.text)
    assert page.text.count('role="img"') == 2
    assert client.get("/notebook/year.pdf?year=2026").content.startswith(b"%PDF")
    wrong = client.get("/notebook/year?year=soon")
    assert wrong.status_code == 422
    assert 'href="#year"' in wrong.text


def test_a_trial_is_planned(client: TestClient, place: Path) -> None:
    assert "how many bites a night" in client.get("/notebook/trial").text
    needs = words(client.get("/notebook/trial?bites=0.4").text)
    assert "2 62 25" in needs
    swap = client.get("/notebook/trial/swap?first=Malt&second=Fish&nights=4")
    assert swap.text.count("<td>Malt</td>") == 4
    odd = client.get("/notebook/trial/swap?first=Malt&second=Fish&nights=3")
    assert odd.status_code == 422
    assert 'href="#nights"' in odd.text
    square = client.get("/notebook/trial/square", params={"baits": "A\r\nB\n\nC"})
    assert square.text.count("<td>B</td>") == 3
    twice = client.get("/notebook/trial/square", params={"baits": "A\nA"})
    assert twice.status_code == 422
    assert 'href="#baits"' in twice.text
    look = "/notebook/trial/look?first=Malt&second=Fish"
    assert "No night has both yet" in client.get(look).text
    with notebook_of(place) as standing, standing.writing() as book:
        for day in range(1, 4):
            fished(book, day, "Malt 2 12", "Fish 0 12")
    stands = words(client.get(look).text)
    assert "Go on fishing both +1.09" in stands
    assert "Bites on Malt 6" in stands
    assert client.get(f"{look}&since=soon").status_code == 422
    assert client.get("/notebook/trial/look?first=Malt&second=malt").status_code == 422


def test_levels_share_one_bait_and_go_on_the_wall(client: TestClient) -> None:
    asked = {
        "eggs": "3 x EU L",
        "level[1].level": "0.8 ml per egg of 50 ml",
        "level[2].level": "2 ml per kg dry mix",
        "level[2].carrier": "acid",
    }
    shown = client.get("/levels", params=asked).text
    assert "In one bait" in shown
    assert "EU, UK XL" in shown
    link = unescape(re.findall(r'href="(/levels/chart\.pdf\?[^"]+)"', shown)[1])
    chart = client.get(link)
    assert chart.headers["content-type"] == "application/pdf"
    assert chart.content.startswith(b"%PDF")
    refused = client.get("/levels/chart.pdf", params={**asked, "level[1].level": "5 ml"})
    assert refused.status_code == 422
    assert "it could be 0.35 to 5 ml" in refused.text
