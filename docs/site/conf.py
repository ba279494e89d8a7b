"""How the documents become a site: `python make.py docs`."""

from __future__ import annotations

import re
from typing import Any

from baitwright import __version__

project = "Baitwright"
author = copyright = "The Baitwright makers"
version = release = __version__
extensions = ["myst_parser", "sphinx.ext.autodoc", "sphinx.ext.viewcode"]

html_theme = "workbench"
html_theme_path = ["."]
html_title = "Baitwright"
html_show_sphinx = False
html_show_copyright = False
html_copy_source = False
html_use_index = True
html_last_updated_fmt = None
html_sidebars = {"[!_]**": ["searchfield.html", "rooms.html"], "_modules/**": []}
pygments_style = "default"
highlight_language = "none"

myst_heading_anchors = 4
myst_enable_extensions = ["attrs_inline"]
autodoc_member_order = "bysource"
autodoc_typehints = "signature"
autodoc_preserve_defaults = True  # a default is told as it is written, and not by where it lies
suppress_warnings = ["misc.highlighting_failure"]
default_role = "literal"  # one backtick is code, in docstrings as in these pages
exclude_patterns = ["site"]

_UNDERLINE = re.compile(r"^-{3,}$")


def as_read(_app: Any, _what: str, _name: str, _one: Any, _options: Any, lines: list[str]) -> None:
    """Our docstrings as a page reads them: underlined words are headings, rows below them items."""
    made: list[str] = []
    is_list = False
    for line in lines:
        if _UNDERLINE.match(line.strip()) and made:
            heading = made.pop()
            made += ["", f"**{heading.strip()}**", ""]
            is_list = True
        elif is_list and re.match(r"\S", line):
            made.append(f"* {line}")
        elif is_list and line.strip():
            made.append(f"  {line.strip()}")
        else:
            made.append(line)
    lines[:] = made


def setup(app: Any) -> None:
    """Read docstrings our way."""
    app.connect("autodoc-process-docstring", as_read)
