"""A recipe's winter version as a maker reads it, and as data."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from baitwright.quantities import show
from baitwright.recipe.free_bait import left_out
from baitwright.sheets.layout import bullet, heading, table
from baitwright.sheets.text_soak import INVENTED
from baitwright.sources import key_said
from baitwright.workshop.baits.beside_words import IN_BRACKETS, beside_json, beside_lines
from baitwright.workshop.baits.winter_bait import Wintered

SIDES = ("as it is", "winter version")
NOTHING = "Nothing: it is a bait for cold water as it is."
RESTS_ON = (
    "How much of a flavour a cold carp needs is not known: levels are raised so that cold water "
    "carries off as much of each as warm water did, and no further than is usual."
)
_WIDTHS = (46, -14, -14)


def title(made: Wintered) -> str:
    """What it is the winter version of."""
    return f"{made.before.name}: its winter version"


def turned(made: Wintered) -> list[str]:
    """Every change with its reason."""
    return [
        f"{one.about}: {one.after} instead of {one.before}. {one.why[0].upper()}{one.why[1:]}. "
        f"[{key_said(one.source)}]"
        for one in made.turns
    ]


def parts(made: Wintered) -> list[tuple[str, str, str]]:
    """Every part of the base before and after; nothing where the base stays as it is."""
    if made.recipe.base == made.before.base:
        return []
    return [(name, _share(was), _share(now)) for name, was, now in made.parts]


def stays(made: Wintered) -> tuple[str, ...]:
    """What was looked at and left, and what is never looked at."""
    others = ("hardness", *left_out(made.before))
    return (*made.left, f"As they are in any case: {', '.join(others)}.")


def _share(share: float) -> str:
    return show(share, "%") if share else "none"


def winter_words(made: Wintered) -> str:
    """Everything of a winter version."""
    lines = [title(made), *([INVENTED] if made.before.invented else [])]
    lines += heading("What changes")
    changes = turned(made) or [NOTHING]
    lines += [line for one in changes for line in bullet(one)]
    if held := parts(made):
        lines += ["", *table([("SHARE OF THE BASE", *SIDES), *held], _WIDTHS)]
    lines += heading("What stays")
    lines += [line for one in stays(made) for line in bullet(one)]
    lines += heading("Side by side")
    lines += beside_lines(made.rows, SIDES)
    lines += heading("Keep in mind")
    lines += [*bullet(RESTS_ON), *bullet(IN_BRACKETS)]
    return "\n".join(lines) + "\n"


def winter_json(made: Wintered, text: str) -> dict[str, Any]:
    """The same as plain data, with the text of the recipe file."""
    return {
        "recipe": made.before.name,
        "winter": made.recipe.name,
        "invented": made.before.invented,
        "changes": [asdict(one) for one in made.turns],
        "stays": list(stays(made)),
        "parts": [
            {"ingredient": name, "before": was, "after": now} for name, was, now in made.parts
        ],
        "beside": beside_json(made.rows, ("before", "winter")),
        "file": text,
    }
