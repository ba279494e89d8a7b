"""A workshop over a notebook of the test's own: asked by a client, or by a real browser."""

from __future__ import annotations

import os
import shutil
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest
import uvicorn
from fastapi.testclient import TestClient
from playwright.sync_api import Browser, Page, Playwright, expect, sync_playwright

from baitwright.web.app import make_app
from baitwright.web.guard import HEADER, token_of
from baitwright.web.house import House
from baitwright.web.server import listening
from baitwright.workshop.opening.standing import Standing
from tests.notebook.conftest import cluster  # noqa: F401 - a server for those who share one

KEY = b"a key of the tests, 32 bytes long"
HOST = "testserver"
WANTED = "BAITWRIGHT_TESTS_WANT_BROWSER"
_CHROMIUM = ("chromium", "chromium-browser", "google-chrome")
_ALONE = [
    *("--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run"),
    *("--disable-background-networking", "--disable-component-update", "--disable-sync"),
]


def house_at(place: Path, *hosts: str) -> House:
    """A workshop over a notebook that is begun when something is written."""
    return House(Standing(place), KEY, hosts)


@contextmanager
def notebook_of(place: Path) -> Iterator[Standing]:
    """The notebook as its workshop has it, for what is read or written beside the pages."""
    house = house_at(place, HOST)
    try:
        yield house.notebook
    finally:
        house.close()


@pytest.fixture
def place(tmp_path: Path) -> Path:
    return tmp_path / "notebook.sqlite"


@pytest.fixture
def client(place: Path) -> Iterator[TestClient]:
    """A client that holds our token, as our own pages do."""
    house = house_at(place, HOST)
    with TestClient(make_app(house), headers={HEADER: token_of(house)}) as made:
        yield made


@dataclass(frozen=True)
class Served:
    """A workshop that listens."""

    address: str
    house: House


@contextmanager
def served(place: Path, *, port: int | None = None) -> Iterator[Served]:
    """The workshop served for real, until the block ends."""
    taken = listening(port or 0)
    number = taken.getsockname()[1]
    house = house_at(place, f"127.0.0.1:{number}")
    config = uvicorn.Config(make_app(house), log_level="warning", access_log=False)
    server = uvicorn.Server(config)
    thread = threading.Thread(target=server.run, kwargs={"sockets": [taken]}, daemon=True)
    thread.start()
    while not server.started:  # it is bound to its port before it listens there
        time.sleep(0.01)
    try:
        yield Served(f"http://127.0.0.1:{number}", house)
    finally:
        server.should_exit = True
        thread.join()
        taken.close()


@pytest.fixture
def live(place: Path) -> Iterator[Served]:
    with served(place) as made:
        yield made


def chromium() -> str | None:
    """Where Debian's Chromium is, if it is."""
    return next(filter(None, map(shutil.which, _CHROMIUM)), None)


def chromium_at(driver: Playwright, found: str | None) -> Browser:
    """A browser that talks to nobody but its tests."""
    return driver.chromium.launch(executable_path=found, args=_ALONE)


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """Debian's Chromium; left out with its reason where there is none and nobody wants it."""
    found = chromium()
    if found is None:
        if os.environ.get(WANTED):
            pytest.fail(f"{WANTED} is set and there is no Chromium")
        pytest.skip("there is no Chromium; on Debian: apt-get install chromium")
    expect.set_options(timeout=30_000)  # shared cores make a single deed slow now and then
    with sync_playwright() as driver:
        made = chromium_at(driver, found)
        yield made
        made.close()


@pytest.fixture
def window(browser: Browser, live: Served) -> Iterator[Page]:
    """A window of a laptop's size on the workshop; an error in a script fails the test."""
    context = browser.new_context(base_url=live.address, viewport={"width": 1280, "height": 800})
    page, wrong = context.new_page(), []
    page.on("pageerror", lambda one: wrong.append(str(one)))
    page.on("console", lambda one: wrong.append(one.text) if one.type == "error" else None)
    yield page
    context.close()
    assert not wrong
