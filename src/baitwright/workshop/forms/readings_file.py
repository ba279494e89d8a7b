"""What was weighed and counted of one batch, as the maker writes it in a file."""

from __future__ import annotations

from datetime import date, datetime, time
from pathlib import Path
from typing import Annotated

from baitwright.quantities import Kind, show
from baitwright.terms.errors import InputError
from baitwright.terms.records import BatchRecord, Reading
from baitwright.workshop.typed.fields import Reads, measured, number
from baitwright.workshop.typed.reading import Table, load, parse

_DATE = "a date such as 2026-11-26"
_REMARK = "a remark of up to 500 characters"
_BAITS = {"twenty_at_8h": 20, "twenty_fresh": 20}


def _day(value: object) -> datetime:
    found = datetime.fromisoformat(value) if isinstance(value, str) else value
    if isinstance(found, datetime):
        return found
    if isinstance(found, date):
        return datetime.combine(found, time())
    raise InputError("", value, _DATE)


def _remark(value: object) -> str:
    if not isinstance(value, str) or len(value) > 500:
        raise InputError("", value, _REMARK)
    return value.strip()


def dated(about: str) -> Reads:
    """The day on which something was done."""
    return Reads(_day, _DATE, about, {"type": "string", "examples": ["2026-11-26"]})


REMARK = Reads(
    _remark, _REMARK, "Anything worth keeping.", {"type": "string", "examples": ["soft"]}
)


def _weight(example: str, most: str, about: str) -> Reads:
    return measured(Kind.MASS, "0.01 g", most, example=example, about=about)


class ReadingsTable(Table):
    """A readings file: everything in it may be left out, but not all of it."""

    made: Annotated[datetime | None, dated("When the batch was made.")] = None
    egg_in_bowl: Annotated[
        float | None, _weight("171 g", "100 kg", "The egg out of the shell, before anything else.")
    ] = None
    tub_used: Annotated[
        float | None, _weight("268 g", "100 kg", "The tub before less the tub after.")
    ] = None
    tub_before: Annotated[float | None, _weight("550 g", "100 kg", "The tub before the eggs.")] = (
        None
    )
    tub_after: Annotated[
        float | None, _weight("282 g", "100 kg", "The tub after the last rolling.")
    ] = None
    twenty_at_8h: Annotated[
        float | None, _weight("28.9 g", "10 kg", "Twenty baits after 8 h on the tray.")
    ] = None
    twenty_fresh: Annotated[float | None, _weight("33.1 g", "10 kg", "Twenty boiled, cold.")] = None
    cup_weight: Annotated[
        float | None, _weight("1.46 g", "1 kg", "One dried bait, before it is pushed under.")
    ] = None
    cup_rise: Annotated[
        float | None, _weight("1.58 g", "1 kg", "Rise of the scale with one dried bait under.")
    ] = None
    baits_made: Annotated[int | None, number(1, 1_000_000, example=262, about="Baits counted.")] = (
        None
    )
    remark: Annotated[str, REMARK] = ""


def read_readings(path: Path, *, plan_name: str) -> BatchRecord:
    """The record of one batch.

    Parameters
    ----------
    path: the readings file.
    plan_name: the plan they were taken against.

    Raises
    ------
    InputError: an unknown key, a reading that cannot be, or no reading at all.
    """
    where = str(path)
    table = parse(load(path, what="readings"), ReadingsTable, where=where)
    try:
        return batch_record_of(table, plan_name)
    except InputError as error:
        raise error.located(where) from None


def typed_reading(path: Path, name: str) -> str:
    """A reading as it stands in the file; the tub's as the two weights it was told by."""
    data = load(path, what="readings")
    if name == "tub_used" and name not in data:
        return f"{data['tub_before']} less {data['tub_after']}"
    return str(data[name])


def batch_record_of(table: ReadingsTable, plan_name: str) -> BatchRecord:
    """A batch's record.

    Raises
    ------
    InputError: the tub told in two ways, or no reading at all.
    """
    values = {
        "egg_in_bowl": table.egg_in_bowl,
        "tub_used": tub_used(table),
        "twenty_fresh": table.twenty_fresh,
        "twenty_at_8h": table.twenty_at_8h,
        "cup_weight": table.cup_weight,
        "cup_rise": table.cup_rise,
        "baits_made": table.baits_made,
    }
    readings = tuple(
        Reading(name, float(value), _BAITS.get(name, 1))
        for name, value in values.items()
        if value is not None
    )
    if not readings:
        example = 'at least one reading, such as tub_used = "268 g"'
        raise InputError("readings", None, example)
    return BatchRecord(plan_name, table.made, readings, table.remark)


def tub_used(table: ReadingsTable) -> float | None:
    """What the tub lost, told as such or as its two weights; refused where these disagree."""
    before, after = table.tub_before, table.tub_after
    if before is None and after is None:
        return table.tub_used
    if table.tub_used is not None:
        either = "either tub_used, or tub_before and tub_after"
        raise InputError("tub_used", show(table.tub_used, "g"), either)
    if before is None or after is None:
        missing = "tub_before" if before is None else "tub_after"
        raise InputError(missing, None, "the tub's weight, such as 550 g")
    if after >= before:
        less = f"less than the {show(before, 'g')} before"
        raise InputError("tub_after", show(after, "g"), less)
    return before - after
