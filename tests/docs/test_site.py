"""The site: its links are followed, its pages listed, its pictures small; `make docs` builds it."""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from types import ModuleType

import pytest

from tests.architecture.tree import ROOT
from tests.docs.pictures import MOST, PICTURES, shots
from tests.docs.shown import DOCS, name_of, pages
from tests.web.rooms import Shown


@pytest.fixture
def site(monkeypatch: pytest.MonkeyPatch) -> Iterator[ModuleType]:
    """What builds it."""
    monkeypatch.syspath_prepend(str(DOCS / "site"))
    yield import_module("build")
    for name in ("build", "docstrings"):
        sys.modules.pop(name, None)


def test_a_link_that_leads_nowhere_is_found(site: ModuleType, tmp_path: Path) -> None:
    (tmp_path / "other.html").write_text('<h2 id="here">there</h2>', encoding="utf-8")
    page = tmp_path / "index.html"
    page.write_text('<a href="other.html#here">1</a><a href="#top">2</a><p id="top">')
    assert list(site.lost_links(tmp_path)) == []
    page.write_text('<a href="none.html">1</a><a href="other.html#gone">2</a>')
    first, second = site.lost_links(tmp_path)
    assert "none.html, which is not there" in first
    assert "other.html#gone, which has no such place" in second


def test_a_page_that_fetches_from_elsewhere_is_found(site: ModuleType, tmp_path: Path) -> None:
    page = tmp_path / "index.html"
    page.write_text('<a href="https://shop.example/">a link may lead out</a>')
    assert list(site.lost_links(tmp_path)) == []
    page.write_text('<script src="https://shop.example/x.js"></script>')
    assert list(site.lost_links(tmp_path)) == ["index.html fetches https://shop.example/x.js"]


def test_docstrings_are_told_with_their_number(site: ModuleType) -> None:
    page = site.floor_page(ROOT / "src" / "baitwright" / "batch")
    assert "(batch.balance)=\n## balance\n" in page
    told = page.partition("\n### hook_pull\n")[2].partition("\n### ")[0]
    assert "hook_pull(mass: Any, water_density: Any) -> Any" in told
    assert "What the hook weighs under water." in told
    assert "`hook_pull`, the hook under water: `pull = mass (1 - water density / steel)`" in told
    physics = site.floor_page(ROOT / "src" / "baitwright" / "physics")
    assert physics.count("**Parameters**") > 50
    assert not re.search(r"^-{3,}$", physics, re.MULTILINE), "no underline is left"


def test_cells_are_words_and_code(site: ModuleType) -> None:
    text = '"""About."""\n\n# %% [markdown]\n# # Head\n#\n# Words.\n\n# %%\nx = 1\n'
    assert site.cells_told(text) == "# Head\n\nWords.\n\n```python\nx = 1\n```\n"


def test_every_page_for_a_job_is_listed() -> None:
    index = (DOCS / "how-to" / "index.md").read_text(encoding="utf-8")
    listed = set(re.findall(r"^- \[[^]]+\]\(([\w-]+)\.md\)", index, re.MULTILINE))
    assert listed == {page.stem for page in DOCS.glob("how-to/*.md")} - {"index"}


@pytest.mark.parametrize("page", pages(), ids=name_of)
def test_a_picture_is_there_and_has_words(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    shown = re.findall(r"!\[([^]]*)\]\(([^)]+)\)", text)
    shown += [(alt, src) for src, alt in re.findall(r'<img src="([^"]+)"[^>]*alt="([^"]*)"', text)]
    for alt, source in shown:
        assert len(alt) > 20, source
        assert (page.parent / source).is_file(), source


def test_pictures_are_small_and_made_by_the_script() -> None:
    names = Shown(Path(), *("x" for _ in range(len(Shown.__dataclass_fields__) - 1)))
    photographed = {f"{one.name}.png" for one in shots(names)}
    drawn = {"bench-sheet.png", "bait.svg", "day.svg"}
    maps = {"imports.svg", "imports-workshop.svg"}  # tests.architecture.import_map
    assert {path.name for path in PICTURES.iterdir()} == photographed | drawn | maps
    assert all(path.stat().st_size <= MOST for path in PICTURES.iterdir())
