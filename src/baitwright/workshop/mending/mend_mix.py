"""A mix mended: the one that stands in for it, what changes, what to roll, what to learn anew."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace

from baitwright.batch.mix import assumed_share, hardener_mass, raw_base, sieved_base
from baitwright.blending.clash import clash_of
from baitwright.blending.components import held_back_of
from baitwright.blending.moved import moved_names, moves
from baitwright.blending.rounding import Weighable, weighable
from baitwright.blending.search import Design, design
from baitwright.blending.trial_rolls import part_for_rolls, trial_rolls
from baitwright.learning.restart import DRY_MIX, Calibration, begun_anew, calibrations, restarted
from baitwright.materials.factors import prior_factors
from baitwright.recipe.model import Part
from baitwright.terms.quantity import Quantity, given
from baitwright.terms.units import PERCENT
from baitwright.uncertainty.bands import median_of
from baitwright.workshop.mending.mend_asked import MendAsked
from baitwright.workshop.mending.mend_made import Beside, Mended, StandIn
from baitwright.workshop.mixes.mix_analysis import Analysed, Besides, analysed, bowl_of

_SECONDS = 20.0


def mended(asked: MendAsked, beside: Beside) -> Mended:
    """The mix that stands in for one of which a part is gone or another.

    Raises
    ------
    InputError: a factor that cannot begin anew, or a figure that cannot be.
    """
    found = design(asked.wishes, seconds=_SECONDS)
    if not found.is_there:
        hard = tuple(row for row in asked.wishes.rows if row.hard)
        firm = replace(asked.wishes, rows=hard, soft_beside=False)
        return Mended(asked, None, clash_of(firm, seconds=_SECONDS))
    weighed = weighable(found, asked.step)
    shares = {name: float(share) for name, share in weighed.shares.items()}
    return Mended(asked, _made(asked, beside, found=found, weighed=weighed, shares=shares))


def _made(
    asked: MendAsked,
    beside: Beside,
    *,
    found: Design,
    weighed: Weighable,
    shares: Mapping[str, float],
) -> StandIn:
    old, new = asked.old, asked.made_of(shares)
    before = analysed(old, Besides(eggs=beside.eggs, factors=beside.factors))
    named = {"old": old.told.base.name, "new": asked.name}
    rough = analysed(new, Besides(eggs=beside.eggs, factors=beside.factors))
    gone_by = moved_names(before.made, rough.made)
    told = calibrations(beside.factors, gone_by, restart=beside.restart, **named)
    told = tuple(_as_weighed(one, asked, beside) for one in told)
    name = f"{asked.name}, {beside.now:%Y-%m-%d}"
    factors = restarted(beside.factors, told, name=name, made_on=beside.now)
    besides = Besides(eggs=beside.eggs, factors=factors)
    after = analysed(new, besides)
    stands = asked.as_it_stands
    enough = beside.old_left is None or beside.old_left >= median_of(before.made.bowl.dry_mix)
    rolls = trial_rolls(before.made, after.made, with_old=enough)
    return StandIn(
        found=found,
        weighed=weighed,
        before=before,
        after=after,
        left=None if stands is None else analysed(stands, besides),
        moved=moves(before.made, after.made),
        rolls=rolls,
        weigh=_to_weigh(after, new.told.base.parts, rolls.new_mix),
        calibrations=told,
        factors=factors,
    )


def _as_weighed(one: Calibration, asked: MendAsked, beside: Beside) -> Calibration:
    """Dry mix per egg that the mix's own file tells goes before what the factor has."""
    weighed = asked.old.dry_mix_per_egg
    if one.key != DRY_MIX or weighed is None or one.after is None:
        return one
    bare = replace(asked.old, dry_mix_per_egg=None)
    usual = bowl_of(bare, Besides(eggs=beside.eggs)).dry_mix
    mu = math.log(weighed / median_of(usual)) + prior_factors().find(DRY_MIX).mu
    return replace(one, after=begun_anew(one.before, about=one.after.about, mu=mu))


def _to_weigh(
    after: Analysed, parts: tuple[Part, ...], mix: Quantity
) -> tuple[tuple[str, Quantity], ...]:
    """Each part of the raw base for the test rolls, and the hardener."""
    on_top, told = after.made.mix.on_top, after.asked.told
    sieved = sieved_base(tub=mix, on_top=on_top)
    back = assumed_share(held_back_of(told, told.sieve))
    raw = raw_base(sieved=sieved, coarse_fraction=back)
    made = []
    for one in parts:
        name = told.candidate(one.ingredient).name
        share = given("raw_share", one.share, label=f"{name}, of the base", unit=PERCENT)
        made.append((name, part_for_rolls(raw=raw, share=share)))
    if told.hardener is not None:
        name = told.candidate(told.hardener.ingredient).name
        made.append(
            (f"{name}, on top of the sieved base", hardener_mass(sieved=sieved, on_top=on_top))
        )
    return tuple(made)
