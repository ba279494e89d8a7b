"""Signing in from a device, in a real browser: without a script, on a narrow screen, for all."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Page

from baitwright.web.addresses import own_addresses
from baitwright.web.server import Opened
from baitwright.workshop.passphrase import keep_passphrase
from tests.web.network import PASSPHRASE, served_on_lan

pytestmark = pytest.mark.skipif(not own_addresses(), reason="this machine is on no network")
PICTURES = os.environ.get("BAITWRIGHT_TESTS_PICTURES")
"""A folder for a picture of each page, for whoever wants to look at them."""
PHONE, TABLET, LAPTOP = (390, 844), (820, 1180), (1280, 800)


@pytest.fixture(scope="module", params=[False, True], ids=["open", "tls"])
def opened(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Opened]:
    place = tmp_path_factory.mktemp("shop") / "notebook.sqlite"
    keep_passphrase(place, PASSPHRASE)
    with served_on_lan(place, is_tls=request.param) as made:
        yield made


@contextmanager
def phone(
    browser: Browser, opened: Opened, *, size: tuple[int, int] = PHONE, **how: object
) -> Iterator[Page]:
    context = browser.new_context(
        base_url=opened.addresses[1],
        viewport={"width": size[0], "height": size[1]},
        ignore_https_errors=True,
        **how,  # type: ignore[arg-type]
    )
    yield context.new_page()
    context.close()


def test_signing_in_and_out_needs_no_script(browser: Browser, opened: Opened) -> None:
    with phone(browser, opened, java_script_enabled=False) as page:
        page.goto("/nothing")
        assert page.get_by_role("heading", level=1).inner_text() == "Sign in"
        page.get_by_label("Passphrase").fill("a wrong try of words")
        page.get_by_role("button", name="Sign in").click()
        assert "You are not signed in" in page.get_by_role("alert").inner_text()
        assert page.get_by_label("Passphrase").input_value() == ""
        page.get_by_label("Passphrase").fill(PASSPHRASE)
        page.keyboard.press("Enter")
        assert page.get_by_role("heading", level=1).inner_text() == "There is no such page"
        assert page.url.endswith("/nothing")
        page.get_by_role("button", name="Sign out of this device").click()
        assert page.url.endswith("/sign-in")
        page.goto("/")
        assert page.url.endswith("/sign-in?to=/")


def test_the_page_says_whether_others_can_read_along(browser: Browser, opened: Opened) -> None:
    with phone(browser, opened) as page:
        page.goto("/sign-in")
        told = page.get_by_text("others on this network can read along")
        assert told.count() == (0 if opened.certificate else 1)
        asked = "[isSecureContext, 'wakeLock' in navigator, 'serviceWorker' in navigator]"
        assert page.evaluate(asked) == [opened.certificate is not None] * 3


def test_the_keyboard_alone_signs_in(browser: Browser, opened: Opened) -> None:
    with phone(browser, opened, size=LAPTOP) as page:
        page.goto("/sign-in")
        assert page.evaluate("document.activeElement.id") == "passphrase"
        page.keyboard.press("Enter")  # nothing was typed, and the browser says so itself
        assert page.url.endswith("/sign-in")
        page.keyboard.type("a wrong try of words")
        page.keyboard.press("Enter")
        page.wait_for_selector("[role=alert]")
        assert page.evaluate("document.activeElement.className") == "summary"
        page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        assert page.evaluate("document.activeElement.id") == "passphrase"
        page.keyboard.type(PASSPHRASE)
        page.keyboard.press("Enter")
        page.wait_for_url(opened.addresses[1])


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_rule_of_access_is_broken(browser: Browser, opened: Opened, scheme: str) -> None:
    with phone(browser, opened, color_scheme=scheme) as page:
        page.goto("/sign-in")
        if opened.certificate:
            page.get_by_text("Trust this workshop").click()
        _is_fine(page)
        page.get_by_label("Passphrase").fill("a wrong try of words")
        page.get_by_role("button", name="Sign in").click()
        _is_fine(page)
        page.get_by_label("Passphrase").fill(PASSPHRASE)
        page.get_by_role("button", name="Sign in").click()
        page.get_by_role("button", name="Sign out").wait_for()
        _is_fine(page)


def test_it_fits_320_pixels_with_targets_for_a_wet_thumb(browser: Browser, opened: Opened) -> None:
    with phone(browser, opened, size=(320, 640)) as page:
        page.goto("/sign-in")
        if opened.certificate:
            page.get_by_text("Trust this workshop").click()
        wide = "document.documentElement.scrollWidth"
        assert page.evaluate(wide) == 320
        for target in page.locator("button, .deed, input:not([type=hidden]), summary").all():
            box = target.bounding_box()
            assert box is not None
            assert box["height"] >= 56


@pytest.mark.skipif(PICTURES is None, reason="nobody wants to look at them")
@pytest.mark.parametrize("size", [PHONE, TABLET, LAPTOP], ids=["phone", "tablet", "laptop"])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_pictures(browser: Browser, opened: Opened, size: tuple[int, int], scheme: str) -> None:
    folder, how = Path(PICTURES or ""), "tls" if opened.certificate else "open"
    with phone(browser, opened, size=size, color_scheme=scheme) as page:
        page.goto("/sign-in")
        page.screenshot(path=folder / f"{how}-{size[0]}-{scheme}.png")
        page.get_by_label("Passphrase").fill("a wrong try of words")
        page.get_by_role("button", name="Sign in").click()
        page.screenshot(path=folder / f"{how}-{size[0]}-{scheme}-wrong.png")
        page.get_by_label("Passphrase").fill(PASSPHRASE)
        page.get_by_role("button", name="Sign in").click()
        page.screenshot(path=folder / f"{how}-{size[0]}-{scheme}-in.png", full_page=True)


def _is_fine(page: Page) -> None:
    found = Axe().run(page)
    assert found.violations_count == 0, found.generate_report()
