"""Rules about counts and steps from a file of wishes, and the trade's rules of thumb as rows."""

from __future__ import annotations

from collections.abc import Sequence

from baitwright.blending import wanted
from baitwright.blending.candidate import Candidate
from baitwright.blending.rows import Origin, Row, Sense
from baitwright.blending.rules import AtMost, IfUsed, Implies, Rule, Steps
from baitwright.blending.wanted import Ask
from baitwright.materials.mix_rules import MixRule, mix_rules
from baitwright.materials.tables import slug
from baitwright.quantities import show
from baitwright.terms.errors import InputError
from baitwright.workshop.wishes.wishes_rows import Bench
from baitwright.workshop.wishes.wishes_tables import WishesFile


def rules_of(file: WishesFile, bench: Bench) -> tuple[Rule, ...]:
    """Every rule of a file.

    Raises
    ------
    InputError: steps that do not make up 100 %, or an ingredient that is not there.
    """
    rules: list[Rule] = []
    if file.most_ingredients is not None:
        names = tuple(one.id for one in bench.candidates)
        rules.append(AtMost(file.most_ingredients, names))
    for one, table in zip(bench.candidates, file.ingredients.values(), strict=True):
        least = file.least_if_used if table.least_if_used is None else table.least_if_used
        if least:
            rules.append(IfUsed(one.id, least, one.name))
        step = file.step if table.step is None else table.step
        if step is not None:
            where = "step" if table.step is None else f"ingredients.{one.id}.step"
            _refuse_uneven(step, where)
            rules.append(Steps(one.id, step, one.name))
    for at, pair in enumerate(file.together, start=1):
        used, needed = (bench.find(name, f"together[{at}]") for name in (pair.used, pair.needs))
        rules.append(Implies(used.id, needed.id, (used.name, needed.name)))
    return tuple(rules)


def _refuse_uneven(step: float, field: str) -> None:
    if abs(1.0 / step - round(1.0 / step)) > 1e-6:
        raise InputError(field, show(step, "%"), "a step that makes up 100 %, such as 0.5 %")


def thumb_rows(candidates: Sequence[Candidate], *, cold: bool) -> list[Row]:
    """Usual shares of the trade as soft rows, for as much of them as this mix can have."""
    seasons = ("any", "cold") if cold else ("any",)
    rows = []
    for rule in mix_rules().values():
        if rule.season not in seasons:
            continue
        for limit, sense in ((rule.low, Sense.AT_LEAST), (rule.high, Sense.AT_MOST)):
            if limit is None:
                continue
            row = _thumb(candidates, rule, Ask(sense, limit, hard=False, origin=Origin.RULE))
            rows += [] if row is None else [row]
    return rows


def _thumb(candidates: Sequence[Candidate], rule: MixRule, ask: Ask) -> Row | None:
    if rule.figure == "fat":
        return wanted.nutrient(candidates, "fat", ask)
    if rule.figure == "coarse":
        return wanted.held_back(candidates, "kitchen", ask)
    groups = {slug(name) for name in (*rule.names, rule.figure.removeprefix("role:"))}
    held = [
        one.id
        for one in candidates
        if groups & {one.id, one.ingredient.role, slug(one.ingredient.group)}
    ]
    return wanted.class_share(candidates, rule.about, ask, members=held) if held else None
