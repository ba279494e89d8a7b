"""How the documents become a site: `python make.py docs`."""

from __future__ import annotations

from baitwright import __version__

project = "Baitwright"
author = copyright = "The Baitwright makers"
version = release = __version__
extensions = ["myst_parser"]

html_theme = "workbench"
html_theme_path = ["."]
html_title = "Baitwright"
html_show_sphinx = False
html_show_copyright = False
html_copy_source = False
html_use_index = False
html_extra_path = ["../../build/site-source/code"]
html_last_updated_fmt = None
html_sidebars = {"**": ["searchfield.html", "rooms.html"]}
pygments_style = "default"
highlight_language = "none"
smartquotes = False  # what is typed is shown as it is typed

myst_heading_anchors = 4
myst_enable_extensions = ["attrs_inline"]
suppress_warnings = ["misc.highlighting_failure"]
exclude_patterns = ["site"]
