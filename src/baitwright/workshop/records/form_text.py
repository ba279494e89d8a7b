"""Records in words: one of them with its versions, those of a kind, and all kinds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from baitwright.notebook.attachments import PATH, Shelf
from baitwright.notebook.page import Revision
from baitwright.workshop.forms.attached import since
from baitwright.workshop.forms.changes import change_lines, entries_changed
from baitwright.workshop.forms.form import FILES, WRITTEN
from baitwright.workshop.forms.form_lists import Known, name_of
from baitwright.workshop.records.form_mentions import PEOPLE
from baitwright.workshop.records.shelf_words import told_of
from baitwright.workshop.told.field_words import words_of


def written_text(made: Revision) -> str:
    """What became of a record that was written, and what to mind about it."""
    head = f"{made.kind} {made.name}"
    if made.body is None:
        return f"{head}: taken away; its versions stay, and --undo brings it back"
    return "\n".join((f"{head}: written down as version {made.version}", *cautions(made)))


def record_text(versions: tuple[Revision, ...], known: Known, *, files: Shelf) -> str:
    """One record as it stands, its files, and what each version changed.

    Parameters
    ----------
    versions: all of it, the first one first.
    known: people, for the codes it mentions.
    files: where photos and papers lie.
    """
    last = versions[-1]
    lines = [f"{last.kind} {last.name}"]
    body = last.body or {}
    lines += _entries(said_in(body), known) or ["  taken away or purged"]
    for one in body.get(FILES, []):
        now = since(one, files)
        lines.append(f"  {'! ' * bool(now)}file {one[PATH]}{': ' * bool(now)}{now}")
    lines += cautions(last)
    before: Mapping[str, Any] = {}
    for one in versions:
        lines += ["", f"  version {one.version}: {told_of(one)}"]
        after = compared(one)
        if before and after:
            lines += change_lines(entries_changed(before, after), margin="    ")
        before = after or before
    return "\n".join(lines)


def person_text(code: str, body: Mapping[str, Any] | None) -> str:
    """What is known of one person."""
    written = (body or {}).get(WRITTEN, {})
    return "\n".join((code, *(_entries(written, {}) or [f"  {name_of(body)}"])))


def record_json(versions: tuple[Revision, ...]) -> dict[str, Any]:
    """One record as data, in SI and as it was written, with its versions."""
    last = versions[-1]
    every = [
        {"version": one.version, "time": one.time.isoformat(), "reason": one.reason}
        for one in versions
    ]
    told = {"kind": last.kind, "name": last.name, "version": last.version}
    return {**told, "body": last.body, "versions": every}


def cautions(made: Revision) -> Iterator[str]:
    """What a record says of dangers, and where more of it stands."""
    body = made.body or {}
    if body.get("hazards"):
        codes = ", ".join(body["hazards"])
        yield f"  ! hazard phrases {codes}: read its data sheet before you open it"
    elif made.kind in ("liquid", "blend") and body:
        yield "  ! no hazard phrases written down; that says nothing of the liquid itself"


def compared(one: Revision) -> dict[str, Any]:
    """What of a version is held against another one's: its entries and its files."""
    body = one.body or {}
    files = {one[PATH]: one["sha256"][:12] for one in body.get(FILES, [])}
    return {**body.get(WRITTEN, {}), **({FILES: files} if files else {})}


def entries(written: Mapping[str, Any], known: Known, place: str = "") -> Iterator[tuple[str, str]]:
    """What a record says, each entry with what it is called; rows of a list on one line each."""
    for key, value in written.items():
        if isinstance(value, Mapping):
            yield from entries(value, known, f"{place}{key}.")
        elif isinstance(value, list) and value and isinstance(value[0], Mapping):
            for at, row in enumerate(value, start=1):
                yield f"{place}{key} {at}", _row(row)
        else:
            told = "; ".join(map(str, value)) if isinstance(value, list) else str(value)
            who = f" ({name_of(known.get(told))})" if key in PEOPLE else ""
            yield f"{place}{_label(key)}", f"{told}{who}"


def said_in(body: Mapping[str, Any]) -> dict[str, Any]:
    """What a record says as it was written, with codes and states as the notebook has them."""
    plain = {key: body[key] for key in (*PEOPLE, "state") if key in body}
    return {**body.get(WRITTEN, {}), **plain}


def _entries(written: Mapping[str, Any], known: Known) -> list[str]:
    every = entries(written, known)
    return [f"  {label}: {told}".replace("\n", "\n      ") for label, told in every]


def _row(row: Mapping[str, Any]) -> str:
    return ", ".join(f"{_label(key)} {value}" for key, value in row.items())


def _label(key: str) -> str:
    return words_of(key)
