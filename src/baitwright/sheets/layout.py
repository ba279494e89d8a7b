"""Plain text in columns: rows of label, number and band, and paragraphs, within a page's width."""

from __future__ import annotations

import re
import textwrap
from collections.abc import Iterable

from baitwright.sheets.wording import Figure

WIDTH = 100
_LABEL = 46
_NUMBER = 9
_UNIT = 5
_UNITS = re.compile(r"((?<=\d )(?:ml|l|g|kg|mm|cm|m|h|s|min|d|lb|oz)\b|(?<=\bper )(?:kg|lb)\b)")


def heading(title: str) -> list[str]:
    """A section's heading, set off by an empty line."""
    return ["", capitals(title)]


def capitals(title: str) -> str:
    """A heading in capitals; units stay as they are written, since a capital changes them."""
    return "".join(part if at % 2 else part.upper() for at, part in enumerate(_UNITS.split(title)))


def row(label: str, figure: Figure, *, mark: str = "", after: str = "") -> list[str]:
    """A label, its number in the number column, its band in brackets, and a few words after."""
    *above, last = textwrap.wrap(label, _LABEL) or [""]
    band = f"({figure.band})" if figure.band else ""
    tail = "  ".join(part for part in (band, after) if part)
    unit = "" if figure.number == "never" else figure.unit
    number = f"  {last:<{_LABEL}} {figure.number:>{_NUMBER}} {unit + mark:<{_UNIT}} "
    rest = textwrap.wrap(tail, WIDTH - len(number)) or [""]
    lines = [f"  {line}" for line in above] + [number + rest[0]]
    lines += [" " * len(number) + line for line in rest[1:]]
    return [line.rstrip() for line in lines]


def paragraph(text: str, *, first: str = "  ", then: str = "  ") -> list[str]:
    """Text folded to the page's width under a first and a hanging indent."""
    return textwrap.wrap(
        text, WIDTH, initial_indent=first, subsequent_indent=then, break_on_hyphens=False
    )


def bullet(text: str, sign: str = "-") -> list[str]:
    """One remark with its sign in front."""
    return paragraph(text, first=f"  {sign} ", then="    ")


def table(lines: Iterable[tuple[str, ...]], widths: tuple[int, ...]) -> list[str]:
    """Rows of cells, each folded in its column; a negative width sets its column to the right."""
    out = []
    for cells in lines:
        folded = [
            textwrap.wrap(cell, abs(width)) or [""]
            for cell, width in zip(cells, widths, strict=True)
        ]
        for at in range(max(map(len, folded))):
            texts = [part[at] if at < len(part) else "" for part in folded]
            placed = [
                text.rjust(-width) if width < 0 else text.ljust(width)
                for text, width in zip(texts, widths, strict=True)
            ]
            out.append(("  " + "  ".join(placed)).rstrip())
    return out
