"""A form of the bench as taps: for a page without a script, and the page's data for one with."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Any

from baitwright.terms.errors import InputError
from baitwright.workshop.bench.bench_book import AtBench
from baitwright.workshop.bench.bench_written import told_at
from baitwright.workshop.strip.bench_entries import Entry, read_entry
from baitwright.workshop.strip.bench_strip import StripStep
from baitwright.workshop.strip.bench_tap import LONGEST, Tap, Tapped, tap_from_json

DEED, TOLD, SHOWN = "deed", "told.", "shown."
"""Fields of a form: what its button does, what stands in an entry, and what stood there."""
_TICK = timedelta(milliseconds=1)


def taps_of_form(
    found: AtBench, pairs: Iterable[tuple[str, str]], *, now: datetime
) -> tuple[Tap, ...]:
    """The taps that a form comes to: values that were changed in it, then its deed.

    Parameters
    ----------
    found: the batch at the bench.
    pairs: the form's fields: id, step, deed, and entries with what stood in them.
    now: after every tap that is there, so that this one comes last.

    Raises
    ------
    InputError: a value that cannot be, told with its field, or no deed.
    """
    form = dict(pairs)
    step = next((one for one in found.strip if one.key == form.get("step")), None)
    if step is None:
        raise InputError("step", form.get("step"), "a step of this batch")
    deed, _, name = form.get(DEED, "").partition(":")
    if deed not in {*Tapped, "changed"}:
        raise InputError(DEED, deed, ", ".join(Tapped))
    at = max([now, *(one.at + _TICK for one in found.taps)])
    values = [one for one in step.entries if _is_told(one, form)]
    told = [{"kind": Tapped.VALUE, "name": one.name, "told": _read(one, form)} for one in values]
    if deed in {Tapped.DONE, Tapped.START, Tapped.STOP, Tapped.UNDO}:
        more = {"ends": _ends(step, name, now)} if deed == Tapped.START else {}
        told.append({"kind": deed, "name": name, **more})
    key = form.get("id", "")
    return tuple(
        tap_from_json(
            {"id": f"{key}-{turn}", "at": (at + turn * _TICK).isoformat(), "step": step.key, **one}
        )
        for turn, one in enumerate(told)
    )


def bench_as_json(found: AtBench) -> dict[str, Any]:
    """What the page's script folds: the steps in short, the taps, what cannot be read."""
    steps = [
        {
            "key": one.key,
            "timings": [
                {"name": each.name, "seconds": each.seconds, "by_itself": each.by_itself}
                for each in one.timings
            ],
        }
        for one in found.strip
    ]
    return {"batch": found.batch.name, "steps": steps, **taps_as_json(found)}


def taps_as_json(found: AtBench) -> dict[str, Any]:
    """The taps there are, and which values cannot be read."""
    _, refused = told_at(found)
    wrong = {one.entry.name: f"{one.typed}: {one.said}" for one in refused}
    return {"taps": [one.as_json() for one in found.taps], "wrong": wrong}


def _is_told(entry: Entry, form: dict[str, str]) -> bool:
    typed = form.get(f"{TOLD}{entry.name}", "").strip()
    return form.get(DEED) == f"{Tapped.VALUE}:{entry.name}" or (
        bool(typed) and typed != form.get(f"{SHOWN}{entry.name}", "").strip()
    )


def _read(entry: Entry, form: dict[str, str]) -> str:
    """What was typed, which can be read."""
    typed, field = form.get(f"{TOLD}{entry.name}", "").strip(), f"{TOLD}{entry.name}"
    if not typed or len(typed) > LONGEST:
        raise InputError(field, typed[:80] or None, f"what it was, such as {entry.example}")
    try:
        read_entry(entry, typed)
    except InputError as error:
        raise InputError(field, typed, error.accepted, hint=error.hint) from None
    return typed


def _ends(step: StripStep, name: str, now: datetime) -> str:
    timing = next((one for one in step.timings if one.name == name), None)
    if timing is None:
        raise InputError("timer", name, "a timer of this step")
    return (now + timedelta(seconds=timing.seconds)).isoformat()
