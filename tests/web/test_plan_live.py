"""The plan page in a real browser: typed in, by keyboard, without script, on a narrow phone."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from tests.web.access import COLOURS, no_violations
from tests.web.conftest import Served

DEMO = "/plan?start=demo"
PATIENCE = 30_000
"""Milliseconds for a plan on a machine that does much else."""


@pytest.fixture(autouse=True)
def _patient(window: Page) -> None:
    window.set_default_timeout(PATIENCE)
    expect.set_options(timeout=PATIENCE)


def large(page: Page, label: str) -> Locator:
    return page.locator("details.number", has=page.locator(".what", has_text=re.compile(label)))


def number(page: Page, label: str) -> Locator:
    return large(page, label).locator(".size b")


@pytest.fixture
def bare(browser: Browser, live: Served) -> Iterator[Page]:
    """A window with script switched off, as narrow as a phone gets."""
    context = browser.new_context(
        base_url=live.address, java_script_enabled=False, viewport={"width": 320, "height": 700}
    )
    page = context.new_page()
    page.set_default_timeout(PATIENCE)
    yield page
    context.close()


def open_all(page: Page) -> None:
    """Open what is folded; of numbers and tables in a row, all made alike, the first."""
    page.evaluate(
        """alike => { for (const one of document.querySelectorAll(`details:not(${alike})`))
        one.open = true; }""",
        "li + li > details, figure + figure details",
    )


def sideways(page: Page) -> int:
    wide: int = page.evaluate("document.documentElement.scrollWidth - innerWidth")
    return wide


def test_typing_changes_the_numbers_and_the_address(window: Page) -> None:
    window.goto(DEMO)
    before = number(window, "^Baits").inner_text()
    size = window.get_by_label("Size, as rolled")
    size.fill("18 mm")
    expect(number(window, "^Baits")).not_to_have_text(before)
    expect(size).to_be_focused()
    expect(window).to_have_url(re.compile(r"bait\.diameter=18\+mm"))
    expect(window.locator("#live-status")).to_have_text("Worked out anew.")
    expect(window.locator("#figures")).to_contain_text("18 mm as rolled")
    kept = number(window, "^Baits").inner_text()
    window.reload()
    expect(number(window, "^Baits")).to_have_text(kept)


def test_the_newest_of_quick_answers_stands(window: Page) -> None:
    window.goto(DEMO)
    size = window.get_by_label("Size, as rolled")
    for typed in ("16 mm", "17 mm", "20 mm"):
        size.fill(typed)
        window.wait_for_timeout(200)
    expect(window.locator(".wanted")).to_contain_text("20 mm")
    window.wait_for_timeout(500)
    expect(window.locator(".wanted")).to_contain_text("20 mm")


def test_an_error_stands_at_its_field_and_takes_no_focus(window: Page) -> None:
    window.goto(DEMO)
    size = window.get_by_label("Size, as rolled")
    size.fill("18")
    told = window.locator(".field", has=size).locator(".error")
    expect(told).to_contain_text("15 mm")
    expect(size).to_be_focused()
    expect(size).to_have_attribute("aria-invalid", "true")
    expect(window.get_by_role("button", name="Save this plan")).to_be_disabled()
    size.fill("18 mm")
    expect(told).to_have_count(0)
    expect(window.get_by_role("button", name="Save this plan")).to_be_enabled()


def test_what_is_open_stays_open(window: Page) -> None:
    window.goto(DEMO)
    large(window, "^Pinch").locator("summary").first.click()
    expect(large(window, "^Pinch").locator(".equation").first).to_be_visible()
    stage = window.locator("#stage-Boil")
    stage.locator("> summary").click()
    window.get_by_label("Size, as rolled").fill("17 mm")
    expect(window.locator(".wanted")).to_contain_text("17 mm")
    expect(stage).to_have_attribute("open", "")
    expect(large(window, "^Pinch").locator(".equation").first).to_be_visible()


def test_a_row_is_added_by_a_button(window: Page) -> None:
    window.goto(DEMO)
    more = window.get_by_role("button", name="One more liquid")
    for at, name in ((4, "Honey"), (5, "Plum")):
        more.click()
        field = window.locator(f"[name='liquid[{at}].name']")
        expect(field).to_be_focused()
        field.fill(name)
        window.locator(f"[name='liquid[{at}].level']").fill("0.5 ml per egg of 50 ml")
    expect(large(window, "Plum")).to_be_visible()
    expect(large(window, "Honey")).to_be_visible()


def test_one_is_kept_beside_and_one_is_saved(window: Page) -> None:
    window.goto(DEMO)
    window.get_by_role("link", name="Keep this one beside").click()
    window.get_by_label("Size, as rolled").fill("18 mm")
    beside = window.locator(".against")
    expect(beside.get_by_role("row", name="Size, as rolled 15 mm 18 mm")).to_be_visible()
    beside.get_by_role("link", name="The two side by side").click()
    expect(window.get_by_role("heading", level=1)).to_have_text("Two plans side by side")
    no_violations(window)
    window.get_by_role("link", name="Open Copper wafter (2)").click()
    window.get_by_role("button", name="Save this plan").click()
    expect(window.get_by_role("heading", level=1)).to_have_text("Copper wafter")
    no_violations(window)
    with window.expect_download() as paper:
        window.get_by_role("link", name="The day for a calendar").click()
    assert paper.value.suggested_filename == "day.ics"
    window.goto("/plan")
    expect(window.locator(".against")).to_contain_text("Nothing differs.")
    assert sideways(window) <= 0


def test_the_keyboard_alone_will_do(window: Page) -> None:
    window.goto(DEMO)
    window.get_by_label("Size, as rolled").focus()
    window.keyboard.press("Control+A")
    window.keyboard.type("17 mm")
    window.keyboard.press("Enter")
    expect(window.locator(".wanted")).to_contain_text("17 mm")
    summary = large(window, "^Boil").locator("summary").first
    summary.focus()
    window.keyboard.press("Enter")
    why = large(window, "^Boil").locator(".opened")
    expect(why.locator(".equation").first).to_be_visible()
    inner = why.locator("details.tree > summary").first
    inner.focus()
    window.keyboard.press("Space")
    expect(why.locator("details.tree").first).to_have_attribute("open", "")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("path", [DEMO, "/plan?start=empty", "/dose?eggs=171"])
def test_no_page_keeps_anyone_out(window: Page, path: str, scheme: str) -> None:
    window.emulate_media(color_scheme="dark" if scheme == "dark" else "light")
    window.goto(path)
    if scheme == "dark":
        no_violations(window, COLOURS)
        return
    open_all(window)
    no_violations(window)
    window.set_viewport_size({"width": 320, "height": 700})
    assert sideways(window) <= 0


def test_the_page_of_a_why_keeps_nobody_out(window: Page) -> None:
    window.goto(DEMO)
    address = large(window, "^Pinch").locator("a.why").first.get_attribute("href")
    assert address is not None
    window.goto(address)
    expect(window.get_by_role("heading", level=1)).to_have_text("paste to pinch for one bait")
    open_all(window)
    no_violations(window)
    window.set_viewport_size({"width": 320, "height": 700})
    assert sideways(window) <= 0
    window.get_by_role("link", name="Back to the plan").click()
    expect(window.get_by_role("heading", level=1)).to_have_text("Plan a batch")


def test_all_of_it_works_without_script(bare: Page, window: Page) -> None:
    bare.goto("/plan?start=empty")
    assert sideways(bare) <= 0
    bare.get_by_label("Recipe", exact=True).fill("First")
    bare.get_by_label("What bait").select_option("sinker")
    bare.get_by_label("Size, as rolled").fill("14")
    bare.get_by_label("Base mix", exact=True).fill("Copper")
    bare.get_by_label("How many").first.fill("3")
    bare.get_by_label("Grade").first.fill("EU L")
    bare.get_by_role("button", name="Work it out").click()
    expect(bare.get_by_role("alert")).to_contain_text("Size, as rolled")
    bare.get_by_label("Size, as rolled").fill("14 mm")
    bare.get_by_role("button", name="Work it out").click()
    shown = number(bare, "^Baits").inner_text()
    assert sideways(bare) <= 0
    window.goto(bare.url)
    expect(number(window, "^Baits")).to_have_text(shown)
    large(bare, "^Pinch").locator("summary").click()
    large(bare, "^Pinch").get_by_role("link", name="Why").click()
    expect(bare.locator(".equation").first).to_be_visible()
    assert sideways(bare) <= 0
    bare.get_by_role("link", name="Back to the plan").click()
    bare.get_by_role("button", name="Save this plan").click()
    expect(bare.get_by_role("link", name="Bench sheet")).to_be_visible()
    assert sideways(bare) <= 0


def test_a_number_of_a_stage_opens_where_it_stands(window: Page, bare: Page) -> None:
    window.goto(DEMO)
    stage = window.locator("details.stage").first
    stage.locator("summary").first.click()
    one = stage.locator("details.one").first
    one.locator("summary").first.click()
    expect(one.locator(".opened .tree").first).to_be_visible()
    assert window.url.endswith(DEMO)
    bare.goto(window.url)
    bare.locator("details.stage summary").first.click()
    bare.locator("details.one summary").first.click()
    bare.get_by_role("button", name="Why").first.click()
    expect(bare).to_have_url(re.compile("/plan/why"))


def test_a_dose_is_read_while_the_eggs_are_weighed(window: Page) -> None:
    window.set_viewport_size({"width": 390, "height": 844})
    window.goto("/dose")
    eggs = window.get_by_label("The eggs on the scale")
    expect(eggs).to_be_focused()
    window.keyboard.type("171")
    shown = window.locator(".number-now")
    expect(shown).to_have_text("2.6")
    expect(shown).to_be_in_viewport()
    window.get_by_label("My syringe").select_option("10 ml")
    expect(window.locator(".tool")).to_have_text("in the 10 ml syringe")
    window.get_by_label("in the shell").check()
    expect(shown).not_to_have_text("2.6")
    assert sideways(window) <= 0
