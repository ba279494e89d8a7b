"""Baits compared, in words: intervals and nights, no winner."""

from __future__ import annotations

import math

from baitwright.learning.pairs import Interval
from baitwright.learning.rates import BITES_TO_RANK, NIGHTS_TO_TELL, Dispersion, highest_of_a_blank
from baitwright.quantities import tidy
from baitwright.sheets.wording import count_of
from baitwright.terms.band import Band
from baitwright.workshop.comparing.compare import Compared
from baitwright.workshop.comparing.two_baits import BaitFished, TwoBaits

_PER = "bites per 24 rod-hours"


def compared_text(made: Compared) -> str:
    """What the nights say of each bait, then of all together, then what was doubtful."""
    lines = baits_told(made)
    if against := against_told(made):
        lines += ["", *against]
    lines += ["", scatter_told(made.scatter)]
    if doubts := doubts_told(made):
        lines += ["", "to look at:", *(f"  {one}" for one in doubts)]
    return "\n".join(lines)


def baits_told(made: Compared) -> list[str]:
    """Each bait by itself: bites, rod-hours, nights, blanks, and its rate."""
    return [_bait(one) for one in made.baits]


def against_told(made: Compared) -> list[str]:
    """The baits against each other; nothing of one alone."""
    if made.two is not None:
        return _two(made, made.two)
    return _several(made) if made.times else []


def doubts_told(made: Compared) -> list[str]:
    """What was doubtful of the nights, and whether it was counted."""
    return [f"{one.night}: {one.said}{_counts(one.counted)}" for one in made.found.doubtful]


def _counts(counted: bool) -> str:
    return " (counted)" if counted else " (left out)"


def _bait(one: BaitFished) -> str:
    whole = one.fished
    told = (
        f"{one.name}: {count_of(whole.bites, 'bite')} in {tidy(whole.rod_hours, 4)} rod-hours, "
        f"{count_of(len(one.nights), 'night')}, {one.blanks} of them blank; "
        f"{_band(one.rate, 95)} {_PER}"
    )
    if whole.bites:
        return told
    hours = 1.0 / highest_of_a_blank(whole.rod_hours)
    return f"{told}; no more than 1 in {tidy(hours, 2)} rod-hours is likely"


def _two(made: Compared, two: TwoBaits) -> list[str]:
    one, other = (bait.name for bait in made.baits)
    exact, wide = two.ratio.exact[-1], two.ratio.widened
    fits = f"anything from {_interval(exact)} fits (exact, 19 cases of 20"
    mid = f"; {_interval(two.ratio.mid[-1])} by mid-p)"
    scattered = f"; {_interval(wide)} with the scatter of your own nights)"
    fits += mid if wide == two.ratio.mid[-1] else scattered
    lines = [_where(two, one, other)]
    if two.chance is None:
        lines.append(f"Bites on {one} for each on {other} in the same hours: {fits}.")
        lines.append(f"Too few bites to say more: {BITES_TO_RANK} on each bait at least.")
    else:
        seen = tidy(two.ratio.ratio, 2)
        lines.append(f"{seen} bites on {one} for each on {other} in the same hours, but {fits}.")
        share = math.floor(100.0 * two.chance + 0.5)
        lines.append(f"Chance that {one} has the higher rate, given nothing else: {share} in 100.")
    if two.same_side:
        lines.append("Each bait had rods of its own: what looks like the bait may be the place.")
    return [*lines, *_more(made, two)]


def _where(two: TwoBaits, one: str, other: str) -> str:
    if two.shared:
        return f"{count_of(two.shared, 'night')} with both out, compared within each night:"
    return f"{one} and {other} never shared a night: water and weather are in the difference too."


def _more(made: Compared, two: TwoBaits) -> list[str]:
    lines = []
    for one in two.more:
        many = math.floor(one.nights + 0.5)
        told = f"at least {many} more nights" if many else "the nights you have"
        lines.append(
            f"If one truly has {one.ratio:g} times the bites, {told} of {tidy(made.hours, 2)} h "
            "with a rod on each would show it in 4 trials of 5."
        )
    return lines


def _several(made: Compared) -> list[str]:
    """Bands of each by all of them; in order of merit only with bites enough."""
    how = "within shared nights" if made.joined else "over all nights, which were not the same ones"
    lines = [f"Times the rate of them all, compared {how}, each drawn towards the others:"]
    bands = sorted(made.times, key=lambda band: -band.median) if made.ranks else made.times
    lines += [f"  {band.name}: {_band(band, 95)} in 19 cases of 20" for band in bands]
    if not made.ranks:
        lines.append(f"In no order: some had fewer than {BITES_TO_RANK} bites.")
    return [*lines, "Name two of them to see how many nights would tell them apart."]


def scatter_told(scatter: Dispersion) -> str:
    """How the nights scatter beside chance alone."""
    if not scatter.is_told:
        return (
            f"Nights needed are a floor: how your own nights scatter is told from {NIGHTS_TO_TELL} "
            "on."
        )
    times = tidy(scatter.ratio, 2)
    beside = "" if times == "1" else f"{times} times "
    told = f"Your nights scatter {beside}as much as chance alone"
    return f"{told}: bands are widened by it." if scatter.widens > 1.0 else f"{told}."


def _band(band: Band, held: int) -> str:
    low, high = (getattr(band, f"{side}{held}") for side in ("low", "high"))
    return f"{tidy(low, 2)} to {tidy(high, 2)}"


def _interval(one: Interval) -> str:
    high = tidy(one.high, 2) if math.isfinite(one.high) else "any number of"
    return f"{tidy(one.low, 2)} to {high}"
