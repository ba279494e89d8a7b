"""One tap at the bench: what is done, told, timed or taken back, as a page sends it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from enum import StrEnum
from typing import Any

from baitwright.notebook.hidden import refuse_hidden
from baitwright.terms.errors import InputError

LONGEST = 500
_ID = re.compile(r"[A-Za-z0-9-]{8,40}")
_LAST = timedelta(hours=400)
"""A timer runs for so long at most (judgement): no tray is longer about it."""
TAPS = "bench"
"""The kind of record that keeps what was tapped."""


class Tapped(StrEnum):
    """What a tap does."""

    DONE = "done"
    VALUE = "value"
    START = "start"
    STOP = "stop"
    UNDO = "undo"


@dataclass(frozen=True, slots=True)
class Tap:
    """One tap.

    Parameters
    ----------
    id: made where it was tapped.
    kind: what it does.
    at: when, with its zone.
    step: at which step.
    name: the entry a value is for, the timer that starts or stops, or the tap that is undone.
    told: a value, as it was typed.
    ends: of a timer that starts, on the clock.
    """

    id: str
    kind: Tapped
    at: datetime
    step: str = ""
    name: str = ""
    told: str = ""
    ends: datetime | None = None

    def as_json(self) -> dict[str, str]:
        """As a record and a page have it."""
        told = {"id": self.id, "kind": self.kind.value, "at": _written(self.at)}
        told |= {key: getattr(self, key) for key in ("step", "name", "told")}
        told["ends"] = "" if self.ends is None else _written(self.ends)
        return {key: text for key, text in told.items() if text}


def tap_from_json(data: Any) -> Tap:
    """A tap as a page sends it.

    Raises
    ------
    InputError: what of it cannot be.
    """
    if not isinstance(data, Mapping) or not all(isinstance(one, str) for one in data.values()):
        raise InputError("tap", data, "a tap: id, kind, at and what it is about, as words")
    told: dict[str, str] = dict(data)
    for key, longest in (("step", 8), ("name", 200), ("told", LONGEST)):
        if len(told.get(key, "")) > longest:
            raise InputError(key, f"{len(told[key])} characters", f"{longest} at most")
        refuse_hidden(key, told.get(key, ""))
    if not _ID.fullmatch(told.get("id", "")):
        raise InputError("id", told.get("id"), "8 to 40 letters, digits and hyphens")
    if told.get("kind") not in set(Tapped):
        raise InputError("kind", told.get("kind"), ", ".join(Tapped))
    kind, at = Tapped(told["kind"]), _moment("at", told.get("at", ""))
    ends = _moment("ends", told.get("ends", "")) if kind is Tapped.START else None
    if ends is not None and abs(ends - at) > _LAST:  # clocks of two devices may disagree
        raise InputError("ends", told["ends"], "a time within 400 h of its start")
    words = {key: told.get(key, "") for key in ("step", "name", "told")}
    return Tap(told["id"], kind, at, ends=ends, **words)


def _moment(name: str, text: str) -> datetime:
    accepted = "a moment with its zone, such as 2026-11-27T09:00:00+00:00"
    try:
        found = datetime.fromisoformat(text)
    except ValueError:
        raise InputError(name, text, accepted) from None
    if found.tzinfo is None or not 2000 <= found.year <= 2100:
        raise InputError(name, text, accepted)
    whole = found.replace(microsecond=found.microsecond // 1000 * 1000)  # no page knows more
    return whole.astimezone(UTC)


def _written(moment: datetime) -> str:
    return moment.isoformat(timespec="milliseconds")
