"""Times of day: the wall clock, and what a maker writes for one."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from baitwright.terms.errors import InputError
from baitwright.workshop.typed.fields import Reads

ACCEPTED = "a local time such as 'tomorrow 17:00', '17:00' or '2026-11-27 17:00'"
_YEARS = range(2000, 2101)
_DAYS = {"today": 0, "tomorrow": 1}
_WRITTEN = re.compile(r"(?:(\S+?)(?:\s+|T))?(\d{1,2}):(\d{2})")


def wall_clock() -> datetime:
    """The local time now, to the minute."""
    return datetime.now().replace(second=0, microsecond=0)


@dataclass(frozen=True, slots=True)
class Moment:
    """A time on a date, or so many days from today; None where no day is named."""

    day: date | int | None
    at: time

    def seen_from(self, now: datetime) -> datetime:
        """The date and time it is."""
        days = self.day or 0
        day = days if isinstance(days, date) else now.date() + timedelta(days)
        return datetime.combine(day, self.at)


def moment(*, about: str) -> Reads:
    """A local time: a TOML date-time or time, the same as text, or a day's word with an hour."""

    def read(value: object) -> Moment:
        made = _from_text(value) if isinstance(value, str) else None
        if isinstance(value, datetime):
            if value.tzinfo is not None:
                hint = "Leave the zone out: it is the time on your own clock."
                raise InputError("", value, ACCEPTED, hint=hint)
            made = Moment(value.date(), value.time())
        if isinstance(value, time):
            made = Moment(None, value)
        if made is None or (isinstance(made.day, date) and made.day.year not in _YEARS):
            raise InputError("", value, ACCEPTED)
        return made

    schema = {"type": "string", "examples": ["tomorrow 17:00", "17:00", "2026-11-27 17:00"]}
    return Reads(read, ACCEPTED, about, schema)


def _from_text(text: str) -> Moment | None:
    found = _WRITTEN.fullmatch(text.strip())
    if found is None:
        return None
    at = time(int(found[2]), int(found[3]))
    if found[1] is None:
        return Moment(None, at)
    day = _DAYS.get(found[1].lower())
    return Moment(date.fromisoformat(found[1]) if day is None else day, at)


def leaving_time(written: Moment, now: datetime) -> datetime:
    """When the maker leaves; an hour without a day is the next one after now.

    Raises
    ------
    InputError: that is past, or more than a year away.
    """
    leaving = written.seen_from(now)
    if written.day is None and leaving <= now:
        leaving += timedelta(days=1)
    if now < leaving <= now + timedelta(days=366):
        return leaving
    accepted = f"a time after now, which is {now:%Y-%m-%d %H:%M}, and within a year"
    hint = "Such as 'tomorrow 17:00'."
    raise InputError("leaving", f"{leaving:%Y-%m-%d %H:%M}", accepted, hint=hint)
