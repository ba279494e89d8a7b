"""What is remarked on the doses: beyond the trade or the bottle, hard to measure, much carrier."""

from __future__ import annotations

import math

from baitwright.batch.dose import DoseStage, LiquidDose
from baitwright.quantities import percent, show
from baitwright.recipe.dosing import Judged, article, asks_its_kind, beyond_maker, judge, thinner
from baitwright.recipe.levels import Bridge, Reference
from baitwright.recipe.liquid import Liquid, Purpose
from baitwright.terms.factors import Factor, FactorSet
from baitwright.terms.notes import Note, Weight
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.special import student_quantile

UNKNOWN = "unknown"
"""The carrier of a liquid whose bottle does not say."""
MUCH_CARRIER = 0.03
"""Liquids above this share of the paste soften it and slow its drying (judgement)."""

_EGG = (Reference.EGG_MASS, Reference.EGG_VOLUME)

STRENGTH = "flavour_strength"
_NOTICED = math.log(1.1)
"""Nobody smells less of a difference (judgement)."""


def on_doses(stage: DoseStage) -> list[Note]:
    """Every remark on the doses, in their order, then on their sum."""
    notes = [note for one in stage.doses for note in _on_one(one, stage.bridge)]
    share = median_of(stage.share)
    if share > MUCH_CARRIER:
        text = (
            f"Liquids make up {show(share, '%')} of the paste: judge a level by the sum "
            "of its carriers. That much softens the paste and slows its drying."
        )
        notes.append(Note("dose", text, "judgement"))
    return notes


def on_strengths(stage: DoseStage, factors: FactorSet) -> list[Note]:
    """What the maker's own nose says of these bottles beside those that levels are made for."""
    if not factors.has(STRENGTH):
        return []
    known = {one.about: one for one in factors.factors if one.key == STRENGTH and one.batches}
    told = ((one.liquid.name, known.get(one.liquid.name)) for one in stage.doses)
    return [
        Note("dose", _strength_words(name, factor), "maker")
        for name, factor in told
        if factor is not None and abs(factor.mu) > _NOTICED
    ]


def _strength_words(name: str, factor: Factor) -> str:
    far = factor.scale * student_quantile(0.9, factor.nu)
    low, high = math.exp(factor.mu - far), math.exp(factor.mu + far)
    return (
        f"{name}: by your own nose {factor.median:.2g} times as strong as the bottle its level is "
        f"made for (8 in 10: {low:.2g} to {high:.2g}). The dose stands; {1.0 / factor.median:.2g} "
        "of it would smell alike."
    )


def _on_one(one: LiquidDose, bridge: Bridge) -> list[Note]:
    liquid = one.liquid
    notes = []
    remark = None
    if not (liquid.powder and liquid.strength_assumed) and not liquid.is_by_label:
        remark = judge(judged(liquid), use="hookbait", bridge=bridge)
    if remark:
        notes.append(Note("dose", remark, "common-practice"))
    if liquid.strength_assumed and not liquid.powder and not liquid.is_by_label:
        kind = f"{article(liquid.strength)} {liquid.strength} one"
        asked = asks_its_kind(liquid.name, liquid.carrier)
        text = f"{liquid.name}: its strength is not stated; taken as {kind}.{asked}"
        notes.append(Note("dose", text, "judgement"))
    if liquid.purpose is Purpose.DYE and liquid.level.reference not in _EGG:
        text = (
            f"{liquid.name}: dye goes by the egg, such as 2 g per 500 g egg; this level goes by "
            f"the {liquid.level.reference}: the colour shifts with the dry mix an egg takes up."
        )
        notes.append(Note("dose", text, "common-practice"))
    if liquid.carrier == UNKNOWN and not liquid.powder:
        text = (
            f"{liquid.name}: its carrier is not stated, so {show(median_of(one.volume), 'ml')} is "
            f"taken to weigh {show(median_of(one.mass), 'g')} and the cautions are for the worst."
        )
        notes.append(Note("dose", text, "judgement"))
    if liquid.limit is not None:
        over = beyond_maker(liquid.name, liquid.level, limit=liquid.limit, bridge=bridge)
        if over:
            notes.append(Note("dose", over, "maker", Weight.CAUTION))
    if one.fill is None and not one.by_weight:
        text = (
            f"{liquid.name}: no syringe here takes {show(median_of(one.volume), 'ml')} in one "
            f"fill. Weigh {show(median_of(one.mass), 'g')}."
        )
        notes.append(Note("dose", text, "iso-7886-1"))
    if one.blend is not None:
        notes.append(Note("dose", _blend_words(one), "iso-7886-1"))
    return notes


def judged(liquid: Liquid, *, level_share: float = 1.0) -> Judged:
    """A liquid as it is judged, at its level or a share of it."""
    level = liquid.level.scaled(level_share)
    return Judged(liquid.name, level, liquid.strength, liquid.drops_per_volume)


def _blend_words(one: LiquidDose) -> str:
    blend, liquid = one.blend, one.liquid
    if blend is None or one.fill is None:
        return ""
    off = percent(one.fill.total / median_of(one.volume))
    return (
        f"{liquid.name}: {show(median_of(one.volume), 'ml')} may be off by {off} in the "
        f"{one.fill.tool.name}. Make up a bottle of 1 part to {blend.carrier_parts} of "
        f"{thinner(liquid.carrier)}, give it a lot and a date, and draw "
        f"{show(blend.fill.volume, 'ml')} of it in the {blend.fill.tool.name}. Keep oils, acids "
        "and watery extracts in bottles of their own."
    )
