"""What a mended mix changes, as parts of an answer."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.blending.moved import Moved, moves
from baitwright.sheets.wording import Figure, banded, figure, unit_word
from baitwright.uncertainty.bands import band_of, median_of
from baitwright.workshop.mending.mend_made import StandIn
from baitwright.workshop.told.answer_parts import Grid, Part, notes_of, said

_NOTHING = 1e-9
_MOST_LEFT = 6


def change_told(one: Moved) -> Figure:
    """How far a number has moved, in its own digits and with its sign."""
    if one.by is None or one.after is None:
        return said("")
    number = figure(one.after).number
    places = len(number.partition(".")[2])
    band = band_of(one.by)
    if abs(band.median) < _NOTHING * max(1.0, abs(median_of(one.after))):
        return Figure(
            "0",
            unit_word(one.by.shown),
            banded(band, one.by.shown, signed=True, places=places).band,
        )
    told = banded(band, one.by.shown, signed=True, places=places)
    is_more = not told.number.startswith(("-", "+", "under")) and float(told.number) > 0.0
    return Figure(f"+{told.number}" if is_more else told.number, told.unit, told.band)


def changes_part(made: StandIn) -> Part:
    """Every number before and after, allergens, cost, and remarks that are new."""
    rows = tuple(
        (
            said(one.label),
            *(
                said("not known") if each is None else figure(each)
                for each in (one.before, one.after)
            ),
            change_told(one),
        )
        for one in made.moved
    )
    return Part(
        "What changes",
        grids=(Grid("Middle, and 8 in 10 lots", ("", "before", "after", "change"), rows),),
        points=(*_allergens(made), *_unpriced(made), *_remarks(made)),
    )


def _allergens(made: StandIn) -> Iterator[str]:
    old, new = made.before.made.contains, made.after.made.contains
    for word, first, then in (("now contains", old, new), ("no longer contains", new, old)):
        names = {one.name for one in then.certain} - {one.name for one in first.certain}
        if names:
            yield f"Allergens: it {word} {', '.join(sorted(names))}. Its labels have to say so."
    maybe = {one.name for one in new.possible} - {one.name for one in (*old.possible, *old.certain)}
    if maybe:
        yield f"Allergens: it now may contain {', '.join(sorted(maybe))}."
    if not new.known:
        yield "Allergens of a new part are not known: read its label."
    elif (old.certain, old.possible) == (new.certain, new.possible):
        yield "Allergens: as before."


def _unpriced(made: StandIn) -> Iterator[str]:
    if made.after.made.cost.unpriced:
        yield f"Its cost is not known: no price of {'; '.join(made.after.made.cost.unpriced)}."


def _remarks(made: StandIn) -> Iterator[str]:
    """Remarks on the new mix that were none of the old one's."""
    old = {one.text for one in made.before.remarks}
    yield from notes_of(one for one in made.after.remarks if one.text not in old)


def left_parts(made: StandIn) -> Iterator[Part]:
    """What the old shares would be with what the new bags say."""
    if made.left is None:
        return
    moved = [one for one in moves(made.before.made, made.left.made) if _is_told(one)]
    moved.sort(key=lambda one: -abs(_relative(one)))
    rows = tuple(
        (
            said(one.label),
            *(figure(each) for each in (one.before, one.after) if each),
            change_told(one),
        )
        for one in moved[:_MOST_LEFT]
    )
    if rows:
        yield Part(
            "If nothing were done",
            lines=("The old shares, with what the new bag says:",),
            grids=(Grid("What would move most", ("", "before", "after", "change"), rows),),
        )


def _is_told(one: Moved) -> bool:
    return one.by is not None and one.label != "dry mix per egg" and abs(_relative(one)) > 1e-3


def _relative(one: Moved) -> float:
    assert one.by is not None and one.before is not None
    return median_of(one.by) / (median_of(one.before) or 1.0)
