"""The rooms in a real browser: for anybody, on a phone, without a script, by keys alone."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.web.access import AA, COLOURS, no_violations
from tests.web.conftest import Served, served
from tests.web.paper_and_zoom import CUT, SIDEWAYS, wrong_enlarged, wrong_on_paper
from tests.web.rooms import DOORS, Shown, asked, filled

_FILES = (".csv", ".toml", ".pdf", ".json", ".html", ".ics", "{ending}")
PAGES = [door for door in DOORS if not door.endswith(_FILES)]
_THUMB = 56
_NARROW = {"width": 320, "height": 640}


@pytest.fixture(scope="module")
def shown(tmp_path_factory: pytest.TempPathFactory) -> Shown:
    place = tmp_path_factory.mktemp("shown") / "notebook.sqlite"
    return filled(place)


@pytest.fixture(scope="module")
def workshop(shown: Shown) -> Iterator[Served]:
    with served(shown.place) as made:
        yield made


@pytest.fixture(scope="module")
def phone(browser: Browser, workshop: Served) -> Iterator[Page]:
    """The narrowest window, in which anybody may land."""
    context = browser.new_context(base_url=workshop.address, viewport=_NARROW)
    yield context.new_page()
    context.close()


@pytest.fixture
def plain(browser: Browser, live: Served) -> Iterator[BrowserContext]:
    """A browser whose scripts are switched off, on an empty workshop."""
    context = browser.new_context(base_url=live.address, java_script_enabled=False)
    yield context
    context.close()


@pytest.mark.parametrize("door", PAGES)
def test_anybody_can_use_every_page(phone: Page, shown: Shown, door: str) -> None:
    phone.set_viewport_size(_NARROW)
    phone.emulate_media(color_scheme="light")
    phone.goto(asked(door, shown))
    wide = phone.evaluate("document.documentElement.scrollWidth")
    assert wide <= _NARROW["width"], "sideways"
    small = phone.evaluate(
        """least => [...document.querySelectorAll("button, a.deed, a.row, input, select")]
          .filter(one => one.offsetParent && one.offsetHeight && one.offsetHeight < least)
          .map(one => one.outerHTML.slice(0, 120))""",
        _THUMB,
    )
    assert small == []
    no_violations(phone, *AA)
    phone.emulate_media(color_scheme="dark")
    no_violations(phone, COLOURS)
    assert wrong_enlarged(phone) == []
    assert wrong_on_paper(phone) == []


OTHERS = (
    *("/batches/{planned}/bench", "/batches/{planned}/bench/write", "/plan?start=demo"),
    *("/plan/compare", "/dose?eggs=150 g", "/travel"),
)
"""Pages that are not among the rooms."""


def test_the_other_pages_can_be_printed_and_enlarged(phone: Page, shown: Shown) -> None:
    wrong = []
    for path in OTHERS:
        phone.goto(path.format(planned=shown.planned))
        for one in (*wrong_enlarged(phone), *wrong_on_paper(phone)):
            wrong.append(f"{path}: {one}")
    assert wrong == []


GERMAN = (
    *("/", "/plan?start=demo", "/mix?start=demo", "/batches", "/shelf", "/more"),
    *("/batches/{planned}/bench", "/batches/{planned}/bench/write", "/batches/{planned}"),
    *("/levels?eggs=3 x EU L&level[1].level=0.8 ml per egg&level[1].name=Malt", "/cautions"),
    *("/ask/day", "/ask/keep?batch={made}", "/ask/soak?batch={made}", "/ask/boil?batch={made}"),
    *("/ask/balance?batch={made}", "/ask/one?name={question}", "/mix/match?recipe=Copper wafter"),
)
# What sticks out of the window where no box of its own scrolls, and what a stage tells beside
# its name: that is never shortened.
_BEYOND = """() => {
  const wide = document.documentElement.clientWidth;
  const short = one => one.matches(".stage > summary .told") && one.scrollWidth > one.clientWidth;
  return [...document.querySelectorAll("body *")].filter(one => {
    if (!one.getClientRects().length || one.closest(".scroll, svg, .unseen, .skip")) return false;
    const box = one.getBoundingClientRect();
    return box.right > wide + 1 || box.left < -1 || short(one);
  }).map(one => `beyond: ${one.outerHTML.slice(0, 90)}`);
}"""


def test_german_fits_the_narrowest_phone(browser: Browser, shown: Shown, workshop: Served) -> None:
    context = browser.new_context(base_url=workshop.address, viewport=_NARROW, locale="de-DE")
    page, wrong = context.new_page(), []
    for path in GERMAN:
        page.goto(path.format(**asdict(shown)))
        assert page.evaluate("document.documentElement.lang") == "de"
        for look in (SIDEWAYS, CUT, _BEYOND):
            wrong += [f"{path}: {one}" for one in page.evaluate(look)]
    context.close()
    assert wrong == []


def test_the_demonstration_is_looked_round_and_left(plain: BrowserContext) -> None:
    page = plain.new_page()
    page.goto("/")
    page.get_by_role("button", name="Look round the demonstration workshop").click(timeout=120_000)
    expect(page.get_by_role("heading", level=1)).to_have_text("On the trays")
    assert "invented" in page.inner_text("body")
    page.get_by_role("link", name="Notebook", exact=True).click()
    page.get_by_role("link", name="Night", exact=False).first.click()
    assert "Nights without a bite" in page.inner_text("main")
    page.get_by_role("button", name="Leave it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Your notebook is empty")


def test_the_shelf_is_kept_without_a_script(plain: BrowserContext) -> None:
    page = plain.new_page()
    page.goto("/shelf/in")
    page.get_by_label("Item").fill("semolina")
    page.get_by_label("Amount").fill("25 sacks")
    page.get_by_role("button", name="Put it there").click()
    assert "25 sacks" in page.get_by_role("alert").inner_text()
    assert page.get_by_label("Item").input_value() == "semolina"
    page.get_by_label("Amount").fill("25,5 kg")
    page.get_by_role("button", name="Put it there").click()
    assert "write it on the bag" in page.get_by_role("status").inner_text()
    page.get_by_role("link", name="Count").click()
    page.get_by_label("Amount").fill("24 kg")
    page.get_by_role("button", name="Set it to that").click()
    assert "1.5 kg less than in the book" in page.get_by_role("status").inner_text()
    page.get_by_role("link", name="Take the last entry back").click()
    page.get_by_role("button", name="Take it back").click()
    assert "25.5 kg" in page.inner_text("main")


def test_going_back_and_sending_again_changes_nothing(window: Page) -> None:
    window.goto("/shelf/in")
    window.get_by_label("Item").fill("semolina")
    window.get_by_label("Amount").fill("2 kg")
    window.get_by_role("button", name="Put it there").dblclick()
    window.wait_for_url("**/shelf/item**")
    window.go_back()
    window.goto("/shelf")
    assert "2 kg" in window.inner_text("main")
    assert "4 kg" not in window.inner_text("main")


def test_an_error_has_the_focus_and_leads_to_its_field(browser: Browser, live: Served) -> None:
    context = browser.new_context(base_url=live.address)  # a refusal is no error of a script
    page = context.new_page()
    page.goto("/shelf/in")
    page.get_by_role("button", name="Put it there").click()
    expect(page.get_by_role("alert")).to_be_focused()
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.id") == "item"
    context.close()


def test_two_tabs_put_one_night_together(browser: Browser, live: Served) -> None:
    context = browser.new_context(base_url=live.address)
    one, other = context.new_page(), context.new_page()
    one.goto("/notebook/night/new")
    one.get_by_label("Water", exact=False).first.fill("Long Reedpool")
    one.get_by_role("button", name="Write it down").click()
    one.get_by_role("link", name="Change it").click()
    other.goto(one.url)
    for tab, bites in ((one, "1"), (other, "2")):
        tab.locator("#bites").fill(bites)
        tab.get_by_role("button", name="Write it down").click()
    assert "Somebody wrote here since you opened this page" in other.inner_text("main")
    assert other.locator("#bites").input_value() == "2"
    other.get_by_role("button", name="Write it down").click()
    assert "version 3" in other.get_by_role("status").inner_text()
    context.close()


def test_keys_alone_reach_the_deed(window: Page) -> None:
    window.goto("/shelf/in")
    window.keyboard.press("Tab")
    assert window.evaluate("document.activeElement.className") == "skip"
    window.keyboard.press("Enter")
    for typed in ("semolina", "3 kg"):
        while window.evaluate("document.activeElement.tagName") != "INPUT":
            window.keyboard.press("Tab")
        window.keyboard.type(typed)
        window.keyboard.press("Tab")
    window.keyboard.press("Enter")
    window.wait_for_url("**/shelf/item**")
    assert "3 kg" in window.inner_text("main")


def test_a_page_prints_without_its_doors(phone: Page, shown: Shown) -> None:
    phone.goto(asked("/orders/slip", shown))
    phone.emulate_media(media="print")
    assert not phone.get_by_role("navigation").is_visible()
    assert phone.get_by_role("heading", name="Packing slip").is_visible()
    phone.emulate_media(media="screen")
