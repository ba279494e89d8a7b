"""What readings and tests teach, as a page shows it: score, proof, and what they move."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from baitwright.learning.bottle import Shares
from baitwright.learning.propose import Proposal, TellsLittle
from baitwright.quantities import show, tidy
from baitwright.sheets.picture_score import score_picture
from baitwright.sheets.wording import Figure, banded
from baitwright.workshop.readings.bottle_test import Bottled
from baitwright.workshop.readings.bottle_words import caveats, proof_words, soaked_words
from baitwright.workshop.readings.changed_bands import Change
from baitwright.workshop.readings.record_batch import Recorded
from baitwright.workshop.readings.record_words import band_words, inside_of, width_words
from baitwright.workshop.told.answer_parts import Grid, Large, Part, said

_NOTHING_KEPT = "Nothing is kept of it here: your factors stay as they are."


def score_shown(recorded: Recorded) -> tuple[Part, ...]:
    """Each reading on the strip of its band, and what your own factors would become."""
    lesson, name = recorded.lesson, recorded.record.plan_name
    inside, of = inside_of(lesson)
    scores = Large("Inside the band that should hold four of five", Figure(f"{inside}", f"of {of}"))
    drawn = score_picture(lesson.scores, title=f"{name}: predicted and weighed").for_page("")
    outside = tuple(
        f"{one.label}: outside the band of 19 in 20; weigh again if you can."
        for one in lesson.scores
        if one.inside == 0
    )
    known = tuple(f"{one.label}: {one.words}" for one in lesson.scores if one.band.is_known)
    return (
        Part(name, large=(scores,), pictures=(drawn,) if of else (), points=(*outside, *known)),
        _proposed(lesson.proposals, lesson.tells_little),
        *_changed("The same batch planned with these factors", recorded.changes),
    )


def bottle_shown(tested: Bottled) -> tuple[Part, ...]:
    """What the sample proves, the tray's lift before and after it, and what it moves."""
    lesson = tested.lesson
    water = show(tested.test.water_temperature, "C")
    proved = tuple(line.strip() for one in lesson.proved for line in proof_words(one))
    soaked = () if lesson.soaked is None else tuple(soaked_words(lesson.soaked))
    return (
        Part(
            f"{tested.test.plan_name}, in water of {water}: proved, with 95 % confidence",
            points=proved,
        ),
        Part("This tray in the lake", grids=(_tray(tested),), points=tuple(caveats(tested))),
        *((Part("Water taken up in the test", points=soaked),) if soaked else ()),
        _proposed(lesson.proposals, lesson.tells_little),
        *_changed("The next batch planned with these factors", tested.changes),
    )


def _tray(tested: Bottled) -> Grid:
    lesson = tested.lesson
    was, now = lesson.before, lesson.after
    lifts = (banded(one.lift, "g", signed=True) for one in (was, now))
    rows = [(said("lift of its middle bait"), *lifts)]
    if now.at_depth is not None:
        deep = banded(now.at_depth, "g", signed=True)
        rows.append((said("at the lake's depth, if nothing holds its air open"), said(""), deep))
    rows += _outcomes("alone", was.alone, now.alone)
    rows += _outcomes("on the rig", was.on_rig, now.on_rig)
    return Grid("Middle, and below it 8 in 10", ("", "as planned", "after the test"), tuple(rows))


def _outcomes(where: str, was: Shares, now: Shares) -> list[tuple[Figure, ...]]:
    told = (("goes up", "floats"), ("hangs", "hangs"), ("goes down", "sinks"))
    return [
        (said(f"{where}, {word}"), *(_share(getattr(one, name)) for one in (was, now)))
        for word, name in told
    ]


def _share(share: float) -> Figure:
    return Figure(tidy(100.0 * share, 2), "%")


def _proposed(proposals: Sequence[Proposal], little: Iterable[TellsLittle]) -> Part:
    title = "What your own factors would become" if proposals else "No factor moves"
    moved = tuple(one.words for one in proposals)
    untold = tuple(one.words for one in little)
    return Part(title, points=(*moved, *untold), lines=(_NOTHING_KEPT,) if proposals else ())


def _changed(title: str, changes: Sequence[Change]) -> tuple[Part, ...]:
    if not changes:
        return ()
    rows = tuple(
        (
            said(one.label),
            said(
                band_words(one.after, one.shown),
                f"now {band_words(one.before, one.shown)}; {width_words(one)}",
            ),
        )
        for one in changes
    )
    return (Part(title, grids=(Grid("8 in 10 between", ("", "with them"), rows),)),)
