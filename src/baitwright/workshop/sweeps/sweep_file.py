"""A sweep out of its file and those that it names."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from hashlib import sha256
from itertools import product
from pathlib import Path

from baitwright.materials.defaults import default
from baitwright.materials.factors import prior_factors
from baitwright.recipe.bench import Bench
from baitwright.recipe.model import Core, Recipe
from baitwright.terms.errors import InputError
from baitwright.uncertainty.draws import Draws
from baitwright.workshop.recipe_files.bench_file import read_bench
from baitwright.workshop.recipe_files.factors_file import read_factors
from baitwright.workshop.recipe_files.mix_file import read_mix
from baitwright.workshop.recipe_files.recipe_file import read_recipe
from baitwright.workshop.sweeps.designs import Mix, Sweep, Water
from baitwright.workshop.sweeps.sweep_tables import SweepFile
from baitwright.workshop.typed.reading import load, parse

MOST = 10_000_000
"""Designs of one sweep (judgement): a table that still fits on a disk of today."""
_CORK = "cork-ball"


@dataclass(frozen=True, slots=True)
class SweepRead:
    """A sweep, and the marks of all files that it was read from, by what they are."""

    sweep: Sweep
    marks: dict[str, str]


def read_sweep(path: Path, *, factors_path: Path | None, now: datetime) -> SweepRead:
    """The sweep in a file; the files it names are looked for beside it.

    Parameters
    ----------
    path: the sweep's file.
    factors_path: the maker's own factors; the table's priors where there is none.
    now: the local time, which no number of a sweep hangs on.

    Raises
    ------
    InputError: anything in the files that cannot be used.
    """
    told = parse(load(path, what="sweep"), SweepFile, where=str(path))
    files = {"sweep": path, "recipe": path.parent / told.recipe, "bench": path.parent / told.bench}
    files |= {f"mix {name}": path.parent / name for name in told.mixes}
    if factors_path is not None:
        files["factors"] = factors_path
    recipe, bench = read_recipe(files["recipe"]), read_bench(files["bench"], now=now)
    sweep = Sweep(
        recipe=recipe,
        bench=bench,
        factors=prior_factors() if factors_path is None else read_factors(factors_path),
        draws=Draws(batches=told.batches),
        mixes=_mixes(told, recipe, path),
        sizes=told.sizes or (recipe.bait.diameter,),
        cores=_cores(told, recipe),
        levels=told.levels,
        waters=tuple(_waters(told, bench)),
        tell=told.tell,
    )
    if len(sweep) > MOST:
        hint = "Take fewer values of an axis, or several sweeps."
        accepted = f"{MOST:,} designs at most"
        raise InputError("the file", f"{len(sweep):,}", accepted, hint=hint, where=str(path))
    return SweepRead(sweep, {name: _mark(one) for name, one in files.items()})


def _mark(path: Path) -> str:
    return sha256(path.read_bytes()).hexdigest()


def _mixes(told: SweepFile, recipe: Recipe, path: Path) -> tuple[Mix, ...]:
    if not told.mixes:
        return (Mix(recipe.base, recipe.hardener, recipe.sieve),)
    found: dict[str, Mix] = {}
    for at, name in enumerate(told.mixes, start=1):
        mix = read_mix(path.parent / name).told
        if mix.base.name in found:
            accepted = "mixes of different names; a table could not tell them apart"
            raise InputError(f"mixes[{at}]", mix.base.name, accepted, where=str(path))
        found[mix.base.name] = Mix(mix.base, mix.hardener, mix.sieve)
    return tuple(found.values())


def _cores(told: SweepFile, recipe: Recipe) -> tuple[Core | None, ...]:
    own = recipe.bait.core
    if not told.cores:
        return (own,)
    material = _CORK if own is None else own.material
    return tuple(Core(material, size) if size else None for size in told.cores)


def _waters(told: SweepFile, bench: Bench) -> Iterator[Water]:
    for one in told.water:
        for temperature, salinity in product(one.lake, one.salinity):
            yield Water(one.name, temperature, salinity)
    if not told.water:
        stated, rig = bench.lake_temperature, bench.rig
        temperature = default("lake_temperature").value if stated is None else stated
        name = bench.at_water or "of the bench"
        yield Water(name, temperature, 0.0 if rig is None else rig.salinity)
