"""In which language a page speaks: as its reader chose, else as the browser asks, else English."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from gettext import GNUTranslations, NullTranslations
from pathlib import Path

from starlette.requests import Request

ENGLISH = "en"
LANGUAGES = {ENGLISH: "English", "de": "Deutsch"}
"""What each language calls itself."""
CHOSEN = "baitwright-language"
"""The cookie in which a browser keeps the choice of its reader."""
DOMAIN = "pages"
LOCALE = Path(__file__).parent / "locale"
BEFORE_NAME = re.compile(r"([^%]*[A-Za-z]{3}[^%]* )(%\(\w+\)s)")
"""A text that ends with the place of a name, which is in the text when a page gets it."""
_ASKED = re.compile(r"([a-z]{2,3})(?:-[a-z0-9-]+)?(?:;q=([01](?:\.\d{1,3})?))?")


def language_of(request: Request) -> str:
    """The language of whoever asks."""
    chosen = request.cookies.get(CHOSEN, "")
    if chosen in LANGUAGES:
        return chosen
    return wanted(request.headers.get("accept-language", ""))


def wanted(header: str) -> str:
    """The first language of a browser's list that we have (RFC 9110, 12.5.4), else English."""
    weights: dict[str, float] = {}
    for one in header.lower().replace(" ", "").split(","):
        found = _ASKED.fullmatch(one)
        if found is not None and found[1] in LANGUAGES:
            weights[found[1]] = max(weights.get(found[1], 0.0), float(found[2] or 1))
    best = max(weights, key=lambda language: weights[language], default=ENGLISH)
    return best if weights.get(best) else ENGLISH


class English(str):
    """A text that a catalogue lacks, as it was written."""

    __slots__ = ()


class _Lacking(NullTranslations):
    def gettext(self, message: str) -> str:
        return English(message)


class _Told(GNUTranslations):
    def heads(self) -> Iterator[tuple[str, str]]:
        for english, said in self._catalog.items():  # type: ignore[attr-defined]
            head = BEFORE_NAME.fullmatch(english) if isinstance(english, str) and said else None
            if head is not None:
                yield head[1], said.replace(head[2], "%s")


@cache
def heads(language: str) -> tuple[tuple[str, str], ...]:
    """Words that stand before a name, the longest first, and how the language says both."""
    found = catalogue(language)
    told = found.heads() if isinstance(found, _Told) else ()
    return tuple(sorted(told, key=lambda one: -len(one[0])))


@cache
def catalogue(language: str) -> NullTranslations:
    """The words of a language; English is what the pages are written in."""
    if language == ENGLISH:
        return NullTranslations()
    path = LOCALE / language / "LC_MESSAGES" / f"{DOMAIN}.mo"
    with path.open("rb") as file:
        made = _Told(file)
    made.add_fallback(_Lacking())
    return made
