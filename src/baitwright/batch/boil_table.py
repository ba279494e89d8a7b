"""Seconds in the pot by size and core, for one recipe's paste, one pot and one place."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from baitwright.batch.advice import on_the_timer
from baitwright.batch.boil import (
    air_share,
    bait_ball,
    core_layer,
    heat_run,
    hot_pot,
    paste_layer,
)
from baitwright.batch.boil_notes import beyond_the_rules
from baitwright.batch.cores import sizes
from baitwright.batch.pot import pot_boils
from baitwright.batch.state import BaitState
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.cores import core as core_kind
from baitwright.materials.defaults import default, hardness
from baitwright.physics.protein_set import albumen_rate, set_extent, time_to_reach
from baitwright.quantities import show
from baitwright.recipe.bench import Bench
from baitwright.recipe.model import Core, Recipe
from baitwright.terms.errors import InputError, RangeError
from baitwright.terms.notes import Note, Weight
from baitwright.terms.quantity import Quantity, declared, given
from baitwright.terms.units import MILLIMETRES, PERCENT, SECONDS
from baitwright.uncertainty.bands import quantiles

_MIDDLE_SIZE = 8e-3
"""Radius of the ball whose clock runs true, m; any would do."""
SMALLEST, LARGEST = 6e-3, 60e-3
"""Sizes the table takes, m."""
_LEAST_SHELL = 1e-3
"""Less paste than this holds on no core, m (judgement)."""
_MOST_SIZES, _MOST_CORES, _MOST_CELLS = 24, 10, 80
"""What one page, and the memory of a small computer, hold at ease."""
_SET = 0.9


@dataclass(frozen=True, slots=True)
class Asked:
    """The sizes and cores of a table, m; a core of 0 is none."""

    sizes: tuple[float, ...]
    cores: tuple[float, ...]
    material: str = "cork-ball"


@dataclass(frozen=True, slots=True)
class Clocked:
    """Balls of all sizes on clocks of their own, so that all of them set at about one time.

    Heat goes in by t / R^2: a ball whose heat capacity is divided by its clock does at t what the
    true one does at t times the clock. One run then serves every size with steps that suit it.
    """

    ball: Any
    clock: Any


@declared(
    "table_diameters",
    label="diameters as rolled, size by size",
    unit=MILLIMETRES,
    equation="D = wanted x factor + scatter",
    source="judgement",
)
def table_diameters(wanted: Any, factor: Any, scatter: Any) -> Any:
    """Diameters of the baits of every cell of the table."""
    return np.asarray(wanted)[:, None, None] * factor + scatter


@declared(
    "table_cores",
    label="cores, size by size",
    unit=MILLIMETRES,
    equation="d = nominal + scatter",
    source="judgement",
)
def table_cores(nominal: Any, scatter: Any) -> Any:
    """Diameters of the cores of every cell of the table; none stays none."""
    cores = np.asarray(nominal)[:, None, None]
    return np.where(cores > 0.0, cores + scatter, 0.0)


@declared(
    "table_balls",
    label="the baits of the table as two layers, each on its own clock",
    equation="heat capacity / (R / 8 mm)^2",
    source="crank-1975",
)
def table_balls(diameter: Any, core_diameter: Any, paste: Any, core: Any) -> Clocked:
    """Balls of every size for one run of the heat model."""
    outer, inner = (np.ravel(one) for one in np.broadcast_arrays(diameter, core_diameter))
    clock = np.square(0.5 * outer / _MIDDLE_SIZE)
    slow = [one and replace(one, density=one.density / clock) for one in (paste, core)]
    return Clocked(bait_ball.function(outer, inner, *slow), clock)


@declared(
    "table_run",
    label="heat into the baits of the table",
    equation="as for the bait of a plan; the pot's heat capacity on each bait's clock too",
    source="crank-1975",
)
def table_run(balls: Clocked, pot: Any, film: Any, start: Any, diameter: Any) -> Any:
    """All baits of the table in the boiling pot, in one call."""
    slowed = replace(pot, heat_capacity=pot.heat_capacity / balls.clock)
    films = np.ravel(np.broadcast_to(film, np.shape(diameter)))
    return heat_run.function(balls.ball, slowed, films, start)


@declared(
    "table_seconds",
    label="coldest paste has set, cell by cell",
    unit=SECONDS,
    equation="first time the egg white's set reaches what is wanted x factor",
    source="di-lorenzo-2025",
)
def table_seconds(run: Any, balls: Clocked, wanted: Any, factor: Any, diameter: Any) -> Any:
    """Seconds until each bait of each cell has set; never is infinite."""

    def on_its_clock(kelvin: Any) -> Any:
        return np.asarray(albumen_rate(kelvin)) * balls.clock

    extent = set_extent(run.times, run.innermost_shell, on_its_clock)
    seconds = time_to_reach(run.times, extent, wanted) * balls.clock
    return np.where(np.isnan(seconds), np.inf, seconds).reshape(np.shape(diameter)) * factor


@declared(
    "cell_middle",
    label="half of them have set",
    unit=SECONDS,
    equation="the median of a cell's draws",
    source="definition",
)
def cell_middle(seconds: Any, cell: Any) -> float:
    """Seconds for the middle bait of a cell."""
    return quantiles(np.ravel(seconds[int(cell)]), (0.5,))[0]


@declared(
    "cell_advised",
    label="boil",
    unit=SECONDS,
    equation="the time by which 9 baits in 10 have set, plus the hold, up to the next 5 s",
    source="judgement",
)
def cell_advised(seconds: Any, cell: Any, hold: Any) -> float:
    """What to set the timer to for a cell; never where 9 in 10 do not set."""
    return on_the_timer(quantiles(np.ravel(seconds[int(cell)]), (_SET,))[0] + hold)


@dataclass(frozen=True, slots=True)
class BoilCell:
    """One size on one core: seconds to set and to set the timer to, and whether paste is thin."""

    diameter: float
    core: float
    middle: Quantity
    advised: Quantity
    thin: bool


@dataclass(frozen=True, slots=True)
class BoilTable:
    """The table: every size and core asked for, the cells that can be, and what they stand on."""

    recipe: Recipe
    bench: Bench
    asked: Asked
    boiling_point: Quantity
    start: Quantity
    cells: tuple[BoilCell, ...]
    notes: tuple[Note, ...]

    def cell(self, diameter: float, core: float) -> BoilCell | None:
        """The cell of a size and core, where there is room for paste."""
        found = (one for one in self.cells if (one.diameter, one.core) == (diameter, core))
        return next(found, None)


def boil_table(
    state: BaitState, recipe: Recipe, *, asked: Asked, bench: Bench, unknowns: Unknowns
) -> BoilTable:
    """Seconds in the pot for every size and core, from the paste of a bait of the same recipe.

    Parameters
    ----------
    state: a bait as rolled, for its paste.
    recipe: for its hardness.
    asked: sizes and cores.
    bench: for pot and place.
    unknowns: the draws behind the margins.

    Raises
    ------
    InputError: nothing or too much was asked for, no core leaves room, or a pot cannot be.
    """
    check_asked(asked)
    kitchen = _Kitchen(bench, pot_boils(bench, unknowns=unknowns), unknowns)
    fitting = [(size, core) for size in asked.sizes for core in asked.cores if _fits(size, core)]
    cells = [
        cell
        for held in ([one for one in fitting if not one[1]], [one for one in fitting if one[1]])
        if held
        for cell in _cells(held, state, recipe, material=asked.material, kitchen=kitchen)
    ]
    return BoilTable(
        recipe=recipe,
        bench=bench,
        asked=asked,
        boiling_point=kitchen.boiling,
        start=unknowns.stated("paste_temperature", bench.start_temperature),
        cells=tuple(sorted(cells, key=lambda one: (one.diameter, one.core))),
        notes=(
            *beyond_the_rules(state.make_up, air=air_share(state), diameters=asked.sizes),
            *_on_corks(recipe),
        ),
    )


def _on_corks(recipe: Recipe) -> tuple[Note, ...]:
    """No column is of a few small cores."""
    core = recipe.bait.core
    if core is None or core.count == 1:
        return ()
    text = (
        f"Every column is of one core in the middle, and {recipe.name} has {sizes(core)}: heat "
        "finds another way there. Boil it by its plan."
    )
    return (Note("boil", text, "fricke-becker-2001", Weight.DOUBT),)


def check_asked(asked: Asked) -> None:
    """Refuse a table that cannot be made, before anything is worked out for it.

    Raises
    ------
    InputError: no size or core, one that is none, too many, or no core that leaves room.
    """
    for field, values, least, most, count in (
        ("sizes", asked.sizes, SMALLEST, LARGEST, _MOST_SIZES),
        ("cores", asked.cores, 0.0, LARGEST, _MOST_CORES),
    ):
        if not 1 <= len(values) <= count:
            raise InputError(field, f"{len(values)} of them", f"one to {count}")
        for value in values:
            if not least <= value <= most:
                low, high = (round(1e3 * one, 3) for one in (least, most))
                raise RangeError(field, round(1e3 * value, 3), low=low, high=high, unit="mm")
    cells = len(asked.sizes) * len(asked.cores)
    if cells > _MOST_CELLS:
        accepted = f"sizes times cores up to {_MOST_CELLS}"
        raise InputError("sizes", f"{cells} cells", accepted, hint="Make two tables.")
    if not any(_fits(size, core) for size in asked.sizes for core in asked.cores):
        thin = f"cores that leave {show(_LEAST_SHELL, 'mm')} of paste and more"
        raise InputError("cores", ", ".join(show(one, "mm") for one in asked.cores), thin)


def _fits(size: float, core: float) -> bool:
    return core == 0.0 or size - core >= 2.0 * _LEAST_SHELL - 1e-9


@dataclass(frozen=True, slots=True)
class _Kitchen:
    bench: Bench
    boiling: Quantity
    unknowns: Unknowns


def _cells(
    held: list[tuple[float, float]],
    state: BaitState,
    recipe: Recipe,
    *,
    material: str,
    kitchen: _Kitchen,
) -> list[BoilCell]:
    """The cells of sizes that all have a core, or all have none, from one run."""
    unknowns, row = kitchen.unknowns, hardness(recipe.bait.hardness.value)
    kind = core_kind(material)
    sizes, cores = (np.array(one) for one in zip(*held, strict=True))
    diameter = table_diameters(
        wanted=given("sizes", sizes, label="sizes asked for", unit=MILLIMETRES),
        factor=unknowns.factor("diameter"),
        scatter=unknowns.scatter("diameter_spread"),
    )
    core_diameter = table_cores(
        nominal=given("cores", cores, label="cores asked for", unit=MILLIMETRES),
        scatter=unknowns.scatter(
            "core_diameter_spread", of_kind=kind.diameter_spread if kind else None
        ),
    )
    balls = table_balls(
        diameter=diameter,
        core_diameter=core_diameter,
        paste=paste_layer(state),
        core=core_layer(Core(material, float(cores[0])) if cores[0] else None),
    )
    pot = hot_pot(balls, kitchen.boiling, bench=kitchen.bench, unknowns=unknowns)
    run = table_run(balls=balls, pot=pot.bath, film=pot.film, start=pot.start, diameter=diameter)
    seconds = table_seconds(
        run=run,
        balls=balls,
        wanted=given("set_wanted", row.extent, label="set wanted", unit=PERCENT),
        factor=unknowns.factor("cook"),
        diameter=diameter,
    )
    hold = given("hold", row.hold, label="hold after that", unit=SECONDS)
    return [
        _cell(size, core, at=given("cell", float(at), label="cell"), seconds=seconds, hold=hold)
        for at, (size, core) in enumerate(held)
    ]


def _cell(size: float, core: float, *, at: Quantity, seconds: Quantity, hold: Quantity) -> BoilCell:
    shell = 0.5 * (size - core)
    return BoilCell(
        diameter=size,
        core=core,
        middle=cell_middle(seconds=seconds, cell=at),
        advised=cell_advised(seconds=seconds, cell=at, hold=hold),
        thin=bool(core) and shell < default("shell_minimum").value - 1e-9,
    )
