"""The plan for people in a terminal: one number alone, its band in brackets, defaults marked."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

from baitwright.batch.batch_plan import BatchPlan
from baitwright.sheets import text_glug, text_keep, text_made, text_used
from baitwright.sheets.layout import WIDTH, bullet, heading, paragraph
from baitwright.sheets.text_short import in_short
from baitwright.sheets.wording import MARK, clock, day, defaults_in, span, stated
from baitwright.sources import key_said
from baitwright.terms.notes import Note, Weight

_SIGNS = {Weight.REMARK: "-", Weight.DOUBT: "?", Weight.CAUTION: "!"}


@dataclass(frozen=True, slots=True)
class Section:
    """One heading of the plan: its lines, the numbers it stands on, and the notes it takes in."""

    title: str
    lines: Callable[[BatchPlan], list[str]]
    stands_on: Callable[[BatchPlan], Any]
    notes: tuple[str, ...] = ()


SECTIONS = (
    Section("Eggs", text_made.eggs, lambda plan: plan.eggs, ("eggs",)),
    Section("Mix", text_made.mix, lambda plan: (plan.mix, plan.tub_left), ("mix",)),
    Section("Doses", text_made.doses, lambda plan: plan.doses, ("dose",)),
    Section("Roll", text_made.roll, lambda plan: plan.rolled, ("roll",)),
    Section("Boil", text_made.boil, lambda plan: plan.boil, ("boil",)),
    Section("Dry", text_made.dry, lambda plan: plan.dry, ("dry",)),
    Section(
        "Glug and coat",
        text_glug.glug_and_coat,
        lambda plan: (plan.coat, plan.glug),
        ("coat", "glug"),
    ),
    Section("Keep", text_keep.keep, lambda plan: plan.keep, ("keep",)),
    Section("In the water", text_used.water, lambda plan: plan.water, ("float", "water")),
    Section("On the rig", text_used.on_rig, lambda plan: plan.rig, ("balance",)),
    Section("Through the night", text_used.night, lambda plan: plan.soak, ("soak",)),
    Section("Day", text_used.working_back, text_used.of_the_day, ("day",)),
    Section("Free bait", text_used.free_bait, lambda plan: plan.free_bait, ("match",)),
    Section("Care", text_used.care, lambda plan: plan.care, ("care",)),
    Section("Prove", text_used.prove, lambda plan: plan.readings, ("prove",)),
)


def plan_text(plan: BatchPlan) -> str:
    """A plan as plain text of at most 100 columns, in the order in which baits are made."""
    lines = _head(plan) + in_short(plan)
    marked: set[str] = set()
    told: set[str] = set()
    for section in SECTIONS:
        body = section.lines(plan)
        if not body:
            continue
        lines += heading(section.title) + body
        fresh = {
            key: quantity
            for key, quantity in defaults_in(section.stands_on(plan)).items()
            if key not in marked
        }
        marked |= fresh.keys()
        if fresh:
            taken = "; ".join(f"{part.label} {stated(part)}{MARK}" for part in fresh.values())
            lines += paragraph(f"Taken: {taken}", then="    ")
        lines += _remarks(note for note in plan.notes if note.stage in section.notes)
        told.update(section.notes)
    others = [note for note in plan.notes if note.stage not in told]
    if others:
        lines += heading("Notes") + _remarks(others)
    return "\n".join([*lines, *_legend()]) + "\n"


def _remarks(notes: Iterable[Note]) -> list[str]:
    return [
        line
        for note in notes
        for line in bullet(f"{note.text} [{key_said(note.source)}]", _SIGNS[note.weight])
    ]


def _head(plan: BatchPlan) -> list[str]:
    recipe, bench = plan.request.recipe, plan.request.bench
    lines = paragraph(recipe.name, first="", then="")
    if recipe.invented:
        lines += ["Invented demo: maker, recipe and water do not exist."]
    lines += paragraph(f"{text_made.wanted(recipe)}, from {recipe.base.name}", first="", then="")
    when = f"Planned {day(bench.now)} {clock(bench.now)}."
    if bench.leaving is not None:
        spare = f"LATE by {span(-plan.day.slack)}" if plan.day.late else "on time"
        spare = spare if plan.day.dries else "does not dry here"
        when += f" Leaving {day(bench.leaving)} {clock(bench.leaving)}: {spare}."
    return [*lines, when]


def _legend() -> list[str]:
    return [
        "",
        "-" * WIDTH,
        *paragraph(
            "(a to b): 8 in 10 batches like this lie between; for a single bait, 8 in 10 baits.",
            first="",
            then="",
        ),
        *paragraph(
            f"{MARK} a default nobody has stated or measured; judgement or common practice. State "
            "yours in the bench file, or weigh it.",
            first="",
            then="  ",
        ),
        "- remark   ? doubt   ! caution",
    ]
