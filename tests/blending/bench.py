"""The worked bait case: fourteen ingredients of the shelf under invented prices, and its wishes."""

from __future__ import annotations

from collections.abc import Mapping

from baitwright.blending.candidate import Candidate
from baitwright.blending.rows import Row, Sense
from baitwright.blending.rules import AtMost, IfUsed, Rule, Steps
from baitwright.blending.wanted import Ask, class_share, nutrient, share_of
from baitwright.blending.wishes import Wishes
from baitwright.materials.powders import ingredient

# Invented, per kg.
PRICES: Mapping[str, float] = {
    "semolina": 1.20,
    "maize-meal-fine": 1.40,
    "rice-flour": 1.80,
    "soya-flour-roasted": 2.00,
    "wheat-gluten": 4.50,
    "fishmeal-65": 2.60,
    "krill-meal": 9.00,
    "milk-powder-skimmed": 4.50,
    "whey-protein-80": 11.00,
    "fish-hydrolysate-powder": 8.00,
    "acid-casein": 10.00,
    "egg-albumen": 14.00,
    "egg-biscuit": 3.00,
    "maize-meal-coarse": 1.30,
}
SHELF = {
    name: Candidate(ingredient=ingredient(name), price=price) for name, price in PRICES.items()
}
CANDIDATES = tuple(SHELF.values())


def least(limit: float) -> Ask:
    return Ask(Sense.AT_LEAST, limit)


def most(limit: float) -> Ask:
    return Ask(Sense.AT_MOST, limit)


def bait_rows(
    *, protein: float = 0.34, binder: float = 0.45, krill: float = 0.02
) -> tuple[Row, ...]:
    return (
        nutrient(CANDIDATES, "protein", least(protein)),
        nutrient(CANDIDATES, "fat", least(0.06)),
        nutrient(CANDIDATES, "fat", most(0.10)),
        nutrient(CANDIDATES, "ash", most(0.08)),
        class_share(CANDIDATES, "binder", least(binder)),
        class_share(CANDIDATES, "coarse", least(0.08)),
        class_share(CANDIDATES, "coarse", most(0.20)),
        class_share(CANDIDATES, "soluble", least(0.05)),
        class_share(CANDIDATES, "soluble", most(0.15)),
        share_of(SHELF["egg-albumen"], least(0.05)),
        share_of(SHELF["egg-albumen"], most(0.10)),
        share_of(SHELF["soya-flour-roasted"], most(0.25)),
        share_of(SHELF["wheat-gluten"], most(0.08)),
        share_of(SHELF["krill-meal"], least(krill)),
    )


def bait_wishes(**limits: float) -> Wishes:
    return Wishes(candidates=CANDIDATES, rows=bait_rows(**limits))


def weighable_rules(count: int) -> tuple[Rule, ...]:
    return (
        AtMost(count, tuple(PRICES)),
        *(Steps(name, 0.005) for name in PRICES),
        *(IfUsed(name, 0.025) for name in PRICES),
    )
