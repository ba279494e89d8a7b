"""A planned bait on its rig: what was typed is read, worked out, and handed on."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from baitwright.batch.counterweight import MOST_KINDS
from baitwright.batch.rig import MARGIN, Rig
from baitwright.batch.rig_balance import RigBalance, RigRequest, balance_rig
from baitwright.quantities import Kind, from_si, read
from baitwright.sheets.text_balance import balance_text
from baitwright.terms.errors import InputError, RangeError
from baitwright.workshop.plan_batch import plan_batch
from baitwright.workshop.rig_words import read_hole, read_link, read_metal, read_parts, read_shot


@dataclass(frozen=True, slots=True)
class Asked:
    """A rig as typed; nothing where nothing was."""

    shot: str = ""
    metal: str = ""
    link: str = ""
    parts: str = ""
    hole: str = ""
    sealed: bool = False
    depth: str = ""
    salinity: str = ""
    current: str = ""
    margin: str = ""
    carry: str = ""
    speed: str = ""


def rig_request(asked: Asked) -> RigRequest:
    """The rig that was typed.

    Raises
    ------
    InputError: anything that cannot be read, or a number out of its range.
    """
    stock = read_shot(asked.shot, read_metal(asked.metal))
    if len(stock) > MOST_KINDS:
        raise InputError("shot", len(stock), f"at most {MOST_KINDS} kinds of shot")
    rig = Rig(
        link=read_link(asked.link),
        parts=read_parts(asked.parts),
        hole=read_hole(asked.hole, sealed=asked.sealed),
        depth=_number(asked.depth, Kind.LENGTH, _Range("depth", 100.0, "m")) or 0.0,
        salinity=_number(asked.salinity, Kind.SHARE, _Range("salinity", 0.042, "%")) or 0.0,
        margin=_number(asked.margin, Kind.MASS, _Range("margin", 1e-3, "g"), unsaid=MARGIN) or 0.0,
    )
    return RigRequest(
        rig=rig,
        stock=stock,
        current=_number(asked.current, Kind.SPEED, _Range("current", 3.0, "m/s"), unsaid=None),
        putty=_number(asked.carry, Kind.MASS, _Range("carry", 0.05, "g")) or 0.0,
        fastest=_number(
            asked.speed, Kind.SPEED, _Range("speed", 1.0, "m/s", low=0.001), unsaid=None
        ),
    )


@dataclass(frozen=True, slots=True)
class _Range:
    """The field and the limits of what is typed into it, in SI; ``unit`` is for the message."""

    field: str
    high: float
    unit: str
    low: float = 0.0


def _number(text: str, kind: Kind, limits: _Range, *, unsaid: float | None = 0.0) -> float | None:
    if not text.strip():
        return unsaid
    value = read(text, kind, limits.field)
    if not limits.low <= value <= limits.high:
        got, low, high = (from_si(one, limits.unit) for one in (value, limits.low, limits.high))
        raise RangeError(limits.field, got, low=low, high=high, unit=limits.unit)
    return value


def balanced(
    recipe_path: Path,
    bench_path: Path,
    asked: Asked,
    *,
    factors_path: Path | None,
    clock: Callable[[], datetime],
) -> RigBalance:
    """Plan the bait and put it on the rig.

    Raises
    ------
    InputError: anything in files or rig that cannot be used.
    """
    request = rig_request(asked)
    plan = plan_batch(recipe_path, bench_path, factors_path=factors_path, clock=clock)
    return balance_rig(plan, request)


def shown(made: RigBalance) -> str:
    """The balance as text."""
    return balance_text(made).rstrip("\n")
