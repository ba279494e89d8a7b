"""The rules of a water, as a record: what its owner allows, when that was asked, and where."""

from __future__ import annotations

from datetime import date
from typing import Annotated

from baitwright.advice.venue_rules import (
    ALLOWED,
    BANNED,
    BY_PERMIT,
    HOOKBAITS_ONLY,
    OWN_ONLY,
    PREPARED_ONLY,
)
from baitwright.workshop.forms.form_fields import notes, on_day, person_code, several, tally, weight
from baitwright.workshop.forms.form_things import FormTable
from baitwright.workshop.typed.words import one_of, text

_LEFT_OUT = "left out, not known."


class WaterTable(FormTable):
    """A water with its rules; what is left out is not known, which is not the same as allowed."""

    nuts: Annotated[str, one_of((BANNED, OWN_ONLY, ALLOWED), about=f"Nuts; {_LEFT_OUT}")] = ""
    particles: Annotated[
        str,
        one_of((BANNED, PREPARED_ONLY, OWN_ONLY, ALLOWED), about=f"Seeds and pulses; {_LEFT_OUT}"),
    ] = ""
    banned: Annotated[
        tuple[str, ...],
        several(
            about="Baits and ingredients that are not allowed.", example="fishmeal; glug; sweetener"
        ),
    ] = ()
    free_bait_most: Annotated[
        float | None, weight("3 kg", "200 kg", "Free bait for one outing, as it goes in.")
    ] = None
    floating_baits: Annotated[
        str, one_of((BANNED, HOOKBAITS_ONLY, ALLOWED), about=f"Baits that float; {_LEFT_OUT}")
    ] = ""
    lead: Annotated[str, one_of((BANNED, ALLOWED), about=f"Lead of any size; {_LEFT_OUT}")] = ""
    barbed_hooks: Annotated[
        str, one_of((BANNED, ALLOWED), about=f"Hooks with a barb; {_LEFT_OUT}")
    ] = ""
    rigs: Annotated[
        str, notes(about="What else of rigs and leads.", example="the lead must come off")
    ] = ""
    rods_most: Annotated[int | None, tally("Rods to one angler.", example=2)] = None
    night_fishing: Annotated[
        str, one_of((BANNED, BY_PERMIT, ALLOWED), about=f"Fishing by night; {_LEFT_OUT}")
    ] = ""
    permit: Annotated[str, text(about="What ticket it takes.", example="season ticket 12")] = ""
    permit_until: Annotated[date | None, on_day(about="Until when yours is good.")] = None
    biosecurity: Annotated[
        str, notes(about="Nets, mats and boots.", example="dip nets at the gate")
    ] = ""
    owner: Annotated[str, person_code(about="Whose water it is.")] = ""
    checked: Annotated[date | None, on_day(about="When the rules were read or asked.")] = None
    source: Annotated[str, text(about="Where from.", example="board at the gate")] = ""
