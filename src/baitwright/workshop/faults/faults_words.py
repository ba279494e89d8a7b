"""Why it went wrong, in words and as data."""

from __future__ import annotations

import json
from collections.abc import Iterator

from baitwright.advice.faults import Cause, Fault
from baitwright.quantities import tidy
from baitwright.sheets.wording import count_of, stated
from baitwright.sources import key_said
from baitwright.workshop.faults.faults_asked import Found

STRONG, SOME = 1.0, 0.5
"""From how many standard deviations of the sign on a cause goes far, or some way (judgement)."""
RESTS_ON = (
    "Each number above the sign was moved by its band, or by what the record shows, and the plan "
    "worked out again. What the good ones share is blamed less; sizes are no probabilities."
)


NOTHING = "nothing in this plan can make it so; what was it that you noticed?"


def how_far(one: Cause) -> str:
    """How far a cause goes towards the trouble, in a word or two."""
    return "goes far" if one.size >= STRONG else "some way" if one.size >= SOME else "a little"


def rests_on(one: Cause) -> str:
    """What its being a cause rests on."""
    kind = {
        "computed": "worked out",
        "measured": "in your record",
        "practice": "common practice, no source",
        "judgement": "judgement",
    }[one.evidence.value]
    return f"{kind}; the program's own assumption" if one.is_model else kind


def held_against(found: Found) -> str:
    """What the batch was held against."""
    good = found.same.good
    if not good:
        return "there is no good one of this recipe to hold it against yet"
    return f"held against {count_of(len(good), 'good one', 'good ones')} to {good[-1]}"


def no_need(fault: Fault) -> str:
    """Why a symptom cannot be one of this plan."""
    return f"it takes {fault.missing}, and this plan has none"


def signs_told(fault: Fault) -> tuple[str, ...]:
    """What it hangs on, as planned."""
    ways = {"up": "too high", "down": "too low"}
    return tuple(
        f"{one.quantity.label}, planned {stated(one.quantity)}: {ways[one.goes]} would show so"
        for one in fault.signs
    )


def fault_text(found: Found, *, most: int = 8) -> str:
    """The causes, ranked, each with what speaks for it and its test."""
    return "\n".join(_lines(found, most))


def _lines(found: Found, most: int) -> Iterator[str]:
    fault = found.fault
    yield f"batch {found.batch}, {found.about}: {fault.symptom.label}"
    if fault.missing:
        yield f"  {no_need(fault)}"
        return
    yield f"  {held_against(found)}"
    yield from (f"  it hangs on {line}" for line in signs_told(fault))
    if not fault.causes:
        yield f"  {NOTHING}"
    for at, one in enumerate(fault.causes[:most], start=1):
        yield f"{at}. {one.what} ({how_far(one)}; {rests_on(one)})"
        yield from (f"   because {ground.text}" for ground in one.grounds)
        if one.moves:
            yield f"   moves {one.moves}"
        if one.note:
            yield f"   {one.note}."
        yield f"   way: {' > '.join(one.way)}"
        yield f"   test: {one.test}" if one.test else "   test: none but another batch"
    if fault.tells is not None:
        yield f"to tell them apart: {tells_text(fault)}"
    yield from (f"! {one.text} [{key_said(one.source)}]" for one in found.care)
    yield RESTS_ON


def tells_text(fault: Fault) -> str:
    """The reading that tells the first two causes apart."""
    told = fault.tells
    if told is None:
        return ""
    (first, one), (second, other) = told.first, told.second
    return f"{told.reading}: {one} points to {first}; {other} to {second}"


def fault_json(found: Found) -> str:
    """The same for programs."""
    fault = found.fault
    told = {
        "batch": found.batch,
        "about": found.about,
        "symptom": fault.symptom.id,
        "missing": fault.missing,
        "good": list(found.same.good),
        "signs": [
            {"label": one.quantity.label, "planned": stated(one.quantity), "wrong": one.goes}
            for one in fault.signs
        ],
        "causes": [_cause(one) for one in fault.causes],
        "tells_apart": None if fault.tells is None else tells_text(fault),
        "cautions": [{"text": one.text, "source": one.source} for one in found.care],
    }
    return json.dumps(told, ensure_ascii=False, indent=2)


def _cause(one: Cause) -> dict[str, object]:
    return {
        "what": one.what,
        "size": float(tidy(one.size)),
        "moves": one.moves,
        "way": list(one.way),
        "because": [{"speaks": str(each.speaks), "text": each.text} for each in one.grounds],
        "test": one.test,
        "care": one.care,
        "evidence": str(one.evidence),
        "is_assumption": one.is_model,
        "note": one.note,
    }
