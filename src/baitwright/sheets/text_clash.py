"""Wishes that clash, told as a maker would say it."""

from __future__ import annotations

from baitwright.blending.clash import Clash, Reach
from baitwright.blending.rows import HELD, Row, RowKind, Sense, told
from baitwright.blending.rules import AtMost, Rule
from baitwright.sheets.layout import bullet, paragraph

WAYS = "One of these has to give way; all else as you wish it"


def clash_text(clash: Clash) -> list[str]:
    """What clashes in one sentence, then what each of it could come to."""
    lines = paragraph(clash_sentence(clash))
    if gives := ways_told(clash):
        lines += ["", f"  {WAYS}:"]
        lines += [line for said in gives for line in bullet(said)]
    return lines


def ways_told(clash: Clash) -> list[str]:
    """What each of several wishes could come to; nothing where there is only one."""
    return [_gives(reach) for reach in clash.reaches] if len(clash.reaches) > 1 else []


def clash_sentence(clash: Clash) -> str:
    """What clashes, and the most that can be had of the first of it."""
    wishes = [one for one in clash.wishes if isinstance(one, Row) and one.kind not in HELD]
    held = [one for one in clash.wishes if not isinstance(one, Row) or one.kind in HELD]
    first, others = (wishes, held) if wishes else (held, [])
    named = _listed([_wish(one) for one in first])
    verb = "clash" if len(first) > 1 else "cannot be had"
    once = f" once {_listed([_held(one) for one in others])}" if others else ""
    return f"{named} {verb}{once}{_most_of(clash)}."


def _most_of(clash: Clash) -> str:
    """What can be had of the first wish that could give way."""
    for reach in clash.reaches:
        row = reach.wish
        if isinstance(row, Row) and row.kind not in HELD and reach.value is not None:
            return f": {_extreme(row)} you can have is {told(reach.value, row.unit)}"
    return ""


def _extreme(row: Row) -> str:
    if row.sense is Sense.EXACTLY:
        return f"the nearest {row.about}"
    return f"the {'most' if row.sense is Sense.AT_LEAST else 'least'} {row.about}"


def _wish(one: Row | Rule) -> str:
    if not isinstance(one, Row):
        return one.name
    limit = told(one.asked, one.unit)
    if one.kind in HELD:
        return one.name
    if one.kind in (RowKind.PRICE, RowKind.DENSITY, RowKind.RATIO):
        return f"{one.about} of {one.sense} {limit}"
    if one.sense is Sense.AT_LEAST:
        return f"{limit} {one.about}"
    return f"{one.sense} {limit} {one.about}"


def _held(one: Row | Rule) -> str:
    if not isinstance(one, Row):
        if isinstance(one, AtMost):
            return f"there are {one.name}"
        return f"it must be {one.name}"
    limit = told(one.asked, one.unit)
    if one.kind is RowKind.BAN:
        return f"there is {one.name}"
    if one.kind is RowKind.WHOLE:
        return one.name
    words = {
        Sense.AT_MOST: f"held to {limit}",
        Sense.AT_LEAST: f"kept at {limit} or more",
        Sense.EXACTLY: f"fixed at {limit}",
    }
    return f"{one.about} is {words[one.sense]}"


def _gives(reach: Reach) -> str:
    one = reach.wish
    if not reach.helps:
        return f"{one.name}: giving way alone does not help"
    if reach.value is None:
        return f"{one.name}: left out"
    if isinstance(one, Row):
        return f"{one.name}: {told(reach.value, one.unit)} can be had"
    return f"{one.name}: {reach.value:.0f} would do"


def _listed(words: list[str]) -> str:
    """Words in a row: a, b and c."""
    *before, last = words
    return f"{', '.join(before)} and {last}" if before else last
