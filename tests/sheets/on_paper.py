"""A PDF as a reader, a printer and a phone see it: its words with their places, grey, its codes.

What is seen comes from programs of others: poppler draws and measures, zxing-cpp reads codes.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import tempfile
from dataclasses import dataclass
from html import unescape
from itertools import combinations
from pathlib import Path
from typing import Any

import numpy as np
import pytest

DRAWN = 300
"""Dots per inch of the grey pages."""
MM = 72 / 25.4
"""Points in a millimetre."""

needs_poppler = pytest.mark.skipif(
    not (shutil.which("pdftoppm") and shutil.which("pdftotext")),
    reason="no pdftoppm here to draw pages with: install Debian's package poppler-utils",
)


@dataclass(frozen=True)
class Word:
    """A word of a page with its box in points from the upper left."""

    text: str
    page: int
    left: float
    top: float
    right: float
    bottom: float

    def shares(self, other: Word) -> float:
        """The part of the smaller box that both cover; a line's own leading left out."""
        width = min(self.right, other.right) - max(self.left, other.left)
        lead = 0.2 * min(self.bottom - self.top, other.bottom - other.top)
        height = min(self.bottom, other.bottom) - max(self.top, other.top) - lead
        if width <= 0.0 or height <= 0.0:
            return 0.0
        least = min((one.right - one.left) * (one.bottom - one.top) for one in (self, other))
        return width * height / least


def words_on(pdf: bytes) -> list[Word]:
    """Every word of a PDF."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "page.pdf"
        file.write_bytes(pdf)
        done = subprocess.run(
            ["pdftotext", "-bbox", str(file), "-"], capture_output=True, check=True
        )
    pages = done.stdout.decode().split("<page ")[1:]
    word = r'<word xMin="(.*?)" yMin="(.*?)" xMax="(.*?)" yMax="(.*?)">(.*?)</word>'
    return [
        Word(unescape(text), at, *map(float, box))
        for at, page in enumerate(pages)
        for *box, text in re.findall(word, page)
        if text.replace("\u200b", "").strip()
    ]


def grey_pages(pdf: bytes, *, dots_per_inch: int = DRAWN) -> list[Any]:
    """The pages as a printer without colour sees them, 0 black to 255 white."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "page.pdf"
        file.write_bytes(pdf)
        how = ["-gray", "-r", str(dots_per_inch)]
        subprocess.run(["pdftoppm", *how, str(file), str(Path(folder) / "page")], check=True)
        return [_grey(path.read_bytes()) for path in sorted(Path(folder).glob("*.pgm"))]


def _grey(picture: bytes) -> Any:
    kind, width, height, most, *_ = picture.split(maxsplit=4)
    assert (kind, most) == (b"P5", b"255")
    dots = int(width) * int(height)
    return np.frombuffer(picture[-dots:], np.uint8).reshape(int(height), int(width))


def contrast(word: Word, page: Any) -> float:
    """Of the darkest dot of a word's box to its lightest, by the formula of WCAG 2."""
    per_point = DRAWN / 72
    left, right = int(word.left * per_point), int(word.right * per_point) + 1
    top, bottom = int(word.top * per_point), int(word.bottom * per_point) + 1
    box = page[max(top, 0) : bottom, max(left, 0) : right] / 255
    light = np.where(box <= 0.04045, box / 12.92, ((box + 0.055) / 1.055) ** 2.4)
    return float((light.max() + 0.05) / (light.min() + 0.05))


def codes_in(page: Any) -> list[Any]:
    """The QR codes of a page as a phone's reader finds them, from top to bottom."""
    reader = pytest.importorskip("zxingcpp", reason="zxing-cpp has no wheel here to read codes")
    found = reader.read_barcodes(np.ascontiguousarray(page), formats=reader.BarcodeFormat.QRCode)
    return sorted(found, key=lambda one: (one.position.top_left.y, one.position.top_left.x))


def assert_legible(pdf: bytes, *, edge_mm: float) -> None:
    """No word over the edge of a page or over another, each readable in grey."""
    words, pages = words_on(pdf), grey_pages(pdf)
    assert words
    for at, page in enumerate(pages):
        here = [one for one in words if one.page == at]
        height, width = (dots * 72 / DRAWN for dots in page.shape)
        for one in here:
            assert one.left >= edge_mm * MM - 1, one
            assert one.right <= width - edge_mm * MM + 1, one
            assert 0 <= one.top < one.bottom <= height, one
            assert contrast(one, page) >= 4.5, one
        for one, other in combinations(here, 2):
            assert one.shares(other) < 0.1, (one, other)
