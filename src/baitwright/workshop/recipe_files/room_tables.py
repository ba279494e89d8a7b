"""The room of a bench file: its air, now and later, and the mark the baits are dried to."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from baitwright.quantities import Kind, read_number
from baitwright.recipe.bench import ReadyMark
from baitwright.terms.errors import InputError
from baitwright.workshop.typed.fields import Reads, measured
from baitwright.workshop.typed.reading import Table


def _ready() -> Reads:
    accepted = "a share of the weight such as 10 %, a water activity such as aw 0.85, or a time"
    about = "When they are dry enough; your own mark wins over the usual one."
    loss = measured(Kind.SHARE, "1 %", "40 %", example="10 %", about=about)
    time = measured(Kind.DURATION, "30 min", "96 h", example="12 h", about=about)

    def mark(value: object) -> ReadyMark:
        text = value.strip() if isinstance(value, str) else ""
        if text.casefold().startswith("aw"):
            activity = read_number(text[2:], "", accepted)
            if activity.unit or not _DRIEST <= activity.number <= _MOISTEST:
                raise InputError("", value, f"aw from {_DRIEST:g} to {_MOISTEST:g}")
            return ReadyMark(water_activity=activity.number)
        if text.endswith("%"):
            return ReadyMark(loss=loss.read(value))
        try:
            return ReadyMark(time=time.read(value))
        except InputError:
            raise InputError("", value, f"{accepted} such as 12 h") from None

    schema = {"type": "string", "examples": ["10 %", "aw 0.85", "12 h"]}
    return Reads(mark, f"{accepted} such as 12 h", about, schema)


_DRIEST, _MOISTEST = 0.3, 0.97


_TEMPERATURE = measured(Kind.TEMPERATURE, "0 C", "50 C", example="19 C", about="Of the room.")
_HUMIDITY = measured(
    Kind.SHARE, "0 %", "100 %", example="55 %", about="Relative humidity of the room's air."
)
_AIR = measured(Kind.SPEED, "0 m/s", "5 m/s", example="0.1 m/s", about="Movement over the tray.")
_DRYER = measured(
    Kind.TEMPERATURE,
    "20 C",
    "70 C",
    example="40 C",
    about="What a dryer warms the room's air to; left out, no dryer.",
)


class LaterAirTable(Table):
    """The air over the tray from some time on, such as at night; the last of them stays."""

    after: Annotated[
        float,
        measured(Kind.DURATION, "5 min", "90 h", example="4 h", about="Time on the tray."),
    ]
    temperature: Annotated[float | None, _TEMPERATURE] = None
    humidity: Annotated[float | None, _HUMIDITY] = None
    air: Annotated[float | None, _AIR] = None
    dryer: Annotated[float | None, _DRYER] = None


class RoomTable(Table):
    """The air the baits dry in."""

    temperature: Annotated[float | None, _TEMPERATURE] = None
    humidity: Annotated[float | None, _HUMIDITY] = None
    air: Annotated[float | None, _AIR] = None
    exposure: Annotated[
        float | None,
        measured(
            Kind.SHARE,
            "20 %",
            "100 %",
            example="80 %",
            about="Surface the air reaches: all on a net, less on a tray, half when crowded.",
        ),
    ] = None
    dryer: Annotated[float | None, _DRYER] = None
    ready: Annotated[ReadyMark | None, _ready()] = None
    then: tuple[LaterAirTable, ...] = Field(
        (), description="The air later on, one table to a change."
    )
