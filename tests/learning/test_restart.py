"""What of the maker's factors begins anew with a changed base, and that a plan goes by it."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest

from baitwright.batch.plan import plan
from baitwright.blending.mending import GRAINS
from baitwright.learning.restart import (
    BY_BASE,
    COARSE,
    DENSITY,
    DRY_MIX,
    Fate,
    calibrations,
    restarted,
)
from baitwright.materials.factors import factor_priors, prior_factors
from baitwright.terms.errors import InputError
from baitwright.terms.factors import Factor, FactorSet, Learned
from baitwright.uncertainty.bands import band_of
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import planned

NOW = datetime(2026, 11, 28, 7, 0)
MADE = planned(draws=Draws(batches=64))


def learned(key: str, about: str = "", *, mu: float = 0.2) -> Factor:
    return Factor(key, about, mu=mu, kappa=9.0, nu=12.0, sigma2=0.0004, source="maker", batches=8)


OWN = prior_factors().with_factors(
    [*(learned(key, "Copper") for key in BY_BASE), learned("drying")], name="mine", made_on=NOW
)
OWN = OWN.after(Learned("Copper wafter", NOW.date(), "0" * 16))


def begun(*moved: str, new: str = "Copper 2", restart: tuple[str, ...] = ()) -> FactorSet:
    found = calibrations(OWN, moved, old="Copper", new=new, restart=restart)
    return restarted(OWN, found, name="mine 2", made_on=NOW)


def test_a_plan_asks_by_base_for_just_these(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever a plan looks up by the base's name is broken with the base, and nothing else."""
    asked: set[str] = set()
    find = FactorSet.find

    def spy(self: FactorSet, key: str, about: str = "") -> Factor:
        if about == MADE.request.recipe.base.name:
            asked.add(key)
        return find(self, key, about)

    monkeypatch.setattr(FactorSet, "find", spy)
    plan(MADE.request)
    assert asked == set(BY_BASE)


def test_a_plan_of_the_new_base_goes_by_what_began_anew() -> None:
    base = MADE.request.recipe.base
    factors = begun(GRAINS)
    widths = []
    for name in (base.name, "Copper 2"):
        recipe = replace(MADE.request.recipe, base=replace(base, name=name))
        made = plan(replace(MADE.request, recipe=recipe, factors=factors))
        band = band_of(made.mix.per_egg)
        widths.append(band.high80 / band.low80)
        whose = next(one for one in made.mix.per_egg.walk() if one.name == f"factor:{DRY_MIX}")
        assert whose.note == ("8 of your batches" if name == base.name else "no batch of yours yet")
    assert widths[1] > 1.2 * widths[0]


def test_the_middle_is_kept_and_none_of_the_batches() -> None:
    factors = begun(GRAINS)
    for key in BY_BASE:
        after, prior = factors.find(key, "Copper 2"), factor_priors()[key].factor
        assert (after.mu, after.batches) == (0.2, 0)
        assert (after.kappa, after.nu, after.sigma2) == (prior.kappa, prior.nu, prior.sigma2)
        assert factors.find(key, "Copper") == OWN.find(key, "Copper")
    assert factors.learned == OWN.learned
    assert factors.find("drying") == OWN.find("drying")


def test_a_base_that_keeps_its_name_loses_what_it_had_learned() -> None:
    assert begun(GRAINS, new="Copper").find(DENSITY, "Copper").batches == 0


def test_the_same_grains_keep_their_sieve() -> None:
    factors = begun("fat")
    assert factors.find(COARSE, "Copper 2") == replace(OWN.find(COARSE, "Copper"), about="Copper 2")
    assert factors.find(DRY_MIX, "Copper 2").batches == 0
    assert begun("fat", new="Copper").find(COARSE, "Copper") == OWN.find(COARSE, "Copper")


def test_what_is_of_the_whole_kitchen_is_watched_unless_it_is_told_to_begin_anew() -> None:
    fates = {one.key: one.fate for one in calibrations(OWN, ["fat"], old="Copper", new="Copper 2")}
    assert (fates["drying"], fates["rolling_loss"]) == (Fate.WATCHED, Fate.STANDS)
    assert begun("fat", restart=("drying",)).find("drying").batches == 0
    with pytest.raises(InputError, match=r"cook, drying"):
        begun(restart=("egg_volume",))
