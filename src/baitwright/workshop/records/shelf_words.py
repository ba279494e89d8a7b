"""Recipes of the notebook in words: what is there, what changed, which versions there were."""

from __future__ import annotations

from collections.abc import Iterable

from baitwright.notebook.page import Revision
from baitwright.notebook.where import Where
from baitwright.workshop.forms.changes import Change, change_lines
from baitwright.workshop.recipes.recipe_changes import changes_between, text_of
from baitwright.workshop.recipes.recipe_shelf import Kept
from baitwright.workshop.tubs.mixing import Mixed


def kept_text(kept: Kept) -> str:
    """What became of a recipe that was to be kept."""
    one = kept.revision
    if not kept.is_new:
        return f"{one.name}: as version {one.version}, nothing new to keep"
    if one.body is None:
        return f"{one.name}: taken away; its versions stay, and --undo brings it back"
    lines = [f"{one.name}: kept as version {one.version}"]
    return "\n".join((*lines, *_changes(kept.changes, first=one.version == 1)))


def shelf_text(found: tuple[Revision, ...], *, where: Where, copied: str, kinds: str = "") -> str:
    """Every recipe with its newest version, other kinds, and when the notebook was copied."""
    lines = [f"Notebook {where}", ""]
    named = [f"  {one.name}: version {one.version}, {told_of(one)}" for one in found]
    lines += named or ["No recipe yet: baitwright keep RECIPE"]
    lines += ["", kinds] if kinds else []
    return "\n".join((*lines, "", copied))


def history_text(found: tuple[Revision, ...]) -> str:
    """Every version of a recipe, and what each changed."""
    lines, before = [found[0].name], ""
    for one in found:
        lines += ["", f"  version {one.version}: {told_of(one)}"]
        if one.body is not None:
            changed = changes_between(before, text_of(one))
            lines += _changes(changed, first=not before)
            before = text_of(one)
    return "\n".join(lines)


def mixed_text(made: Mixed, moved: str) -> str:
    """A tub that was made, what it took, and what the shelf did not have."""
    lines = [moved, f"tub of {made.item}: lot {made.lot}, write it on the lid"]
    if made.missing:
        lines.append(
            f"not on the shelf, so not in the trace or the cost: {', '.join(made.missing)}"
        )
    return "\n".join(lines)


def told_of(one: Revision) -> str:
    """When a version was written, whether it was taken away, and why."""
    gone = "" if one.body is not None else "taken away" if one.reason else "purged"
    when = f"{one.time.astimezone():%a %d %b %Y %H:%M}"
    return ", ".join(filter(None, (when, gone, one.reason)))


def _changes(changes: Iterable[Change], *, first: bool) -> list[str]:
    """Each entry that differs; a first version differs from nothing."""
    if first:
        return []
    return change_lines(changes, margin="    ") or ["    comments or spacing only"]
