"""An answer on paper: the maker's own words on top, what is said with its grade, what to mind."""

from __future__ import annotations

from dataclasses import asdict
from datetime import datetime
from pathlib import Path
from typing import Any

from baitwright.advice.answers import Advice
from baitwright.sheets.advice_parts import (
    CARES,
    GRADES,
    RESTS_ON,
    TITLE,
    TO_NARROW,
    assumed,
    cares,
    groups,
    made_with,
    mark,
)
from baitwright.sheets.breakable import breakable
from baitwright.sheets.list_sheet import Paper
from baitwright.sheets.typeset import pdf_of

_TEMPLATE = Path(__file__).with_name("advice_sheet.typ")


def advice_pages(advice: Advice, paper: Paper) -> bytes:
    """The answer as a PDF, tagged for screen readers; black on white.

    The same answer gives the same bytes: the file is dated by the answer.
    """
    moment = datetime.fromisoformat(f"{advice.day}T12:00:00")
    return pdf_of(_TEMPLATE, _data(advice, paper), moment=moment)


def _data(advice: Advice, paper: Paper) -> dict[str, Any]:
    told = {
        "title": TITLE,
        "label": advice.label,
        "question": advice.question,
        "told": [list(pair) for pair in advice.told],
        "above": [one for one in (advice.opening, advice.words) if one],
        "groups": [asdict(one) for one in groups(advice)],
        "asks": {"heading": TO_NARROW, "lines": list(advice.found.asks)},
        "rests": {"heading": RESTS_ON, "rows": [asdict(one) for one in assumed(advice)]},
        "cares": {"heading": CARES, "lines": list(cares(advice))},
        "closing": advice.closing,
        "grades": GRADES if advice.found.statements else "",
        "made": made_with(advice),
    }
    return {**_printed(told), "mark": mark(advice), "paper": paper.value}


def _printed(told: Any) -> Any:
    """The same data with places to break in its longest words."""
    if isinstance(told, str):
        return breakable(told, 24)
    if isinstance(told, dict):
        return {key: _printed(value) for key, value in told.items()}
    return [_printed(one) for one in told] if isinstance(told, list | tuple) else told
