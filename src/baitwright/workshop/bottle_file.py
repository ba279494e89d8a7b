"""What a sample of baits did in a clear container of water, as the maker writes it in a file."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Annotated

from pydantic import Field

from baitwright.quantities import Kind
from baitwright.terms.errors import InputError
from baitwright.terms.records import BottleTest, Look, PushedUnder, WeighedTogether
from baitwright.workshop.fields import Reads, measured, number
from baitwright.workshop.reading import Table, load, parse
from baitwright.workshop.readings_file import REMARK, dated
from baitwright.workshop.words import one_of

_MOST = 1_000_000


def _count(about: str) -> Reads:
    return number(0, _MOST, example=7, about=about)


def _weight(example: str, most: str, about: str) -> Reads:
    return measured(Kind.MASS, "0.01 g", most, example=example, about=about)


class LookTable(Table):
    """What the baits did, so long after they went in; alone, or on the finished rig."""

    on: Annotated[str, one_of(("alone", "rig"), about="Bait alone, or the finished rig.")] = "alone"
    after: Annotated[
        float, measured(Kind.DURATION, "0 h", "100 h", example="10 min", about="Time in the water.")
    ] = 0.0
    floated: Annotated[int, _count("Baits at the surface, or holding their hook up.")] = 0
    hung: Annotated[int, _count("Baits that hung in the water, neither up nor down.")] = 0
    sank: Annotated[int, _count("Baits on the bottom, or taken down by their hook.")] = 0
    still_firm: Annotated[int | None, _count("Of these, baits still firm to the fingers.")] = None
    off_core: Annotated[int | None, _count("Of these, baits that came off the core.")] = None


class PushedTable(Table):
    """One bait on a scale: weighed, then pushed under in a tared cup of the same water."""

    weight: Annotated[float, _weight("1.46 g", "1 kg", "The bait before it is pushed under.")]
    rise: Annotated[float, _weight("1.52 g", "1 kg", "Rise of the scale with it under.")]


class TogetherTable(Table):
    """Several on the scale at once."""

    count: Annotated[int, number(1, _MOST, example=20, about="How many.")]
    weight: Annotated[float, _weight("17.6 g", "100 kg", "All of them together.")]


class BottleFile(Table):
    """A bottle test file: looks at the baits, weighings, or both."""

    made: Annotated[datetime | None, dated("When the batch was made.")] = None
    water: Annotated[
        float,
        measured(Kind.TEMPERATURE, "0 C", "40 C", example="18 C", about="Water of the test."),
    ]
    tray: Annotated[
        int | None, number(1, _MOST, example=50, about="Baits the sample was taken from, with it.")
    ] = None
    lake_depth: Annotated[
        float | None,
        measured(Kind.LENGTH, "0 m", "100 m", example="3.5 m", about="Where they are to fish."),
    ] = None
    look: tuple[LookTable, ...] = Field((), description="What the baits did.")
    pushed_under: tuple[PushedTable, ...] = Field((), description="Baits pushed under, one by one.")
    baits_weighed: TogetherTable | None = Field(None, description="Dried baits, dry, together.")
    cores_weighed: TogetherTable | None = Field(None, description="Cores of this lot, together.")
    remark: Annotated[str, REMARK] = ""


def read_bottle_test(path: Path, *, plan_name: str) -> BottleTest:
    """The record of one bottle test.

    Parameters
    ----------
    path: the test's file.
    plan_name: the plan of the batch that was tested.

    Raises
    ------
    InputError: an unknown key, a value that cannot be, more results than baits, or no result.
    """
    where = str(path)
    table = parse(load(path, what="bottle test"), BottleFile, where=where)
    try:
        return _test(table, plan_name)
    except InputError as error:
        raise error.located(where) from None


def _test(table: BottleFile, plan_name: str) -> BottleTest:
    numbered = enumerate(table.look, start=1)
    looks = tuple(_look(look, f"look[{at}]", tray=table.tray) for at, look in numbered)
    weighed = (table.pushed_under, table.baits_weighed, table.cores_weighed)
    if not looks and not any(weighed):
        raise InputError("look", None, "at least one look or weighing, such as [[look]]")
    _refuse_more(len(table.pushed_under), "pushed_under", tray=table.tray)
    if table.baits_weighed is not None:
        _refuse_more(table.baits_weighed.count, "baits_weighed.count", tray=table.tray)
    return BottleTest(
        plan_name=plan_name,
        made_on=table.made,
        water_temperature=table.water,
        looks=looks,
        tray=table.tray,
        lake_depth=table.lake_depth,
        pushed_under=tuple(PushedUnder(one.weight, one.rise) for one in table.pushed_under),
        baits=_together(table.baits_weighed),
        cores=_together(table.cores_weighed),
        remark=table.remark,
    )


def _look(table: LookTable, field: str, *, tray: int | None) -> Look:
    look = Look(
        after=table.after,
        floated=table.floated,
        hung=table.hung,
        sank=table.sank,
        on_rig=table.on == "rig",
        still_firm=table.still_firm,
        off_core=table.off_core,
    )
    if look.count == 0:
        raise InputError(field, "no bait", "how many floated, hung or sank")
    _refuse_more(look.count, field, tray=tray)
    for name in ("still_firm", "off_core"):
        told = getattr(look, name)
        if told is not None and told > look.count:
            raise InputError(f"{field}.{name}", told, f"no more than the {look.count} looked at")
    return look


def _refuse_more(count: int, field: str, *, tray: int | None) -> None:
    if tray is not None and count > tray:
        raise InputError(field, f"{count} baits", f"no more than the {tray} in the tray")


def _together(table: TogetherTable | None) -> WeighedTogether | None:
    return None if table is None else WeighedTogether(table.count, table.weight)
