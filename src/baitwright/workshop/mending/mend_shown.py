"""A mended mix as page and screen show it: what to weigh, what changes, what to roll and learn."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.blending.rows import Sense, apart
from baitwright.blending.search import distance
from baitwright.quantities import show, tidy
from baitwright.sheets.text_clash import WAYS, clash_sentence, ways_told
from baitwright.sheets.text_design import checked_told, share_told, steps_told
from baitwright.workshop.mending.mend_changes import changes_part, left_parts
from baitwright.workshop.mending.mend_learned import learned_parts
from baitwright.workshop.mending.mend_made import Mended, StandIn
from baitwright.workshop.mending.mend_rolls import roll_parts
from baitwright.workshop.told.answer_parts import Grid, Part, said

_SEEN = 1e-6
_SIDES = {Sense.AT_LEAST: "below", Sense.AT_MOST: "above"}


def mended_shown(told: Mended) -> tuple[Part, ...]:
    """Everything of a mended mix, in the order in which it is needed."""
    if told.made is None:
        return tuple(_clash(told))
    made = told.made
    return (
        _mix(told, made),
        changes_part(made),
        *left_parts(made),
        *roll_parts(made),
        *learned_parts(made, old=told.asked.old.told.base.name, new=told.asked.name),
    )


def _clash(told: Mended) -> Iterator[Part]:
    assert told.clash is not None
    yield Part("No mix keeps every wish any longer", lines=(clash_sentence(told.clash),))
    if ways := ways_told(told.clash):
        yield Part("", lines=(f"{WAYS}.",), points=tuple(ways))


def happened(told: Mended) -> str:
    """What has happened to the mix, in a line."""
    gone = [f"without {one.name}" for one in told.asked.gone]
    other = [f"with what the new bag of {one.name} says" for one, _ in told.asked.changed]
    return f"{told.asked.old.told.base.name} {', '.join((*gone, *other))}"


def _mix(told: Mended, made: StandIn) -> Part:
    present = told.asked.wishes.present or {}
    candidates = {one.id: one for one in (*told.asked.gone, *told.asked.wishes.candidates)}
    now = {name: float(share) for name, share in made.weighed.shares.items()}
    names = sorted(dict.fromkeys((*present, *now)), key=lambda name: -now.get(name, 0.0))
    rows = tuple(
        (
            said(candidates[name].name),
            said(_share(present.get(name, 0.0))),
            said(share_told(made.weighed.shares[name]) if name in now else "none"),
            said(tidy(candidates[name].price or 0.0, 4) if candidates[name].price else "-"),
        )
        for name in names
    )
    far = show(distance(present, now), "%")
    lines = [
        f"{far} of the mix is exchanged. It is the nearest by shares and by every figure below; "
        "what it tastes and smells of, and its colour, no figure tells."
    ]
    if told.asked.likeness.untold:
        missing = ", ".join(told.asked.likeness.untold)
        lines.append(f"Not compared, as nobody tells it of every part: {missing}.")
    return Part(
        f"{told.asked.name}: {happened(told)}",
        lines=tuple(lines),
        grids=(Grid("Of the base", ("", "was", "is", "per kg"), rows),),
        points=(*unlike(told, made), *_checked(made)),
    )


def _share(share: float) -> str:
    return show(share, "%") if share else "none"


def unlike(told: Mended, made: StandIn) -> Iterator[str]:
    """What of the old mix could not be kept so that nobody would notice."""
    shares = {name: float(share) for name, share in made.weighed.shares.items()}
    for row in told.asked.likeness.unnoticed:
        value = row.value(shares)
        by = 0.0 if value is None else row.miss(value)
        if by > _SEEN * abs(row.asked):
            about, side = row.about.removesuffix(", as it was"), _SIDES[row.sense]
            yield f"It may be noticed: {about} is {apart(by, row.unit)} {side} what goes unnoticed."


def _checked(made: StandIn) -> Iterator[str]:
    """What of the hard wishes has to be minded."""
    for sign, text in checked_told(made.found, made.weighed):
        if "as it was" not in text:
            yield text if sign == "-" else f"Mind: {text}"
    yield from steps_told(made.weighed)
