"""A bottle test read from its file: what a sample of baits did in a clear container of water."""

from __future__ import annotations

from pathlib import Path

from baitwright.terms.errors import InputError
from baitwright.terms.records import BottleTest, Look, PushedUnder, Soaked, WeighedTogether
from baitwright.workshop.forms.bottle_tables import BottleFile, LookTable, TogetherTable
from baitwright.workshop.typed.reading import load, parse


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
        return bottle_test_of(table, plan_name)
    except InputError as error:
        raise error.located(where) from None


def bottle_test_of(table: BottleFile, plan_name: str) -> BottleTest:
    """A bottle test's record.

    Raises
    ------
    InputError: more results than baits, or no result.
    """
    numbered = enumerate(table.look, start=1)
    looks = tuple(_look(look, f"look[{at}]", tray=table.tray) for at, look in numbered)
    weighed = (table.pushed_under, table.baits_weighed, table.cores_weighed, table.soaked)
    if not looks and not any(weighed):
        raise InputError("look", None, "at least one look or weighing, such as [[look]]")
    _refuse_more(len(table.pushed_under), "pushed_under", tray=table.tray)
    if table.baits_weighed is not None:
        _refuse_more(table.baits_weighed.count, "baits_weighed.count", tray=table.tray)
    for at, one in enumerate(table.soaked, start=1):
        _refuse_more(one.count, f"soaked[{at}].count", tray=table.tray)
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
        soaked=tuple(
            Soaked(one.after, one.count, one.weight_before, one.weight) for one in table.soaked
        ),
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
