"""The rules of access (WCAG 2.2 AA and more), asked of a page as a browser shows it."""

from __future__ import annotations

from axe_playwright_python.base import AxeResults
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page

COLOURS = "color-contrast"
"""The one rule that a page in the dark may break beside the same page in the light."""
AA = ("wcag2a", "wcag2aa", "wcag21aa", "wcag22aa")
"""Tags of the rules we promise."""


_AXE = Axe().axe_script


def no_violations(page: Page, *rules: str) -> None:
    """No rule of access is broken; of some rules or tags only, where they are named."""
    page.wait_for_load_state()  # a page seen before its style sheet has the browser's own colours
    if not page.evaluate("'axe' in window"):
        page.evaluate(_AXE)
    options = {"resultTypes": ["violations"]}  # of what passes, that it was looked at is enough
    if rules:
        options["runOnly"] = list(rules)
    found = AxeResults(page.evaluate("options => axe.run(document, options)", options))
    assert found.response["passes"]
    assert found.violations_count == 0, found.generate_report()
