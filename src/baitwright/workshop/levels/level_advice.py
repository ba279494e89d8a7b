"""What goes with a level: its share of carrier, the other use, other strengths, the lake."""

from __future__ import annotations

import math
from collections.abc import Iterator

from baitwright.materials.defaults import default
from baitwright.materials.liquids import level_range
from baitwright.quantities import show, tidy
from baitwright.recipe.dosing import FREE_BAIT_LEVEL, Judged, usual_range
from baitwright.recipe.levels import Measure, times
from baitwright.terms.evidence import Evidence
from baitwright.workshop.levels.level_lines import PRACTICE
from baitwright.workshop.levels.levels import Answer, Levels
from baitwright.workshop.typed.unstated import CARRIER

FLAVOURS = ("weak", "normal", "quality", "concentrated")
"""Strengths that makers give the same flavour in; the others are liquids of another kind."""

_SURER = " In cold water a carrier that mixes with water is surer (judgement)."
SURER_EVIDENCE = MAKERS_EVIDENCE = Evidence.JUDGEMENT
"""What stands behind that remark, and behind the same flavour at another strength."""


def advice_lines(answer: Answer, found: Levels) -> Iterator[tuple[str, str]]:
    """What goes with a level, each line with its head."""
    much = _much_carrier(answer, found)
    if much:
        yield "flagged", much
    yield _other_use(answer, found)
    others = _other_makers(answer, found)
    if others:
        yield "makers", others
    row = answer.carrier
    if row.id != CARRIER:
        thin = "" if row.mixes_with_water else _SURER
        yield "in lake", f"{row.in_lake}{thin}"


def much_carrier(answer: Answer, found: Levels) -> bool:
    """Whether a flavour brings as much liquid as only a weak one does, by the table's own range."""
    if answer.liquid.strength not in FLAVOURS:
        return False
    weak = level_range("weak", "hookbait")
    per_egg_volume = answer.dose.volume / found.bowl.count
    judged = Judged(answer.liquid.name, answer.liquid.level, weak.strength)
    low, _ = usual_range(judged, weak.use, found.bridges.middle)
    return per_egg_volume >= low * (1 - 1e-9)


def _much_carrier(answer: Answer, found: Levels) -> str:
    if not much_carrier(answer, found):
        return ""
    each = show(answer.dose.volume / found.bowl.count, "ml")
    paste = found.bridges.middle.paste * found.bowl.count
    share = tidy(100 * answer.dose.mass / paste, 2)
    name = "its carrier" if answer.carrier.id == CARRIER else answer.carrier.name
    weak = answer.liquid.strength == "weak"
    right = "as weak flavours do" if weak else "right only for a weak flavour"
    return f"{each} an egg is nearly all {name}, {share} % of the paste: {right}"


def _other_use(answer: Answer, found: Levels) -> tuple[str, str]:
    """The level for the bait beside it: free bait for a hookbait, and the other way round."""
    row = default(FREE_BAIT_LEVEL)
    low, high, backing = row.low, row.high, PRACTICE
    level = answer.liquid.level
    if found.use == "hookbait":
        other = times(level, row.value).text
        span = f"{tidy(100 * low, 2)} to {tidy(100 * high, 2)} %"
        return "free bait", f"{other}; makers take {span} of the hookbait's ({backing})"
    other = times(level, 1.0 / row.value).text
    span = f"{tidy(1 / high, 2)} to {tidy(1 / low, 2)} times"
    return "hookbait", f"{other}; makers take {span} the free bait's ({backing})"


def of_other_makers(answer: Answer, found: Levels) -> tuple[tuple[str, float], ...]:
    """How much an egg of the same flavour at another strength would stand for this [m3].

    Assumed: each lies at the same place between the ends of what is usual for its strength,
    on a scale of ratios. Nothing for liquids that are no flavours, or measured by weight.
    """
    liquid = answer.liquid
    if liquid.strength not in FLAVOURS or liquid.level.measure is Measure.MASS:
        return ()
    each = answer.dose.volume / found.bowl.count

    def middle(strength: str) -> float:
        judged = Judged(liquid.name, liquid.level, strength, liquid.drops_per_volume)
        return math.sqrt(math.prod(usual_range(judged, found.use, found.bridges.middle)))

    own = middle(liquid.strength)
    return tuple((one, each * middle(one) / own) for one in FLAVOURS if one != liquid.strength)


def _other_makers(answer: Answer, found: Levels) -> str:
    if answer.remark:  # of a level beyond the usual nothing follows for others
        return ""
    others = of_other_makers(answer, found)
    if not others:
        return ""
    told = ", ".join(f"{show(amount, 'ml', 2)} of a {name} one" for name, amount in others)
    return f"for the same an egg {told} (assumed from what is usual of each; judgement)"
