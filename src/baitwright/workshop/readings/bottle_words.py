"""What a bottle test says, for people."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.learning.bottle import BottleLesson, Proved, Shares
from baitwright.learning.bottle_likelihood import EARLY, tells_lift
from baitwright.learning.soaking import SoakLesson
from baitwright.quantities import from_si, show, tidy
from baitwright.sheets.wording import banded
from baitwright.terms.band import Band
from baitwright.workshop.readings.bottle_test import Bottled
from baitwright.workshop.readings.record_words import change_words


def bottle_text(tested: Bottled) -> str:
    """What is proved, the tray's lift, proposals, and what the next plan will change."""
    lesson = tested.lesson
    water = show(tested.test.water_temperature, "C")
    lines = [f"{tested.test.plan_name}: bottle test in water of {water}"]
    if lesson.proved:
        lines += ["", "What the sample proves, with 95 % confidence"]
        lines += [f"  {line}" for one in lesson.proved for line in proof_words(one)]
    lines += ["", "This tray in the lake"]
    lines += [f"  {line}" for line in _tray(lesson)]
    lines += [f"  {line}" for line in caveats(tested)]
    if lesson.soaked is not None:
        lines += ["", "Water taken up in the test"]
        lines += [f"  {line}" for line in soaked_words(lesson.soaked)]
    lines += ["", "Your factors, proposed" if lesson.proposals else "No factor moves."]
    lines += [f"  {proposal.words}" for proposal in lesson.proposals]
    lines += [f"  {one.words}" for one in lesson.tells_little]
    if tested.changes:
        lines += ["", "The next batch planned with these factors"]
        lines += [f"  {change_words(change)}" for change in tested.changes]
    if tested.written is not None:
        lines += ["", f"Accepted: {tested.written}. Plan with it: --factors {tested.written}"]
    elif tested.again:
        lines += ["", "These factors have learned from this test already: it is not kept twice."]
    elif lesson.proposals:
        lines += ["", "Nothing is kept yet: --accept FILE keeps these factors as a new file."]
    return "\n".join(lines)


def proof_words(one: Proved) -> Iterator[str]:
    """What one look proves: of this tray, of all such baits, and what more would prove."""
    proof, look = one.proof, one.look
    good = proof.tested - proof.bad
    where = " on the rig" if look.on_rig else ""
    when = f" after {_time(look.after)}" if look.after else ""
    yield f"{good} of {proof.tested} {one.words}{where}{when}: {_bounds(one)}."
    if proof.bad == 0 and proof.more:
        yield f"  {proof.more} more, all of them good, would bring all such baits to 10 % at most."


def _time(seconds: float) -> str:
    return show(seconds, "h" if seconds >= 3600.0 else "min")


def _bounds(one: Proved) -> str:
    proof = one.proof
    every = f"{tidy(100.0 * proof.all_such, 2)} % of all such baits"
    if proof.tray is None or proof.in_tray is None:
        return f"at most {every} {one.otherwise}"
    share = tidy(100.0 * proof.in_tray / proof.tray, 2)
    of_tray = f"at most {share} % of this tray of {proof.tray} {one.otherwise} ({proof.in_tray})"
    return f"{of_tray}, {every}"


def _tray(lesson: BottleLesson) -> Iterator[str]:
    before, after = lesson.before, lesson.after
    yield f"lift of its middle bait, planned: {lift_words(before.lift)}"
    yield f"lift of its middle bait, after the test: {lift_words(after.lift)}"
    yield f"  {from_si(lesson.correction, 'g'):+.3f} g of it is lake water in place of the test's"
    if after.at_depth is not None:
        yield f"at the lake's depth, if nothing holds its air open: {lift_words(after.at_depth)}"
    for title, was, now in (
        ("alone", before.alone, after.alone),
        ("on the rig", before.on_rig, after.on_rig),
    ):
        yield f"{title}: {_shares(now)} (planned: {_shares(was)})"
    yield f"drawn anew; the draws are worth {int(lesson.effective)} independent ones"


def caveats(tested: Bottled) -> Iterator[str]:
    """What this test cannot tell, and what would."""
    lesson = tested.lesson
    if not tells_lift(tested.test):
        yield "Nothing here tells of the lift: a look within the first hour, or a weighing, would."
        return
    if lesson.bounds_only:
        yield (
            "All did alike: that only bounds the lift. Push one bait under in a tared cup: it says "
            "how much."
        )
    if not lesson.told_apart:
        yield (
            "The lift is told, not whether core or paste gives it: weigh twenty cores, or a dozen "
            "dried baits."
        )
    if any(look.after > EARLY for look in tested.test.looks):
        yield "Looks after the first hour prove only: the water taken up by then has a say in them."


def soaked_words(soaked: SoakLesson) -> Iterator[str]:
    """What was gained beside what was planned, and how fast water moves in the bait by it."""
    for one in soaked.gained:
        told = one.soaked
        yield (
            f"{told.count} baits weighed together gained {_percent(told.gain)} of their weight in "
            f"{_time(told.after)} (planned: {_percent(one.expected.low80)} to "
            f"{_percent(one.expected.high80)})"
        )
    before, after = (
        f"{band.median:.2f} ({band.low80:.2f} to {band.high80:.2f})"
        for band in (soaked.before, soaked.after)
    )
    yield f"how fast water moves in the bait, beside the table: {after} (planned: {before})"
    yield f"the draws behind it are worth {int(soaked.effective)} independent ones"


def _percent(share: float) -> str:
    return f"{tidy(100.0 * share, 2)} %"


def lift_words(band: Band) -> str:
    """A lift with its sign and its band."""
    return banded(band, "g", signed=True).with_band


def _shares(shares: Shares) -> str:
    parts = (
        f"{tidy(100.0 * share, 2)} % {word}"
        for share, word in ((shares.floats, "up"), (shares.hangs, "hang"), (shares.sinks, "down"))
    )
    return ", ".join(parts)
