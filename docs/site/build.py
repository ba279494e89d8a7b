"""The documents as a site in ``build/site``: ``python make.py docs``.

What a reader gets is what lies in ``docs``, with a page for each module of the program made of its
docstrings. It reads from a folder as well as from a server, fetches nothing, and is refused where a
link leads nowhere or anything warns.
"""

from __future__ import annotations

import re
import shutil
import sys
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from urllib.parse import unquote, urlsplit

from docstrings import floor_page
from sphinx.cmd.build import main as sphinx

ROOT = Path(__file__).resolve().parents[2]
FLOORS = (
    *("terms", "physics", "uncertainty", "materials", "recipe", "blending", "ledger", "batch"),
    *("learning", "advice", "schedule"),
)
"""Those that compute: whoever builds on the program calls them; doors and store are its own."""
PACKAGE = ROOT / "src" / "baitwright"
DOCS, EXAMPLES = ROOT / "docs", ROOT / "examples"
SOURCE, SITE = ROOT / "build" / "site-source", ROOT / "build" / "site"


def main() -> int:
    """Build the site anew; 1 where anything warned or a link leads nowhere."""
    for folder in (SOURCE, SITE):
        shutil.rmtree(folder, ignore_errors=True)
    gather()
    docs, site = str(SOURCE / "docs"), str(SITE)
    options = ["-q", "-W", "--keep-going", "-b", "html", "-c", str(DOCS / "site")]
    if sphinx([*options, "-d", str(SOURCE / "read"), docs, site]):
        return 1
    lost = sorted(set(lost_links(SITE)))
    for one in lost:
        print(one, file=sys.stderr)
    pages = len(list(SITE.rglob("*.html")))
    print(f"{pages} pages in build/site" if not lost else f"{len(lost)} links lead nowhere")
    return 1 if lost else 0


def gather() -> None:
    """Lay out what is built: the documents, the examples they link to, and a page a module."""
    shutil.copytree(DOCS, SOURCE / "docs", ignore=shutil.ignore_patterns("site", "*.py"))
    shutil.copytree(EXAMPLES, SOURCE / "examples")
    for module in PACKAGE.rglob("*.py"):
        told = SOURCE / "code" / "code" / f"{module.relative_to(PACKAGE)}.txt"  # shown, not run
        told.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(module, told)
    for page in (SOURCE / "docs").rglob("*.md"):
        page.write_text(for_the_site(page), encoding="utf-8")
    (SOURCE / "docs" / "season.md").write_text(
        cells_told((EXAMPLES / "season.py").read_text(encoding="utf-8")), encoding="utf-8"
    )
    for floor in (*FLOORS, "quantities", "sources"):
        write(f"api/{floor}.md", floor_page(PACKAGE / floor))
    index = SOURCE / "docs" / "api" / "index.md"
    told = index.read_text(encoding="utf-8")
    index.write_text(told + toctree([*FLOORS, "quantities", "sources"]), encoding="utf-8")


def for_the_site(page: Path) -> str:
    """A page whose links to modules lead to their pages here."""
    text = page.read_text(encoding="utf-8")
    if page.name == "numbers.md":
        text = re.sub(r"\]\(\.\./src/baitwright/(\w+)/(\w+)\.py\)", r"](#\1.\2)", text)
    if page.parent.name == "api":
        text = re.sub(r"`((?!baitwright)\w+\.\w+)`", r"[`\1`](#\1)", text)
    return re.sub(r'<a id="([\w-]+)"></a>`\1`', r"[`\1`]{#\1}", text)


def toctree(names: list[str]) -> str:
    """A list of pages, as the builder reads it."""
    return "\n```{toctree}\n:maxdepth: 1\n\n" + "\n".join(names) + "\n```\n"


def cells_told(text: str) -> str:
    """A file of `# %%` cells as a page: words of a `[markdown]` cell as words, the rest as code."""
    parts = []
    for cell in re.split(r"^# %%", text, flags=re.MULTILINE)[1:]:
        head, _, body = cell.partition("\n")
        if "[markdown]" in head:
            parts.append(re.sub(r"^# ?", "", body.strip(), flags=re.MULTILINE))
        else:
            parts.append(f"```python\n{body.strip()}\n```")
    return "\n\n".join(parts) + "\n"


def write(name: str, text: str) -> None:
    """A page that is made here."""
    path = SOURCE / "docs" / name
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


class _Page(HTMLParser):
    """What a page links to and fetches, and what in it can be linked to."""

    def __init__(self, path: Path) -> None:
        super().__init__()
        self.links: list[str] = []
        self.fetched: list[str] = []
        self.ids: set[str] = set()
        self.feed(path.read_text(encoding="utf-8"))

    def has(self, place: str) -> bool:
        """Whether a link may lead to this place of the page."""
        return unquote(place) in self.ids

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note what a tag leads to, and its name."""
        told = dict(attrs)
        self.ids |= {one for one in (told.get("id"), told.get("name")) if one}
        (self.links if tag == "a" else self.fetched).extend(
            one for one in (told.get("href"), told.get("src")) if one
        )


def lost_links(site: Path) -> Iterator[str]:
    """Every link that leads nowhere in the site, and whatever it would fetch from elsewhere."""
    pages = {path: _Page(path) for path in site.rglob("*.html")}
    for path, page in pages.items():
        for link in (*page.links, *page.fetched):
            told = urlsplit(link)
            if told.scheme or told.netloc:
                if link in page.fetched:
                    yield f"{path.relative_to(site)} fetches {link}"
                continue
            target = (path.parent / unquote(told.path)).resolve() if told.path else path
            if not target.is_file():
                yield f"{path.relative_to(site)} links to {link}, which is not there"
            elif target in pages and told.fragment and not pages[target].has(told.fragment):
                yield f"{path.relative_to(site)} links to {link}, which has no such place"


if __name__ == "__main__":
    sys.exit(main())
