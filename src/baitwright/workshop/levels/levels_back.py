"""What a levels answer asks back in one line: the dry mix of an egg, with the range until then."""

from __future__ import annotations

from baitwright.recipe.levels import Reference
from baitwright.workshop.levels.level_lines import between
from baitwright.workshop.levels.levels import Answer, Levels
from baitwright.workshop.typed.unstated import SHOWN

_THROUGH_DRY_MIX = (Reference.DRY_MIX, Reference.PASTE)


def asks_back(found: Levels) -> tuple[str, ...]:
    """One line where nobody weighed what an egg takes up, with what the answer may be until then.

    Nothing where it is known.
    """
    ends = found.bridges
    if ends.low.dry_mix == ends.high.dry_mix:
        return ()
    span = between(ends.low.dry_mix, ends.high.dry_mix, "g")
    told = "; ".join(_until_then(one) for one in found.answers)
    return (f"How much dry mix does one egg of yours take up? With {span}, {told}.",)


def _until_then(answer: Answer) -> str:
    """The dose where it hangs on the dry mix, else the level per kilogram of it."""
    name, unit = answer.liquid.name, SHOWN[answer.liquid.level.measure]
    if answer.liquid.level.reference in _THROUGH_DRY_MIX:
        return f"{name} comes to {between(answer.dose.low, answer.dose.high, unit)} in all"
    basis = next(one for one in answer.bases if one.reference is Reference.DRY_MIX)
    return f"{name} is {between(basis.low, basis.high, basis.unit)} {basis.per}"
