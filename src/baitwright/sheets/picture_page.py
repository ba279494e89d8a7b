"""One page that holds pictures with their tables, and needs nothing beside it."""

from __future__ import annotations

from collections.abc import Sequence
from xml.etree.ElementTree import Element, SubElement, tostring

from baitwright.sheets.svg import GRID, INK, MIDDLE, PAPER, Picture, Table, printable

_STYLE = f"""
:root {{ color-scheme: light; }}
body {{ margin: 0 auto; max-width: 42rem; padding: 1rem; color: {INK}; background: {PAPER};
  font: 1rem/1.5 system-ui, "Segoe UI", Roboto, sans-serif; overflow-wrap: anywhere; }}
h1 {{ font-size: 1.5rem; line-height: 1.25; }}
h2 {{ font-size: 1.2rem; line-height: 1.3; margin-top: 2rem; }}
svg {{ display: block; width: 100%; height: auto; max-width: 34rem; }}
.table {{ overflow-x: auto; margin: 1rem 0; }}
.table:focus-visible {{ outline: 3px solid {MIDDLE}; }}
table {{ border-collapse: collapse; width: 100%; font-variant-numeric: tabular-nums;
  overflow-wrap: normal; }}
caption {{ text-align: start; font-weight: 600; padding-bottom: 0.25rem; }}
th, td {{ text-align: start; vertical-align: top; padding: 0.25rem 0.75rem 0.25rem 0;
  border-bottom: 1px solid {GRID}; }}
tbody th {{ font-weight: 400; min-width: 4.5rem; }}
td {{ white-space: nowrap; }}
@media print {{
  @page {{ margin: 15mm; }}
  body {{ max-width: none; padding: 0; font-size: 10pt; }}
  h2, caption {{ break-after: avoid; }}
  svg, tr {{ break-inside: avoid; }}
  svg {{ max-width: 12cm; max-height: 24cm; }}
  .table {{ overflow: visible; }}
}}
"""
_ONLY_ITSELF = "default-src 'none'; style-src 'unsafe-inline'"


def picture_page(
    about: str,
    told: str,
    pictures: Sequence[Picture],
    *,
    before: Sequence[str],
    after: Sequence[str],
) -> str:
    """A page of HTML: a few paragraphs, each picture and its tables after it, and a few more.

    Parameters
    ----------
    about: whose pictures they are, as their titles begin.
    told: what the page tells of it.
    pictures: in order, their names unlike each other.
    before, after: paragraphs.
    """
    title = f"{about}: {told}"
    page = Element("html", {"lang": "en"})
    head = SubElement(page, "head")
    SubElement(head, "meta", {"charset": "utf-8"})
    SubElement(head, "meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"})
    SubElement(head, "meta", {"http-equiv": "Content-Security-Policy", "content": _ONLY_ITSELF})
    _said(head, "title", title)
    SubElement(head, "style").text = _STYLE
    main = SubElement(SubElement(page, "body"), "main")
    _said(main, "h1", title)
    for paragraph in before:
        _said(main, "p", paragraph)
    for picture in pictures:
        section = SubElement(main, "section")
        heading = picture.title.removeprefix(f"{about}: ")
        _said(section, "h2", heading[:1].upper() + heading[1:])
        section.append(picture.drawing)
        for at, table in enumerate(picture.tables):
            _table(section, table, key=f"{picture.name}-table-{at}")
    for paragraph in after:
        _said(main, "p", paragraph)
    return f"<!doctype html>\n{tostring(page, encoding='unicode', method='html')}\n"


def _said(parent: Element, kind: str, words: str, **how: str) -> Element:
    made = SubElement(parent, kind, how)
    made.text = printable(words)
    return made


def _table(parent: Element, table: Table, *, key: str) -> None:
    """A real table in a region that the keyboard can scroll where it is wider than a phone."""
    region = {"class": "table", "role": "region", "tabindex": "0", "aria-labelledby": key}
    whole = SubElement(SubElement(parent, "div", region), "table")
    _said(whole, "caption", table.caption, id=key)
    heads = SubElement(SubElement(whole, "thead"), "tr")
    for head in table.heads:
        _said(heads, "th", head, scope="col")
    body = SubElement(whole, "tbody")
    for first, *others in table.rows:
        row = SubElement(body, "tr")
        _said(row, "th", first, scope="row")
        for cell in others:
            _said(row, "td", cell)
