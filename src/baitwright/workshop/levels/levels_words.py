"""The levels answer as a maker reads it."""

from __future__ import annotations

from collections.abc import Iterator

from baitwright.quantities import show, tidy
from baitwright.workshop.levels.level_advice import advice_lines
from baitwright.workshop.levels.level_lines import COVERAGE, answer_lines, between, mark
from baitwright.workshop.levels.levels import Answer, Levels
from baitwright.workshop.levels.levels_back import asks_back
from baitwright.workshop.levels.levels_grades import grade_rows
from baitwright.workshop.levels.levels_together import together_lines
from baitwright.workshop.typed.unstated import SHOWN


def levels_text(found: Levels, *, table: bool = False) -> str:
    """The whole answer; with ``table`` also the dose for 1 to 12 eggs and for every grade."""
    lines = [eggs_line(found), dry_mix_line(found)]
    for answer in found.answers:
        lines += ["", *_answer(answer, found)]
        if table:
            lines += ["", *_table(answer, found)]
    for more in (together_lines(found), asks_back(found)):
        told = list(more)
        lines += ["", *told] if told else []
    return "\n".join(lines)


def eggs_line(found: Levels) -> str:
    """What is in the bowl."""
    bowl = found.bowl
    half = COVERAGE * bowl.volume.relative
    doubt = f", give or take {tidy(100 * half, 2)} %" if half else ""
    if bowl.counted:
        count = f"{bowl.count:g} of {show(bowl.per_egg, 'ml')}"
    else:
        count = f"not counted, taken as {tidy(bowl.count, 2)} of {show(bowl.per_egg, 'ml')}"
    return f"Eggs: {show(bowl.volume.value, 'ml')} in the bowl{doubt} ({count})."


def dry_mix_line(found: Levels) -> str:
    """The bridge between an egg and a kilogram of mix, and whose it is."""
    low, high = found.bridges.low.dry_mix, found.bridges.high.dry_mix
    if low == high:
        return f"Dry mix: {show(low, 'g')} an egg, as you say."
    return (
        f"Dry mix: {between(low, high, 'g')} an egg (common practice, no source). "
        "Weigh the tub before and after to know yours."
    )


def _answer(answer: Answer, found: Levels) -> Iterator[str]:
    yield heading(answer)
    yield from (_line(head, words) for head, words in all_lines(answer, found))


def all_lines(answer: Answer, found: Levels) -> Iterator[tuple[str, str]]:
    """Everything told of one level: the dose and its bases, then what goes with it."""
    yield from answer_lines(answer, found)
    yield from advice_lines(answer, found)


def heading(answer: Answer) -> str:
    """A level with the name of its liquid, where it has one."""
    liquid, unnamed = answer.liquid, answer.liquid.level.text
    return liquid.name if liquid.name == unnamed else f"{liquid.name}: {unnamed}"


def _line(head: str, words: str) -> str:
    return f"  {head:10}{words}"


def table_rows(answer: Answer) -> Iterator[tuple[int, str, str]]:
    """The dose for so many eggs, and the mark to draw to where there is one."""
    for row in answer.table:
        amount = between(row.dose, row.dose, SHOWN[answer.liquid.level.measure])
        yield row.eggs, amount, mark(row.fill) if row.fill else ""


def _table(answer: Answer, found: Levels) -> Iterator[str]:
    yield f"  eggs of {show(found.bowl.per_egg, 'ml')}"
    for eggs, amount, drawn in table_rows(answer):
        yield f"  {eggs:6}  {amount:>10}{drawn and '   '}{drawn}"
    yield ""
    yield "  one egg, by grade"
    for name, egg, amount in grade_rows(answer, found):
        yield f"  {name:15}{egg:>17}{amount:>19}"
