"""What an export or an import did, in words and for programs."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import Any

from baitwright.notebook.merging import Fate, Held, Merge
from baitwright.workshop.copies.export_all import Exported
from baitwright.workshop.copies.import_all import Imported
from baitwright.workshop.copies.rebuild import Rebuilt
from baitwright.workshop.nights.night_doubts import doubt_json, doubt_words

_ROWS = {
    "revisions": "versions of records",
    "movements": "lines of the shelf's book",
    "reservations": "reservations",
    "links": "links of traces",
    "people": "people",
    "tombstones": "purged records",
}
_MOST = 20
"""Names that are told one by one; programs get all."""


def exported_text(made: Exported) -> str:
    """What is in the file, and what could not be put in."""
    lines = [f"written: {made.path}", f"  {_counts(made.rows)}; {made.files} attached files"]
    if made.missing:
        lines.append("  missing, or no longer what they were:")
        lines += _some([f"    {one.path}" for one in made.missing])
    return "\n".join(lines)


def exported_json(made: Exported) -> Mapping[str, Any]:
    """The same for programs."""
    missing = [{"path": one.path, "sha256": one.sha256} for one in made.missing]
    return {"file": str(made.path), "rows": made.rows, "files": made.files, "missing": missing}


def imported_text(found: Imported) -> str:
    """What came in, or would, and what stands in the way."""
    if found.merge is None:
        word = "put in" if found.is_done else "would be put in"
        return "\n".join((f"{found.path} {word}: {_counts(found.whole)}", *_after(found)))
    lines = [f"{found.path}, held against your notebook:"]
    lines += [f"  {line}" for line in what_comes(found)]
    return "\n".join((*lines, *_after(found)))


def what_comes(found: Imported) -> Iterator[str]:
    """What comes in, what differs, and what stands in the way, line by line."""
    if found.merge is None:
        yield _counts(found.whole)
        return
    yield from _told(found.merge)
    yield from (f"cannot come in: {one}" for one in found.hindrances)


def imported_json(found: Imported) -> Mapping[str, Any]:
    """The same for programs."""
    told: dict[str, Any] = {"file": str(found.path), "done": found.is_done, "files": found.files}
    told["backup"] = None if found.backup is None else str(found.backup)
    told["doubtful"] = [doubt_json(one) for one in found.doubtful]
    if found.merge is None:
        return {**told, "rows": found.whole}
    merge = found.merge
    return {
        **told,
        "same": merge.same,
        "records": [_record(one) for one in merge.records],
        "people": [{"code": code, "is": fate.value} for code, fate in merge.people],
        "entries": len(merge.entries),
        "reservations": len(merge.reservations),
        "links": len(merge.links),
        "hindrances": list(found.hindrances),
    }


def rebuilt_text(made: Rebuilt, *, where: object) -> str:
    """What came back from plain pages, and what did not."""
    lines = [f"made anew: {where}", f"  {_counts(made.rows)}"]
    return "\n".join((*lines, *(f"  not there: {one}" for one in made.lost)))


def _told(merge: Merge) -> Iterator[str]:
    counts = Counter((one.fate, one.kind) for one in merge.records)
    for fate in (Fate.NEW, Fate.GOES_ON, Fate.ALIKE):
        kinds = [f"{n} {kind}" for (which, kind), n in sorted(counts.items()) if which is fate]
        if kinds:
            yield f"{fate.value}: {', '.join(kinds)}"
    yield f"as here: {merge.same} records"
    people = sum(fate in (Fate.NEW, Fate.GOES_ON) for _, fate in merge.people)
    lines = (len(merge.entries), len(merge.reservations), len(merge.links), people)
    yield "new: {} entries of the shelf's book, {} reservations, {} links, {} people".format(*lines)
    differing = [
        f"differs: {one.kind} {one.name}, version {one.here} here, {one.there} in the file"
        for one in merge.differing
    ]
    yield from _some(differing)
    yield from _some([f"differs: {code}" for code in merge.differing_people])


def _after(found: Imported) -> Iterator[str]:
    if found.backup is not None:
        yield f"copied before: {found.backup}"
    if found.files:
        yield f"{found.files} attached files put beside the notebook"
    doubts = [f"night {one.night} is doubtful: {doubt_words(one)}" for one in found.doubtful]
    yield from _some(doubts)
    if found.is_done:
        yield "done"
    elif found.hindrances:
        yield "Nothing was imported."
    elif not found.is_decided:
        yield (
            "Nothing was imported: say --keep mine to leave what differs as it is here, or "
            "--keep theirs to write theirs as the next version."
        )
    else:
        yield "Nothing was imported: it was a dry run."


def _record(one: Held) -> Mapping[str, Any]:
    told = {"kind": one.kind, "name": one.name, "is": one.fate.value}
    return {**told, "here": one.here, "there": one.there}


def _counts(rows: Mapping[str, int]) -> str:
    told = [f"{count} {_ROWS.get(name, name)}" for name, count in rows.items() if count]
    return ", ".join(told) or "nothing"


def _some(lines: list[str]) -> list[str]:
    more = len(lines) - _MOST
    return lines if more <= 0 else [*lines[:_MOST], f"    and {more} more"]
