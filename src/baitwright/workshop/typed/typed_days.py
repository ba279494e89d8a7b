"""Days as they are typed."""

from __future__ import annotations

from datetime import date

from baitwright.terms.errors import InputError


def read_day(text: str, today: date) -> date:
    """A best-before day, today or later.

    Raises
    ------
    InputError: no day, or one that is over.
    """
    accepted = f"a day such as {today.replace(year=today.year + 1, day=1)}, today or later"
    day = any_day(text, "best-before", accepted=accepted)
    if day < today:
        raise InputError("best-before", text, accepted)
    return day


def read_past_day(text: str, today: date, *, field: str = "day") -> date:
    """A day that is today or over; today if none is told.

    Raises
    ------
    InputError: no day, or one that is still to come.
    """
    accepted = f"a day such as {today}, today or before"
    day = any_day(text, field, accepted=accepted) if text else today
    if day > today:
        raise InputError(field, text, accepted)
    return day


def any_day(text: str, field: str, *, accepted: str = "a day such as 2027-05-01") -> date:
    """A day as typed.

    Raises
    ------
    InputError: no day.
    """
    try:
        return date.fromisoformat(text.strip())
    except ValueError:
        raise InputError(field, text, accepted) from None
