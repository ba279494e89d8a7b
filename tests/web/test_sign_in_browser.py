"""Signing in from a device, in a real browser: without a script, on a narrow screen, for all."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest
from playwright.sync_api import Browser, Page, expect

from baitwright.notebook.where import folder_of
from baitwright.web.addresses import own_addresses
from baitwright.web.server import Opened
from baitwright.workshop.keys.passphrase import keep_passphrase
from tests.web.access import no_violations
from tests.web.benches import BENCH, with_a_batch
from tests.web.network import PASSPHRASE, served_on_lan

pytestmark = pytest.mark.skipif(not own_addresses(), reason="this machine is on no network")
PHONE, LAPTOP = (390, 844), (1280, 800)


@pytest.fixture(scope="module", params=[False, True], ids=["open", "tls"])
def opened(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Opened]:
    place = tmp_path_factory.mktemp("shop") / "notebook.sqlite"
    with_a_batch(place)
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
        expect(page.get_by_role("heading", level=1)).to_have_text("Sign in")
        page.get_by_label("Passphrase").fill("a wrong try of words")
        page.get_by_role("button", name="Sign in").click()
        expect(page.get_by_role("alert")).to_contain_text("You are not signed in")
        expect(page.get_by_label("Passphrase")).to_have_value("")
        page.get_by_label("Passphrase").fill(PASSPHRASE)
        page.keyboard.press("Enter")
        expect(page).to_have_url("/nothing")
        expect(page.get_by_role("heading", level=1)).to_have_text("There is no such page")
        page.get_by_role("button", name="Sign out of this device").click()
        expect(page).to_have_url("/sign-in")
        page.goto("/")
        expect(page).to_have_url("/sign-in?to=/")


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
        expect(page).to_have_url("/sign-in")
        page.keyboard.type("a wrong try of words")
        page.keyboard.press("Enter")
        page.wait_for_selector("[role=alert]")
        page.wait_for_function("document.activeElement.className == 'summary'")
        page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        assert page.evaluate("document.activeElement.id") == "passphrase"
        page.keyboard.type(PASSPHRASE)
        page.keyboard.press("Enter")
        page.wait_for_url(opened.addresses[1])


def test_taps_of_a_device_that_was_signed_out_come_home(browser: Browser, opened: Opened) -> None:
    with phone(browser, opened) as page:
        page.goto(BENCH)
        _sign_in(page)
        page.wait_for_selector("html[data-bench=ready]", state="attached")
        for one in folder_of(opened.house.place).glob("door.sessions/*"):
            one.unlink()
        page.locator("#done").click()
        expect(page.locator("#kept")).to_contain_text("1 tap waits for the workshop")
        expect(page.locator("#kept")).to_contain_text("This device is signed out")
        page.reload()
        _sign_in(page)
        expect(page).to_have_url(BENCH)
        expect(page.locator("#kept")).to_have_text("All is kept")
        taps = page.request.get(f"{BENCH}/taps").json()["taps"]
        assert [one["kind"] for one in taps] == ["done"]


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_no_rule_of_access_is_broken(browser: Browser, opened: Opened, scheme: str) -> None:
    with phone(browser, opened, color_scheme=scheme) as page:
        page.goto("/sign-in")
        if opened.certificate:
            page.get_by_text("Trust this workshop").click()
        no_violations(page)
        page.get_by_label("Passphrase").fill("a wrong try of words")
        page.get_by_role("button", name="Sign in").click()
        page.get_by_role("alert").wait_for()
        no_violations(page)
        _sign_in(page)
        page.get_by_role("button", name="Sign out").wait_for()
        no_violations(page)


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


def _sign_in(page: Page) -> None:
    page.get_by_label("Passphrase").fill(PASSPHRASE)
    page.get_by_role("button", name="Sign in").click()
