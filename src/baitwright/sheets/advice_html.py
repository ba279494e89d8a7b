"""An answer as HTML to mail: one file, styles in its own tags, nothing fetched from anywhere."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from html import escape

from baitwright.advice.answers import Advice
from baitwright.sheets.advice_parts import (
    CARES,
    GRADES,
    RESTS_ON,
    TITLE,
    TO_NARROW,
    Row,
    assumed,
    cares,
    groups,
    made_with,
    mark,
)

BODY = (
    "margin:0 auto;padding:16px;max-width:640px;font:16px/1.45 Georgia,serif;color:#111;"
    "background:#fff"
)
_HEADING = "font-size:18px;margin:22px 0 6px"
_CELL = "padding:5px 10px 5px 0;border-bottom:1px solid #bbb;vertical-align:top;text-align:left"
_SMALL = "color:#444;font-size:13px"
_BOX = "border:2px solid #111;padding:2px 14px 10px;margin:20px 0"


def advice_html(advice: Advice) -> str:
    """The answer as a whole page."""
    return whole(f"{TITLE}, {mark(advice)}", advice_body(advice, level=1))


def whole(title: str, body: str) -> str:
    """A page of its own: no script, no picture, no address anywhere in it."""
    return (
        '<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; '
        "style-src 'unsafe-inline'\">"
        f'<title>{escape(title)}</title></head>\n<body style="{BODY}">\n{body}\n</body></html>\n'
    )


def advice_body(advice: Advice, *, level: int) -> str:
    """The parts of an answer, its title at a level of heading."""
    return "\n".join(_parts(advice, level))


def _parts(advice: Advice, level: int) -> Iterator[str]:
    title = f"{TITLE}: {advice.label}" if advice.label else TITLE
    yield f'<h{level} style="font-size:26px;margin:0 0 10px">{escape(title)}</h{level}>'
    told = "".join(f"<br>{escape(entry)}: {escape(words)}" for entry, words in advice.told)
    quoted = "margin:12px 0;padding:4px 12px;border-left:3px solid #111"
    yield f'<blockquote style="{quoted}"><em>{_lined(advice.question)}</em>{told}</blockquote>'
    yield from (f"<p>{_lined(one)}</p>" for one in (advice.opening, advice.words) if one)
    for group in groups(advice):
        if group.about:
            yield heading(group.about, level + 1)
        yield _table(group.rows)
    yield from points(TO_NARROW, advice.found.asks, level + 1)
    minded = "".join(points(CARES, cares(advice), level + 1))
    if minded:
        yield f'<div style="{_BOX}">{minded}</div>'
    if advice.closing:
        yield f"<p>{_lined(advice.closing)}</p>"
    rows = assumed(advice)
    if rows:
        yield heading(RESTS_ON, level + 1) + _table(rows)
    grades = f"{escape(GRADES)}<br>" if advice.found.statements else ""
    yield f'<p style="{_SMALL}">{grades}{escape(mark(advice))}. {escape(made_with(advice))}</p>'


def heading(words: str, level: int) -> str:
    """A heading below the title."""
    return f'<h{level} style="{_HEADING}">{escape(words)}</h{level}>'


def points(head: str, lines: Iterable[str], level: int) -> Iterator[str]:
    """A list under its heading; nothing of none."""
    told = "".join(f'<li style="margin:4px 0">{escape(one)}</li>' for one in lines)
    if told:
        yield f'{heading(head, level)}<ul style="padding-left:20px;margin:0">{told}</ul>'


def table(rows: Iterable[Iterable[str]]) -> str:
    """Rows of cells that are HTML already; the first of each names it."""
    return (
        '<table style="border-collapse:collapse;width:100%"><tbody>'
        + "".join(f"<tr>{_cells(row)}</tr>" for row in rows)
        + "</tbody></table>"
    )


def _cells(row: Iterable[str]) -> str:
    first, *others = row
    named = f'<th scope="row" style="{_CELL};font-weight:normal">{first}</th>'
    return named + "".join(f'<td style="{_CELL}">{one}</td>' for one in others)


def _table(rows: Iterable[Row]) -> str:
    return table((escape(one.head), _said(one), _rests(one)) for one in rows)


def _said(one: Row) -> str:
    return f"<strong>{escape(one.text)}</strong>" if one.is_first else escape(one.text)


def _rests(one: Row) -> str:
    on = f'<br><span style="{_SMALL}">{escape(one.rests_on)}</span>' if one.rests_on else ""
    return f'<span style="font-size:14px">{escape(one.grade)}</span>{on}'


def _lined(words: str) -> str:
    return escape(words).replace("\n", "<br>")
