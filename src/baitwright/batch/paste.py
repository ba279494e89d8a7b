"""The paste in the bowl: weight, density and volume."""

from __future__ import annotations

from typing import Any

from baitwright.terms.quantity import declared
from baitwright.terms.units import GRAMS, GRAMS_PER_MILLILITRE, MILLILITRES, PERCENT


@declared(
    "paste_mass",
    label="paste",
    unit=GRAMS,
    equation="paste = egg + dry mix + liquids",
    source="definition",
)
def paste_mass(egg: Any, dry_mix: Any, liquids: Any) -> Any:
    """All paste in the bowl by weight."""
    return egg + dry_mix + liquids


@declared(
    "paste_density",
    label="paste's density",
    unit=GRAMS_PER_MILLILITRE,
    equation="density = mass (1 - air) / (V egg + mix / mix density + V liquids) x factor",
    source="definition",
    note="the air worked in is judged; rolled baits weighed and measured tell yours",
)
def paste_density(
    mass: Any, egg_volume: Any, mix_volume: Any, liquid_volume: Any, air_fraction: Any, factor: Any
) -> Any:
    """Paste as rolled, with the air it holds."""
    return mass * (1.0 - air_fraction) / (egg_volume + mix_volume + liquid_volume) * factor


@declared(
    "mix_volume",
    label="dry mix without its air",
    unit=MILLILITRES,
    equation="V = mass / density",
    source="definition",
)
def mix_volume(mass: Any, density: Any) -> Any:
    """Volume the dry mix takes up in the paste."""
    return mass / density


@declared(
    "paste_volume",
    label="paste by volume",
    unit=MILLILITRES,
    equation="V = mass / density",
    source="definition",
)
def paste_volume(mass: Any, density: Any) -> Any:
    """All paste in the bowl by volume."""
    return mass / density


@declared(
    "left_over",
    label="paste lost on hands, board and bowl",
    unit=GRAMS,
    equation="lost = paste x loss x factor",
    source="judgement",
)
def left_over(paste: Any, loss: Any, factor: Any) -> Any:
    """Paste that never becomes a bait."""
    return paste * loss * factor


@declared(
    "liquid_share",
    label="share of the paste",
    unit=PERCENT,
    equation="liquid / paste",
    source="definition",
)
def liquid_share(liquid: Any, paste: Any) -> Any:
    """A liquid's, or a carrier's, share of the paste by weight."""
    return liquid / paste
