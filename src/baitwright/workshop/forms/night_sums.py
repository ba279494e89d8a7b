"""What a night tells of itself held together: fish, bites, rods and hours."""

from __future__ import annotations

import math

from baitwright.terms.errors import InputError
from baitwright.workshop.forms.form_events import NightTable, RodTable

FASTEST = 300.0
"""No rod has more than one bite in so many seconds (judgement): it has to be cast again."""
_ROUNDED = 1.0 + 1e-9


def night_adds_up(told: NightTable) -> None:
    """Refuse more fish than bites, bites than the hours allow, and more of rods than in all.

    Raises
    ------
    InputError: there are.
    """
    rows: list[tuple[str, NightTable | RodTable]] = [("", told)]
    rows += [(f"rod[{at}].", rod) for at, rod in enumerate(told.rod, start=1)]
    for place, row in rows:
        ended = (row.fish or 0) + (row.lost or 0)
        if row.bites is not None and ended > row.bites:
            accepted = f"{row.bites} landed and lost at most, as many as bites"
            raise InputError(f"{place}fish", ended, accepted)
        hours = row.rod_hours if isinstance(row, NightTable) else row.hours
        if row.bites is not None and hours is not None:
            bites_that_fit(f"{place}bites", row.bites, hours)
    of_rods = math.fsum(rod.hours or 0.0 for rod in told.rod)
    if told.rod_hours is not None and of_rods > told.rod_hours * _ROUNDED:
        accepted = f"{of_rods / 3600.0:.4g} h at least, which the rods fished"
        raise InputError("rod_hours", f"{told.rod_hours / 3600.0:.4g} h", accepted)
    by_rod = sum(rod.bites or 0 for rod in told.rod)
    if told.bites is not None and by_rod > told.bites:
        raise InputError("bites", told.bites, f"{by_rod} at least, which the rods had")


def bites_that_fit(field: str, bites: int, hours: float) -> None:
    """Refuse more bites than rod-hours allow.

    Raises
    ------
    InputError: more than one in five minutes of a rod.
    """
    most = math.floor(hours / FASTEST)
    if bites > most:
        accepted = f"{most} at most in {hours / 3600.0:.4g} rod-hours, one in five minutes"
        raise InputError(field, bites, accepted)
