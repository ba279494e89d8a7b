"""The pictures of a soak, and one page that holds them all with their tables."""

from __future__ import annotations

from xml.etree.ElementTree import Element, SubElement, tostring

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.soak import SoakStage
from baitwright.batch.soak_table import SoakTable, first_night
from baitwright.quantities import show
from baitwright.sheets.picture_bait import bait_picture
from baitwright.sheets.picture_day import day_picture
from baitwright.sheets.picture_drying import drying_picture
from baitwright.sheets.picture_flavour import flavour_picture
from baitwright.sheets.picture_front import front_picture
from baitwright.sheets.picture_lift import lift_picture
from baitwright.sheets.picture_water import water_picture
from baitwright.sheets.svg import GRID, INK, MIDDLE, PAPER, Picture, Table, printable
from baitwright.sheets.text_soak import INVENTED, RESTS_ON, warmth

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
tbody th {{ font-weight: 400; }}
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


def soak_pictures(made: SoakTable) -> tuple[Picture, ...]:
    """The bait as planned: cut open after a night, its lift and its flavours over all the hours."""
    name = made.recipe.name
    bait = bait_picture(made.plan, first_night(made), name=name)
    return (bait, *_of_the_night(made.plan, made.first.stage))


def plan_pictures(plan: BatchPlan) -> tuple[Picture, ...]:
    """A plan from its day to the end of its own night, in the order of making."""
    name = plan.request.recipe.name
    return (
        day_picture(plan, name=name),
        front_picture(plan, name=name),
        drying_picture(plan, name=name),
        bait_picture(plan, plan.soak, name=name),
        *_of_the_night(plan, plan.soak),
    )


def _of_the_night(plan: BatchPlan, stage: SoakStage) -> tuple[Picture, ...]:
    name = plan.request.recipe.name
    return (
        lift_picture(stage, plan.water.taken, name=name),
        flavour_picture(stage, name=name),
        water_picture(stage, name=name),
    )


def soak_page(made: SoakTable, pictures: tuple[Picture, ...]) -> str:
    """One page of HTML that needs nothing beside it: each picture, and its tables after it.

    Parameters
    ----------
    made: the soak.
    pictures: of that soak.
    """
    title = f"{made.recipe.name}: in the lake for {show(made.time, 'h')}"
    page = Element("html", {"lang": "en"})
    head = SubElement(page, "head")
    SubElement(head, "meta", {"charset": "utf-8"})
    SubElement(head, "meta", {"name": "viewport", "content": "width=device-width, initial-scale=1"})
    SubElement(head, "meta", {"http-equiv": "Content-Security-Policy", "content": _ONLY_ITSELF})
    _said(head, "title", title)
    SubElement(head, "style").text = _STYLE
    main = SubElement(SubElement(page, "body"), "main")
    _said(main, "h1", title)
    if made.recipe.invented:
        _said(main, "p", INVENTED)
    _said(main, "p", f"The bait as planned, in a lake at {warmth(made.first.stage)}.")
    for picture in pictures:
        section = SubElement(main, "section")
        heading = picture.title.removeprefix(f"{made.recipe.name}: ")
        _said(section, "h2", heading[:1].upper() + heading[1:])
        section.append(picture.drawing)
        for at, table in enumerate(picture.tables):
            _table(section, table, key=f"{picture.name}-table-{at}")
    _said(main, "p", RESTS_ON)
    for note in made.notes:
        _said(main, "p", note.text)
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
