"""The bench file: what stands on the table today, read from TOML."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from itertools import pairwise
from pathlib import Path
from typing import Any

from baitwright.quantities import show
from baitwright.recipe.bench import Bench, FromFreezer, Hook, LaterAir, Pot, Room, Tub
from baitwright.recipe.eggs import Eggs
from baitwright.recipe.rig import Rig
from baitwright.terms.errors import InputError
from baitwright.workshop.recipe_files.bench_tables import BenchFile
from baitwright.workshop.recipe_files.egg_table import as_eggs
from baitwright.workshop.recipe_files.kitchen_tables import BenchTubTable
from baitwright.workshop.recipe_files.rig_table import RigTable, rig_from
from baitwright.workshop.recipe_files.room_tables import RoomTable
from baitwright.workshop.typed.clock import leaving_time
from baitwright.workshop.typed.reading import load, parse


def read_bench(path: Path, *, now: datetime) -> Bench:
    """The bench in a TOML file.

    Parameters
    ----------
    path: the file.
    now: the local time, which counts where the file names none.

    Raises
    ------
    InputError: the file cannot be read, or anything in it cannot be used; the message names file,
        field, value and what would be accepted.
    """
    return bench_from(load(path, what="bench"), where=str(path), now=now)


def bench_from(data: Mapping[str, Any], *, where: str, now: datetime) -> Bench:
    """The bench in a file's raw contents.

    Raises
    ------
    InputError: as `read_bench`.
    """
    try:
        return bench_as(parse(data, BenchFile, where=where), now)
    except InputError as error:
        raise error.located(where) from None


def bench_as(file: BenchFile, clock_time: datetime) -> Bench:
    """The bench of a file's fields, seen at a time.

    Raises
    ------
    InputError: what they say together cannot be.
    """
    now = file.now.seen_from(clock_time) if file.now else clock_time
    pot = file.pot
    return Bench(
        now=now,
        eggs=_eggs(file),
        baits_wanted=file.baits_wanted,
        leaving=leaving_time(file.leaving, now) if file.leaving else None,
        room=_room(file.room),
        pot=Pot(pot.water, pot.power, pot.basket, pot.salt, pot.boils_at, pot.quench),
        hook=Hook(file.hook.size, file.hook.mass),
        rig=_rig(file.rig),
        tub=_tub(file.tub),
        store=file.store.storage,
        altitude=file.altitude,
        pressure=file.pressure,
        lake_temperature=file.lake,
        start_temperature=file.paste,
        syringes=file.syringes,
        cores=file.cores,
        country=file.country,
        at_water=file.water,
        frozen=tuple(FromFreezer(one.what, one.thickness, one.thaws_in) for one in file.frozen),
        pace=None if file.pace is None else file.pace / 60.0,
        roller=file.roller,
    )


def _room(room: RoomTable) -> Room:
    times = [later.after for later in room.then]
    for at, (before, after) in enumerate(pairwise(times), start=2):
        if after <= before:
            raise InputError(f"room.then[{at}].after", show(after, "h"), "a later time than before")
    later = tuple(
        LaterAir(one.after, one.temperature, one.humidity, one.air, one.dryer) for one in room.then
    )
    return Room(
        temperature=room.temperature,
        humidity=room.humidity,
        air_speed=room.air,
        exposure=room.exposure,
        dryer=room.dryer,
        ready=room.ready,
        then=later,
    )


def _rig(told: RigTable | None) -> Rig | None:
    try:
        return None if told is None else rig_from(told)
    except InputError as error:
        raise error.located("", "rig") from None


def _eggs(file: BenchFile) -> tuple[Eggs, ...]:
    wanted = file.baits_wanted is not None
    if not file.eggs and not wanted:
        accepted = "at least one table [[eggs]], or baits_wanted: nothing binds a dry mix alone"
        raise InputError("eggs", None, accepted)
    eggs = tuple(
        as_eggs(line, f"eggs[{at}]", baits_wanted=wanted)
        for at, line in enumerate(file.eggs, start=1)
    )
    open_ended = [at for at, one in enumerate(eggs, start=1) if not _says_how_much(one)]
    if open_ended and len(eggs) > 1:
        hint = "Only a single line of eggs may be left for baits_wanted to count."
        raise InputError(f"eggs[{open_ended[0]}].count", None, "how many eggs", hint=hint)
    return eggs


def _says_how_much(eggs: Eggs) -> bool:
    measured = (eggs.count, eggs.shell_mass, eggs.contents_mass, eggs.contents_volume)
    return any(value is not None for value in measured)


def _tub(tub: BenchTubTable) -> Tub:
    if tub.mass is not None and tub.wanted is not None:
        accepted = "either mass, for the tub on the table, or wanted, for a new one"
        raise InputError("tub", "mass and wanted", accepted)
    return Tub(tub.mass, tub.wanted)
