"""How much hardener a base asks for, from what in it sets and gels by itself."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from baitwright.blending.components import InBowl, MixTold, in_bowl
from baitwright.blending.shares import binding_of, dairy_share
from baitwright.materials.defaults import Default, default
from baitwright.materials.powders import ingredient
from baitwright.materials.proteins import binding
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Backing, Origin, Quantity, declared, given, tabled
from baitwright.terms.units import PERCENT
from baitwright.uncertainty.draws import Draws

HARDENER = "egg-albumen"
MILKY = 0.10
"""Milk powders, whey and caseins make a base a milk-protein one from this share up (judgement)."""


@declared(
    "hardener_by_protein",
    label="hardener that would set this base as an ordinary one",
    unit=PERCENT,
    equation="on top = (wanted - own) / (protein of the hardener - wanted), nothing at least",
    source="judgement",
    note="own is what of the base sets by heat or gels when cold; how hard a bait is hangs on more",
)
def hardener_by_protein(own: Any, wanted: Any, of_hardener: Any) -> Any:
    """Hardener on top of a base that brings its setting protein to a wanted share of the mix."""
    from numpy import maximum

    return maximum(wanted - own, 0.0) / (of_hardener - wanted)


@declared(
    "setting_wanted",
    label="setting protein of an ordinary base with its hardener",
    unit=PERCENT,
    equation="wanted = usual x protein of the hardener / (1 + usual)",
    source="common-practice",
)
def setting_wanted(usual: Any, of_hardener: Any) -> Any:
    """What the usual hardener brings to a base that has nothing of its own."""
    return usual * of_hardener / (1.0 + usual)


@declared(
    "own_setting",
    label="setting and gelling protein of the base itself",
    unit=PERCENT,
    equation="own = sets by heat + gels when cold",
    source="definition",
)
def own_setting(setting: Any, gelling: Any) -> Any:
    """What of a base sets without any hardener."""
    return setting + gelling


@dataclass(frozen=True, slots=True)
class HardenerAdvice:
    """What makers put on top of such a base, and what its own protein says.

    ``usual`` is common practice for its kind, without a source; ``computed`` is None where the
    parts of the base are unknown.
    """

    milky: bool
    usual: Default
    own: Quantity | None
    computed: Quantity | None
    told: Quantity


def on_hardener(told: MixTold, mix: InBowl, draws: Draws | None) -> HardenerAdvice:
    """Hardener for a base, by practice and by protein.

    Parameters
    ----------
    told: the mix; its own hardener is what the advice is set beside.
    mix: its parts with that hardener.
    draws: the lots imagined.
    """
    bare = in_bowl(MixTold(told.base, None, told.sieve, told.shelf), draws)
    milky = told.base.milk_protein or dairy_share(bare.parts) >= MILKY
    usual = default("hardener_milk" if milky else "hardener_ordinary")
    bound = binding_of(bare.parts)
    if bound is None:
        return HardenerAdvice(milky, usual, None, None, mix.on_top)
    own = own_setting(setting=bound.setting, gelling=bound.gelling)
    row = ingredient(HARDENER)
    of_hardener = given(
        "protein_in_hardener",
        binding(row)[0],
        label="protein of egg albumen that sets",
        unit=PERCENT,
        backing=tabled(row),
    )
    ordinary = default("hardener_ordinary")
    practice = Backing(Origin.DEFAULT, ordinary.source, Evidence.PRACTICE, ordinary.note)
    wanted = setting_wanted(
        usual=given(
            ordinary.id, ordinary.value, label=ordinary.label, unit=PERCENT, backing=practice
        ),
        of_hardener=of_hardener,
    )
    computed = hardener_by_protein(own=own, wanted=wanted, of_hardener=of_hardener)
    return HardenerAdvice(milky, usual, own, computed, mix.on_top)
