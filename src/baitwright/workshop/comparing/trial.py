"""A trial before it is started, and where one that may stop early stands."""

from __future__ import annotations

from dataclasses import dataclass

from baitwright.learning.factorial import Design, Effect, effects, two_level
from baitwright.learning.rates import CHANCE_ALONE, Dispersion
from baitwright.learning.sequential import SequentialPlan, Standing, sequential_plan
from baitwright.learning.trials import Needs, nights_for
from baitwright.notebook.store import Notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.comparing.compare import compare
from baitwright.workshop.comparing.two_baits import has_bait

RATIOS = (1.25, 1.5, 2.0, 3.0)


@dataclass(frozen=True, slots=True)
class NightsNeeded:
    """Nights that true ratios need before they show, and what that rests on.

    ``bites`` are those of the weaker bait's rod on one night; ``scatter`` is the maker's own, or
    chance alone.
    """

    bites: float
    scatter: Dispersion
    needs: tuple[Needs, ...]


@dataclass(frozen=True, slots=True)
class Looked:
    """Where a sequential trial stands after so many nights and bites of each bait."""

    plan: SequentialPlan
    standing: Standing
    nights: int
    total: float
    bites: tuple[int, int]
    uneven: int


@dataclass(frozen=True, slots=True)
class Tried:
    """A design on a recipe, its low and high levels, and what its readings say, where there are."""

    design: Design
    levels: tuple[tuple[str, str], ...]
    found: tuple[Effect, ...]


def nights_needed(bites: float, *, scatter: Dispersion = CHANCE_ALONE) -> NightsNeeded:
    """Nights for true ratios of 1.25 to 3, for so many bites a night on the weaker bait."""
    needs = tuple(nights_for(one, bites_a_night=bites, scatter=scatter) for one in RATIOS)
    return NightsNeeded(bites, scatter, needs)


def nights_by_notebook(book: Notebook, *, water: str = "") -> NightsNeeded:
    """The same at the rate and the scatter of the maker's own nights.

    Raises
    ------
    InputError: no night to go by, or none with a bite.
    """
    made = compare(book, water=water)
    bites = sum(one.fished.bites for one in made.baits)
    hours = sum(one.fished.rod_hours for one in made.baits)
    if not bites:
        raise InputError("bites", 0, "one night with a bite at least, or --bites A_NIGHT")
    return nights_needed(bites / hours * made.hours, scatter=made.scatter)


def looked_at(book: Notebook, first: str, second: str, *, ratio: float, since: str = "") -> Looked:
    """Where a trial of two baits on paired rods stands, night after night.

    Parameters
    ----------
    book: the notebook.
    first: the bait that is thought to have the higher rate.
    second: the other.
    ratio: that was looked for when it was started.
    since: its first day; all nights with both unless told.

    Raises
    ------
    InputError: a bait that no night has, or none with both rods out for as long.
    """
    plan = sequential_plan(ratio)
    made = compare(book, (first, second))
    if len(made.baits) != 2:
        raise InputError("baits", first, "two that differ")
    one, other = (bait.name for bait in made.baits)
    nights = [
        night.by_bait()
        for night in made.found.nights
        if has_bait(night, one) and has_bait(night, other) and night.day >= since
    ]
    even = [night for night in nights if night[one].rod_hours == night[other].rod_hours]
    if not even:
        raise InputError("nights", len(nights), "one at least with both baits out for as long")
    bites = [(night[one].bites, night[other].bites) for night in even]
    standing, at, total = plan.standing(bites)
    had = (sum(pair[0] for pair in bites[:at]), sum(pair[1] for pair in bites[:at]))
    return Looked(plan, standing, at, total, had, len(nights) - len(even))


def tried(
    factors: dict[str, tuple[str, str]],
    readings: tuple[tuple[float, ...], ...] = (),
    *,
    half: bool = False,
    seed: int = 1,
) -> Tried:
    """A design of two levels for each factor, with its effects where it was read.

    Parameters
    ----------
    factors: low and high level of each, as the maker says them.
    readings: of each run in the design's own order; none yet.
    half: make half of the runs only.
    seed: of the order in which they are made.
    """
    design = two_level(tuple(factors), half=half, seed=seed)
    found = effects(design, readings) if readings else ()
    return Tried(design, tuple(factors.values()), found)
