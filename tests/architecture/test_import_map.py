"""The map of imports tells of the house as it is."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.architecture.import_map import floors, imports_within, made, needed
from tests.architecture.tree import PACKAGE, ROOT

ROOMS = PACKAGE / "workshop"
MOST_FILES = 30


@pytest.mark.parametrize("path", made(), ids=lambda path: path.name)
def test_the_map_is_drawn_from_the_code(path: Path) -> None:
    drawn = path.exists() and path.read_text(encoding="utf-8") == made()[path]
    assert drawn, f"{path.relative_to(ROOT)}: python -m tests.architecture.import_map"


def test_an_arrow_that_others_imply_is_left_out() -> None:
    imports = {"a": frozenset("bc"), "b": frozenset("c"), "c": frozenset()}
    assert needed(imports) == {"a": {"b"}, "b": {"c"}, "c": set()}
    assert floors(imports) == [["a"], ["b"], ["c"]]


def test_the_workshop_is_rooms_and_nothing_lies_between_them() -> None:
    assert [path.name for path in ROOMS.glob("*.py")] == ["__init__.py"]
    assert {len(list(room.glob("*.py"))) <= MOST_FILES for room in ROOMS.iterdir()} == {True}
    assert imports_within("baitwright.workshop")
