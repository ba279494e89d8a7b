"""A mix with the coarse part of a sieve stirred back in: its grains."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from baitwright.blending.analysis import MixAnalysis
from baitwright.blending.components import in_bowl
from baitwright.blending.shares import coarse_grains
from baitwright.recipe.model import BaseMix
from baitwright.terms.quantity import declared, given
from baitwright.terms.units import PERCENT


@declared(
    "grains_stirred_back",
    label="grains over 1 mm in the dry mix",
    unit=PERCENT,
    equation="grains = (1 - coarse part) x grains of the base unsieved + coarse part",
    source="definition",
    note="all that a sieve of about 1 mm left is grains",
)
def grains_stirred_back(raw: Any, coarse: Any) -> Any:
    """What of a mix is grains, the coarse part being nothing else."""
    return (1.0 - coarse) * raw + coarse


def with_coarse(made: MixAnalysis, base: BaseMix, share: float) -> MixAnalysis:
    """An unsieved mix taken apart, of which a share is the coarse part of its own base.

    Parameters
    ----------
    made: the mix, its shares being those with the coarse part.
    base: unsieved, without it.
    share: of the mix that is coarse part [1].
    """
    raw = coarse_grains(in_bowl(replace(made.told, base=base), None).parts)
    coarse = given("coarse_share", share, label="coarse part stirred back", unit=PERCENT)
    return replace(made, grains=grains_stirred_back(raw=raw, coarse=coarse))
