"""The first page, of an empty workshop, in a real browser."""

from __future__ import annotations

from playwright.sync_api import Page


def test_an_empty_workshop_says_how_to_begin(window: Page) -> None:
    window.goto("/")
    assert window.get_by_role("heading", level=1).inner_text() == "Your notebook is empty"
    window.get_by_role("link", name="Plan a batch").click()
    assert window.url.endswith("/plan")
