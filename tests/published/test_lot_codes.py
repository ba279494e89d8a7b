"""Codes of lots against ISO/IEC 18004, as vendors' pages tell it (`iso-18004`).

Read: 21 by 21 modules for version 1 to 177 by 177 for version 40, a quiet zone of 4 modules, and
error correction of about 7, 15, 25 and 30 % in levels L, M, Q and H. Computed elsewhere: a lot such
as B2026-0147 takes version 1 at level H, 29 modules with the quiet zone. The codes are read back by
zxing-cpp, which is no part of what made them.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
import pytest
import segno

from baitwright.materials.labels import code_limit, label_size, label_sizes
from baitwright.sheets.labels import lot_code

pytestmark = pytest.mark.published

LOT = "B2026-0147"
RECOVERS = {"L": 0.07, "M": 0.15, "Q": 0.25, "H": 0.30}
reader = pytest.importorskip("zxingcpp", reason="zxing-cpp has no wheel here to read codes")


@pytest.mark.parametrize("version", range(1, 41))
def test_the_sides_of_all_forty_versions(version: int) -> None:
    """21 modules, and 4 more for each version: 177 in the last."""
    made = segno.make("1", version=version, micro=False)
    assert made.symbol_size(border=0) == (21 + 4 * (version - 1),) * 2
    assert 21 + 4 * 39 == 177


def test_the_quiet_zone() -> None:
    assert code_limit("quiet-zone") == 4
    assert segno.make("1", micro=False).default_border_size == 4


def test_a_lot_at_the_highest_level() -> None:
    made = segno.make(LOT, error="h", micro=False, boost_error=False)
    assert (made.designator, made.symbol_size()) == ("1-H", (29, 29))


@pytest.mark.parametrize("size", list(label_sizes()))
@pytest.mark.parametrize(
    ("lot", "modules"), [(LOT, 29), ("2026-11-27/B1/12", 29), ("2026-11-27/B1/1234", 29)]
)
def test_our_lots_are_of_the_first_version(lot: str, modules: int, size: str) -> None:
    """`recalled`: 0.4 to 0.5 mm a module for a phone; all of ours are over that."""
    code = lot_code(lot, label_size(size))
    assert code.modules == modules
    assert label_size(size).code / code.modules > 0.5e-3


def drawn(lot: str, level: str) -> np.ndarray:
    """A code of 8 dots a module as a picture."""
    code = segno.make(lot, error=level, micro=False, boost_error=False)
    return np.array([[255 * (1 - dot) for dot in row] for row in dots_of(code)], np.uint8)


def dots_of(code: segno.QRCode) -> Iterator[bytearray]:
    return code.matrix_iter(scale=8, border=4)


def read(picture: np.ndarray) -> list[str]:
    return [one.text for one in reader.read_barcodes(picture)]


@pytest.mark.parametrize("level", RECOVERS)
def test_what_a_level_recovers(level: str) -> None:
    """Stained in its corner over half the share that its level bears it is read, over twice that
    it is not.
    """
    lot = "2026-11-27/B1/12, of a supplier's own"
    whole = drawn(lot, level)
    assert read(whole) == [lot]
    side = whole.shape[0] - 2 * 4 * 8
    for share, is_read in ((0.5 * RECOVERS[level], True), (2.0 * RECOVERS[level], False)):
        stained, stain = whole.copy(), round(side * share**0.5)
        end = whole.shape[0] - 4 * 8
        stained[end - stain : end, end - stain : end] = 0
        assert (read(stained) == [lot]) is is_read, share
