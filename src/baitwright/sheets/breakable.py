"""Long words with places to break in, so that no name runs off a page."""

from __future__ import annotations

import textwrap


def breakable(text: str, longest: int = 24) -> str:
    """The same words, with places to break in those that are longer than a line."""
    return " ".join("\u200b".join(textwrap.wrap(word, longest)) for word in text.split())
