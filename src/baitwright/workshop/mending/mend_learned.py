"""Which of the maker's own factors a mended mix breaks, and from which batch on."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.learning.restart import Calibration, Fate
from baitwright.sheets.wording import count_of
from baitwright.terms.factors import Factor
from baitwright.workshop.mending.mend_made import StandIn
from baitwright.workshop.told.answer_parts import Grid, Part, said


def learned_parts(made: StandIn, *, old: str, new: str) -> Iterator[Part]:
    """What of the calibration stands, and what begins anew with the new mix."""
    rows = tuple(
        (said(one.label, _why(one)), said(_known(one.before)), said(_fate(one)))
        for one in made.calibrations
        if one.fate is Fate.BEGINS_ANEW or one.before.batches
    )
    yield Part(
        "What has to be learned anew",
        lines=tuple(_from(made, old=old, new=new)),
        grids=(Grid("Your own factors", ("", "as learned", "now"), rows),),
        points=tuple(_readings(made)),
    )


def _known(factor: Factor) -> str:
    if not factor.batches:
        return "no batch of yours"
    whose = f" of {factor.about}" if factor.about else ", all bases"
    return f"{factor.median:.2f} from {count_of(factor.batches, 'batch', 'batches')}{whose}"


def _fate(one: Calibration) -> str:
    if one.fate is Fate.BEGINS_ANEW and one.after is not None:
        return f"begins anew at {one.after.median:.2f}"
    return str(one.fate)


def _why(one: Calibration) -> str:
    if one.moved:
        return f"moved: {', '.join(one.moved)}"
    return "learned of the old mix alone" if one.fate is Fate.BEGINS_ANEW else "nothing of it moved"


def _from(made: StandIn, *, old: str, new: str) -> Iterator[str]:
    if old == new:
        yield (
            f"{new} keeps its name: from the first batch of the new mix on, no earlier batch "
            "counts for what begins anew. Record what is still open of the old mix first; "
            "afterwards its readings would count for the new one."
        )
    else:
        yield (
            f"From the first batch of {new} on. It has a name of its own, since factors are kept "
            f"by the name of the base: {old} keeps its own for what is left of it and for batches "
            "still to be recorded, and none of them counts for the new mix."
        )
    yield (
        "What begins anew keeps its middle for a first guess, since the mix is near the old one, "
        "and is as unsure as before any batch [judgement]."
    )


def _readings(made: StandIn) -> Iterator[str]:
    for one in made.calibrations:
        if one.fate is Fate.BEGINS_ANEW:
            yield f"{one.label}: learned again from {one.measurement}"
    learned = (one for one in made.calibrations if one.before.batches)
    if any(one.fate is Fate.WATCHED for one in learned):
        yield (
            "What stays and is watched is of your whole kitchen, learned over all bases: if its "
            "reading of the first batch lies outside the band of 19 in 20, let it begin anew too."
        )
