"""What a mix calls for a word about: unusual shares, cold water, fibre of several kinds."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.blending.analysis import MixAnalysis
from baitwright.blending.bases import Basis
from baitwright.blending.cold_mix import THICKEN
from baitwright.blending.fibre import fibres_in
from baitwright.blending.hardener import HardenerAdvice
from baitwright.blending.shares import share_of
from baitwright.materials.mix_rules import MixRule, mix_rules
from baitwright.quantities import percent, show
from baitwright.recipe.base_mix import Known
from baitwright.terms.evidence import Evidence
from baitwright.terms.notes import Note, Weight
from baitwright.uncertainty.bands import median_of

ANY, COLD = "any", "cold"
_COLD_FAT = 0.02
"""From this share of the mix an oil is worth a word about the cold (judgement)."""


def remarks(made: MixAnalysis, advice: HardenerAdvice) -> tuple[Note, ...]:
    """Remarks on a mix, and on its hardener."""
    return (
        *_outside(made, ANY),
        *_on_hardener(made, advice),
        *_on_fibre(made),
        *_on_unknown(made),
    )


def in_the_cold(made: MixAnalysis) -> tuple[Note, ...]:
    """What cold water makes of this mix, by common practice."""
    found = [*_outside(made, COLD)]
    oils = share_of(made.mix.parts, lambda row: row.id in THICKEN)
    if oils is not None and median_of(oils) >= _COLD_FAT:
        text = (
            f"{show(median_of(oils), '%')} is fish oil, which thickens in cold water and holds "
            "flavour back: makers leave it out below about 10 °C."
        )
        found.append(Note(COLD, text, "common-practice"))
    if not found:
        text = "Nothing in it stands against cold water by the rules makers go by."
        found.append(Note(COLD, text, "common-practice"))
    return tuple(found)


def _outside(made: MixAnalysis, season: str) -> Iterator[Note]:
    for rule in mix_rules().values():
        share = _counted(made, rule) if rule.season == season else None
        if share is None:
            continue
        over = rule.high is not None and share > rule.high + 1e-9
        under = rule.low is not None and share < rule.low - 1e-9
        if over or under:
            yield Note(season, _said(rule, share, over=over), rule.source)


def _counted(made: MixAnalysis, rule: MixRule) -> float | None:
    """What a rule is about in this mix; None where it cannot be known."""
    if rule.figure == "fat":
        fat = made.bases.figures[Basis.DRY_MIX].get("fat")
        return None if fat is None else median_of(fat)
    if rule.figure == "coarse":
        return median_of(made.grains)
    if made.classes is None:
        return None
    if rule.figure.startswith("role:"):
        share = made.classes.get(rule.figure.removeprefix("role:"))
    elif rule.figure == "groups":
        share = share_of(made.mix.parts, lambda row: row.group in rule.names)
    else:
        share = share_of(made.mix.parts, lambda row: row.id in rule.names)
    return 0.0 if share is None else median_of(share)


def _said(rule: MixRule, share: float, *, over: bool) -> str:
    usual = _range(rule)
    judged = " (our own figure)" if rule.evidence is Evidence.JUDGEMENT else ""
    where = " in cold water" if rule.season == COLD else ""
    note = f" {rule.note}." if rule.note else ""
    side = "above" if over else "below"
    head = f"{rule.about[0].upper()}{rule.about[1:]}: {show(share, '%')} of the dry mix"
    return f"{head}, {side} the usual {usual}{where}{judged}.{note}"


def _range(rule: MixRule) -> str:
    if rule.low is None:
        return f"{show(rule.high or 0.0, '%')} at most"
    if rule.high is None:
        return f"{show(rule.low, '%')} at least"
    return f"{show(rule.low, '%')} to {show(rule.high, '%')}"


def _on_hardener(made: MixAnalysis, advice: HardenerAdvice) -> Iterator[Note]:
    usual, kind = advice.usual, "milk-protein" if advice.milky else "mixed-texture"
    told = median_of(advice.told)
    text = (
        f"Hardener: common practice, without a source, is {show(usual.value, '%')} on top of a "
        f"{kind} base ({show(usual.low, '%')} to {show(usual.high, '%')}); this mix has "
        f"{show(told, '%') if told else 'none'}."
    )
    if advice.own is not None and advice.computed is not None:
        own, computed = median_of(advice.own), median_of(advice.computed)
        text += f" {show(own, '%')} of the base itself is protein that sets by heat or gels: "
        text += (
            f"{show(computed, '%', 2)} of albumen on top brings that to what an ordinary base has "
            "with its hardener."
            if computed
            else "as much as an ordinary base has with its hardener, without any on top."
        )
        if advice.milky:
            text += " Casein binds by taking up water besides, which that sum leaves out."
    yield Note("hardener", text, usual.source)


def _on_fibre(made: MixAnalysis) -> Iterator[Note]:
    kinds = fibres_in(one.row for one in made.mix.parts if one.row is not None)
    if len(kinds) > 1:
        text = f"Its fibre adds up {', '.join(kinds)}: set it beside no single kind."
        yield Note("fibre", text, "definition")


def _on_unknown(made: MixAnalysis) -> Iterator[Note]:
    if made.mix.known is Known.PARTS:
        return
    text = {
        Known.ANALYSIS: "Only its declared analysis is known: classes, setting protein and "
        "allergens are not, and the bands are wider.",
        Known.NAME: "Nothing of it is known but its name: every figure is that of a middling mix. "
        "The analysis on its bag would narrow the bands.",
    }[made.mix.known]
    yield Note("bought", text, "judgement", Weight.DOUBT)
    text = (
        "Its allergens are not known: read its label before it is handled or handed on. "
        f"About {percent(median_of(made.grains))} of it is taken to be grains over 1 mm."
    )
    yield Note("bought", text, "judgement", Weight.DOUBT)
