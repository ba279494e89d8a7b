"""The first pages, of an empty workshop, in a real browser: from nothing to a sheet."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Page, expect

PATIENCE = 30_000
"""Milliseconds for a plan on a machine that does much else."""
README = Path(__file__).parents[2] / "README.md"
MOST = 12


def test_an_empty_workshop_says_how_to_begin(window: Page) -> None:
    window.goto("/")
    assert window.get_by_role("heading", level=1).inner_text() == "Your notebook is empty"
    window.get_by_role("link", name="Plan a batch").click()
    expect(window.get_by_role("heading", level=1)).to_have_text("Plan a batch")


def listed() -> list[str]:
    """The actions that the README lists, from the first command to paper."""
    told = README.read_text(encoding="utf-8").partition("## From nothing to paper")[2]
    lines = told.partition("\n## ")[0].splitlines()
    return [line.partition(". ")[2] for line in lines if line.partition(". ")[0].isdigit()]


def test_the_actions_of_the_readme_lead_to_a_sheet(window: Page) -> None:
    actions = listed()
    assert len(actions) <= MOST
    made, opened, *here, last = actions  # two in a terminal, and the browser's own print
    assert "make run" in made
    assert "open" in opened
    assert "Print" in last
    window.set_default_timeout(PATIENCE)
    window.goto("/")
    for action in here:
        _, name, *typed = action.split("**")
        if "Press" in action and "sheet" not in name:
            window.get_by_text(name, exact=True).first.click()
        elif "Choose" in action:
            window.get_by_label(name, exact=True).select_option(typed[0].strip(" :.`"))
        elif "Type" in action:
            window.get_by_label(name).first.fill(typed[0].strip(" :.`"))
            window.get_by_label(name).first.blur()
        else:
            link = window.get_by_role("link", name=name)
            sheet = window.request.get(str(link.get_attribute("href")))
            assert sheet.headers["content-type"] == "application/pdf"
            assert sheet.body().startswith(b"%PDF")
