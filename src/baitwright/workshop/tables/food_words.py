"""Analyses of foods in words, as data, and as the lines that a recipe file takes."""

from __future__ import annotations

from typing import Any

from baitwright.workshop.tables.food_analysis import FoodAnalysis
from baitwright.workshop.tables.food_import import FoodImport, food_body
from baitwright.workshop.tables.table_words import error_data, first_of, several, wrong_line
from baitwright.workshop.typed.toml_text import quoted

_LONGEST_NAME = 80


def foods_text(done: FoodImport) -> str:
    """What became of a file of foods; the lines for a recipe of each."""
    if done.wrong:
        lines = first_of((f"  ! {wrong_line(one)}" for one in done.wrong), len(done.wrong))
        at_fault = len({one.row for one in done.wrong})
        return "\n".join((*lines, "", f"nothing imported: {at_fault} to put right"))
    lines = first_of(map(recipe_lines, done.foods), len(done.foods))
    if done.copied is None:
        return "\n".join(
            (*lines, f"# {several(len(done.foods), 'analysis')} to keep; nothing imported yet")
        )
    return "\n".join((*lines, f"# {kept_words(done)}; copied before: {done.copied}"))


def kept_words(done: FoodImport) -> str:
    """How many analyses were kept."""
    same = len(done.foods) - len(done.kept)
    return f"{several(len(done.kept), 'analysis')} kept, {same} as they were"


def recipe_lines(food: FoodAnalysis) -> str:
    """The lines that a recipe file takes, with what is worth knowing as comments."""
    total = "" if food.total is None else f"; its parts sum to {food.total:f} g"
    from_tags = ", ".join(f"{part} {tag}" for part, tag in food.tags.items())
    name = food.name if len(food.name) <= _LONGEST_NAME else food.name[: _LONGEST_NAME - 4] + " ..."
    lines = [f"# per 100 g as it is{total}", f"# from {from_tags}"]
    lines += [f"# {note}" for note in food.notes]
    lines += ["[base]", f"name = {quoted(name)}", "[base.analysis]"]
    lines += [f'{part} = "{grams:f} %"' for part, grams in food.parts.items()]
    return "\n".join((*lines, ""))


def foods_data(done: FoodImport) -> dict[str, Any]:
    """What became of a file of foods as plain data; grams in 100 g as exact text."""
    return {
        "foods": [{"name": food.name, **food_body(food)} for food in done.foods],
        "errors": [error_data(one) for one in done.wrong],
        "kept": list(done.kept),
        "copied_before": None if done.copied is None else str(done.copied),
    }
