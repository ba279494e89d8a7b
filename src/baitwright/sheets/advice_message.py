"""An answer as plain text for a message: what is acted on, what would narrow it, what to mind."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.advice.answers import Advice
from baitwright.sheets.advice_parts import mark

NOT_FOOD = "Bait, not food. Keep away from children and animals."


def advice_message(advice: Advice) -> str:
    """A few lines for a phone; the maker's own words are whole, and every number has its grade."""
    return "\n".join(_lines(advice)) + "\n"


def _lines(advice: Advice) -> Iterator[str]:
    yield from filter(None, (advice.opening, advice.words))
    about = ""
    for one in advice.found.statements:
        if not one.is_first:
            continue
        if one.about != about:
            yield f"{one.about}:"
            about = one.about
        yield f"- {one.head}: {one.text} ({one.grade})"
    yield from (one for one in advice.found.asks if "?" in one)
    if advice.found.statements:
        yield from (one.text for one in advice.found.cares if one.source == "supplier")
        yield NOT_FOOD
    yield from filter(None, (advice.closing,))
    yield mark(advice)
