"""A mix designed, on the screen: what to weigh, what it leans on, what is too dear."""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from baitwright.blending.cuts import chance_of
from baitwright.blending.explain import Explanation, Leaning, unit_of_goal
from baitwright.blending.looked import Looked
from baitwright.blending.rounding import Broken, Weighable
from baitwright.blending.rows import Row, RowKind, apart, told
from baitwright.blending.search import Design, distance
from baitwright.blending.solver import Ended
from baitwright.blending.sweep import Sweep
from baitwright.blending.wishes import Goal
from baitwright.quantities import show, tidy
from baitwright.sheets.layout import bullet, heading, paragraph, table
from baitwright.sheets.wording import figure

_DEARER = 5
"""Ingredients left out that are told, the nearest to coming in first."""


def mix_text(found: Design, weighed: Weighable, *, batch: float | None) -> list[str]:
    """The mix by its parts, in steps that can be weighed.

    Parameters
    ----------
    found: the mix as designed.
    weighed: the same in steps.
    batch: what is to be mixed [kg], or None.
    """
    rows = mix_rows(found, weighed, batch=batch)
    widths = (42, -9, *((-14,) if batch else ()), -9)
    marked = (bullet(said, sign) for sign, said in checked_told(found, weighed))
    return [
        *table(rows, widths),
        "",
        *paragraph(best_told(found, weighed)),
        *(line for lines in marked for line in lines),
        *(line for said in steps_told(weighed) for line in paragraph(said)),
    ]


def mix_rows(found: Design, weighed: Weighable, *, batch: float | None) -> list[tuple[str, ...]]:
    """The mix as a table, its heads first; as `mix_text`."""
    by_id = {one.id: one for one in found.wishes.candidates}
    rows = [("", "share", *(("for the batch",) if batch else ()), "per kg")]
    for name, share in sorted(weighed.shares.items(), key=lambda pair: -pair[1]):
        one = by_id[name]
        mass = (show(float(share) * batch, "kg", 4),) if batch else ()
        price = "-" if one.price is None else tidy(one.price, 4)
        rows.append((one.name, share_told(share), *mass, price))
    return rows


def share_told(share: Fraction) -> str:
    """A share in steps, as it is."""
    return f"{tidy(float(100 * share), 6)} %"


def best_told(found: Design, weighed: Weighable) -> str:
    """What the mix costs, and how good it is by its goal."""
    wishes, unit = found.wishes, unit_of_goal(found).shown
    said = []
    if wishes.most is not None:
        said.append(f"{told(found.goal, unit, 4)} {wishes.most.about}, the most there is")
    elif wishes.goal is Goal.NEAREST:
        said.append(f"{told(found.goal, unit, 3)} of the present mix exchanged, the least there is")
    if found.cost is not None:
        in_steps = math.fsum(
            float(share) * (one.price or 0.0)
            for one in wishes.candidates
            if (share := weighed.shares.get(one.id))
        )
        said.append(f"costs {tidy(found.cost, 4)} per kg, in steps {tidy(in_steps, 4)}")
    if wishes.present and wishes.goal is not Goal.NEAREST:
        far = distance(wishes.present, found.shares)
        said.append(f"{show(far, '%')} of the present mix exchanged")
    first, *others = said or ["Its cost is not known"]
    return "; ".join([first[:1].upper() + first[1:], *others]) + "."


def checked_told(found: Design, weighed: Weighable) -> list[tuple[str, str]]:
    """What of the mix has to be minded, with its sign, and the chance of rows that tell one."""
    lines = []
    if found.ended is Ended.TIME:
        gap = f"{100.0 * found.gap:.2g} %"
        lines.append(("!", f"Time ran out: another mix may be better by {gap} at most."))
    for at, by in found.missed.items():
        row = found.wishes.all_rows[at]
        lines.append(("!", f"{row.name}: missed by {apart(by, row.unit)}"))
    step = show(float(weighed.step), "%")
    lines += [("!", f"In steps of {step}: {_by(one)}") for one in _hard(weighed)]
    for row in found.wishes.rows:
        if row.chance is not None:
            shares = {name: float(share) for name, share in weighed.shares.items()}
            chance = show(chance_of(row, shares), "%")
            said = f"{row.name}: chance {chance}, by how lots are judged to spread"
            lines.append(("-", said))
    return lines


def steps_told(weighed: Weighable) -> list[str]:
    """What became of the shares in steps."""
    step = show(float(weighed.step), "%")
    said = []
    if weighed.moved:
        said.append(f"Shares moved to the nearest in steps of {step} that keep every row.")
    if not _hard(weighed):
        said.append(f"In steps of {step}, every row checked again exactly: kept.")
    return said


def _hard(weighed: Weighable) -> list[Broken]:
    return [one for one in weighed.broken if not isinstance(one.wish, Row) or one.wish.hard]


def _by(one: Broken) -> str:
    if not isinstance(one.wish, Row) or one.by is None:
        return f"{one.wish.name}: not kept"
    return f"{one.wish.name}: missed by {apart(float(one.by), one.wish.unit, 2)}"


def explanation_text(found: Design, why: Explanation) -> list[str]:
    """The rows a mix leans on, and what is left out for its price."""
    lines = heading("what it leans on")
    leaning, rest = leaning_told(found, why)
    lines += [line for said in leaning for line in bullet(said)]
    lines += paragraph(rest)
    if why.too_dear:
        lines += heading("left out for its price")
        dear, more = dear_told(why)
        lines += [line for said in dear for line in bullet(said)]
        lines += paragraph(more)
    return lines


def leaning_told(found: Design, why: Explanation) -> tuple[list[str], str]:
    """The rows a mix leans on with what their next point does, and what else is to be said."""
    unit = unit_of_goal(found).shown
    rest = ""
    if not why.leaning:
        rest = "No limit of yours: the goal alone decides."
    elif found.duals is None:
        rest = "What one more point costs is not told of a mix in steps."
    return [_leaning(one, unit) for one in why.leaning], rest


def dear_told(why: Explanation) -> tuple[list[str], str]:
    """What is left out for its price, the nearest to coming in first, and how many more."""
    dear = [
        f"{one.candidate.name}: {tidy(one.price, 4)} per kg; "
        f"comes in under {figure(one.enters_at).number}"
        for one in why.too_dear[:_DEARER]
    ]
    more = len(why.too_dear) - _DEARER
    return dear, f"and {more} more" if more > 0 else ""


def _leaning(one: Leaning, unit: str) -> str:
    if not one.priced or one.row.kind is RowKind.BAN:
        return one.row.name
    if one.next_point is None:
        return f"{one.row.name}; another point cannot be had"
    return f"{one.row.name}; the next point {_does(one.next_point.value, unit)}"


def _does(change: float, unit: str) -> str:
    if abs(change) < 1e-9:
        return "costs nothing"
    size = apart(abs(change), unit)
    if unit == "per kg":
        return f"{'costs' if change > 0 else 'saves'} {size}"
    return f"{'adds' if change > 0 else 'takes'} {size}"


def sweep_text(swept: Sweep, name: str) -> list[str]:
    """The best mixes over a price, one line each."""
    lines = heading(f"as {name} moves")
    rows = [("per kg of it", "share", "the mix costs")]
    for one in swept.stretches:
        span = f"{tidy(one.low, 4)} to {tidy(one.high, 4)}"
        cost = f"{tidy(one.cost(one.low), 4)} to {tidy(one.cost(one.high), 4)}"
        rows.append((span, show(one.share, "%"), cost))
    lines += table(rows, (20, -9, -20))
    if swept.dearest is not None:
        lines += paragraph(dearest_told(swept.dearest))
    return lines


def dearest_told(price: float) -> str:
    """Where a budget ends the prices."""
    return f"Beyond {tidy(price, 4)} per kg of it no mix keeps the budget."


def looked_rows(looked: Sequence[Looked]) -> list[tuple[str, ...]]:
    """The best mix at one price after another as a table, its heads first."""
    if not looked:
        return []
    wishes = looked[0].found.wishes
    most = wishes.most.about if wishes.most is not None else "exchanged"
    rows: list[tuple[str, ...]] = [("per kg of it", "share", most)]
    for one in looked:
        found = one.found
        if not found.is_there:
            rows.append((tidy(one.price, 4), "none", "no mix keeps it"))
            continue
        share = found.shares.get(one.ingredient, 0.0)
        best = told(found.goal, unit_of_goal(found).shown, 4)
        rows.append((tidy(one.price, 4), show(share, "%"), best))
    return rows


def looked_text(looked: Sequence[Looked]) -> list[str]:
    """The best mix at one price after another, one line each."""
    if not looked:
        return []
    names = {one.id: one.name for one in looked[0].found.wishes.candidates}
    lines = heading(f"as {names[looked[0].ingredient]} moves")
    return [*lines, *table(looked_rows(looked), (20, -9, -20))]
