"""What is wrong with a page on paper, or enlarged to twice its size: cut, hidden, or in colour."""

from __future__ import annotations

from playwright.sync_api import Page

WIDE, HALF = {"width": 1280, "height": 800}, {"width": 640, "height": 400}
"""A laptop's window; and how many CSS pixels of it there are at 200 % (WCAG 2.2, 1.4.4)."""
A4 = {"width": 680, "height": 1009}
"""The same of an A4 page within our margins of 15 mm, at 96 to the inch."""
SIDEWAYS = """() => {
  const wide = document.documentElement.clientWidth;
  return document.documentElement.scrollWidth > wide + 1 ? [`scrolls to ${
    document.documentElement.scrollWidth} of ${wide}`] : [];
}"""
# Text that its own box cuts off, where the box neither scrolls nor is meant for ears alone.
CUT = """() => [...document.querySelectorAll("main *, header *, footer *")].filter(one => {
  const how = getComputedStyle(one);
  if (how.textOverflow === "ellipsis") return false; // short for what its group holds
  if (how.clipPath !== "none" || how.clip !== "auto" || !one.getClientRects().length) return false;
  if (one.closest("svg, .unseen, select, input, textarea")) return false;
  const cuts = way => way === "hidden" || way === "clip";
  return (cuts(how.overflowX) && one.scrollWidth > one.clientWidth + 1)
    || (cuts(how.overflowY) && one.scrollHeight > one.clientHeight + 1);
}).map(one => `cut: ${one.outerHTML.slice(0, 90)}`)"""
# On paper nothing can be scrolled to, and nothing is pressed.
PRINTED = """() => {
  const wide = document.documentElement.clientWidth;
  const shown = one => one.getClientRects().length > 0;
  const wrong = [];
  const pressed = "nav, button:not(.why-link), .skip, input[type=file], footer form";
  for (const one of document.querySelectorAll(pressed))
    if (shown(one)) wrong.push(`printed: ${one.outerHTML.slice(0, 90)}`);
  for (const one of document.querySelectorAll("main *")) {
    const how = getComputedStyle(one);
    if (!shown(one) || one.closest(".unseen")) continue;
    const [red, green, blue] = (how.color.match(/[\\d.]+/g) ?? []).map(Number);
    if (one.textContent.trim() && !one.closest("svg") && Math.max(red, green, blue) -
        Math.min(red, green, blue) > 12) wrong.push(`coloured ${how.color}: ${
        one.outerHTML.slice(0, 70)}`);
    if (["auto", "scroll"].includes(how.overflowX) && one.scrollWidth > one.clientWidth + 1)
      wrong.push(`would scroll: ${one.outerHTML.slice(0, 90)}`);
    const box = one.getBoundingClientRect();
    if (box.right > wide + 1 && !one.closest("svg")) wrong.push(`off the page: ${
      one.outerHTML.slice(0, 90)}`);
  }
  return wrong;
}"""


def wrong_on_paper(page: Page) -> list[str]:
    """What a page that is open would not print, or print as it should not."""
    page.set_viewport_size(A4)
    page.emulate_media(media="print", color_scheme="dark")  # the harder one to print
    found: list[str] = page.evaluate(PRINTED)
    page.emulate_media(media="screen", color_scheme="light")
    return [" ".join(one.split()) for one in found]


def wrong_enlarged(page: Page) -> list[str]:
    """What is lost of a page at 200 %: of all of it, then of its letters alone."""
    page.set_viewport_size(HALF)
    found = [*page.evaluate(SIDEWAYS), *page.evaluate(CUT)]
    page.set_viewport_size(WIDE)
    page.evaluate("document.documentElement.style.fontSize = '225%'")
    found += [*page.evaluate(SIDEWAYS), *page.evaluate(CUT)]
    page.evaluate("document.documentElement.style.fontSize = ''")
    return [" ".join(one.split()) for one in found]
