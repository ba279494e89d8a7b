"""Laws of the radial engine's moisture: the exact series, the ledgers, what must rise and fall."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import odeint
from scipy.optimize import brentq

from baitwright.physics.constants import GAS_CONSTANT, VAPOUR_GAS_CONSTANT
from baitwright.physics.limits import Array, Values
from baitwright.physics.moist_shells import CELLS, cut_moist_ball
from baitwright.physics.moist_surface import OpenSurface
from baitwright.physics.radial import (
    AirLeg,
    MoistBall,
    MoistShells,
    MoistureDiffusivity,
    MoistureLaws,
    MoistureRun,
    WaterLeg,
    absorb,
    dry,
)
from baitwright.physics.radial_moisture import MOIST_STEPS
from baitwright.physics.series import sphere_series
from baitwright.physics.water import saturation_pressure
from baitwright.terms.errors import ComputationError, RangeError

few = settings(max_examples=12, deadline=None)

HOUR = 3600.0
DIFFUSIVITY = 5e-11
BALL = MoistBall(0.0085, 0.005, 0.35 / 0.65, 1350.0)
ROOM = AirLeg(24.0 * HOUR, 293.15, 0.6, 0.00676, 12.4)
TIMES = HOUR * np.array([0.25, 1.0, 4.0, 8.0, 14.0, 24.0])


def steady(_temperature: Array, _content: Array) -> Values:
    return DIFFUSIVITY


def falling(_temperature: Array, content: Array) -> Values:
    return np.asarray(DIFFUSIVITY * np.exp(4.0 * (content - 0.5)))


def activity(content: Array) -> Array:
    """A rising curve from 0 to 1, steep where the material is dry."""
    return np.asarray(content / (content + 0.05))


LAWS = MoistureLaws(falling, activity, saturation_pressure)


def rigid(core: float, *, cells: int = CELLS) -> MoistShells:
    ball = MoistBall(0.0085, core, 0.5, 1350.0, shrinkage=0.0)
    return cut_moist_ball(ball, (1,), cells=cells)


def held(core: float, *, cells: int = CELLS, steps: int = MOIST_STEPS) -> Array:
    """Share of the way still to go where the surface is held, less the series."""
    leg = WaterLeg(24.0 * HOUR, 293.15, 0.4)
    run = absorb(
        rigid(core, cells=cells), [leg], diffusivity=steady, steps=steps, output_times=TIMES
    )
    left = (run.mean_content[:, 0] - 0.4) / 0.1
    return np.asarray(left - sphere_series(0.0085, core).mean(DIFFUSIVITY * TIMES))


def behind_film(core: float, *, biot: float, cells: int = CELLS) -> tuple[Array, Array]:
    """Mean and surface content over the start behind a linear film, less the series."""
    shells = rigid(core, cells=cells)
    dry_density = shells.solids.sum() / (4 / 3 * np.pi * (0.0085**3 - core**3))
    coefficient = biot * DIFFUSIVITY / 0.0085 * dry_density * VAPOUR_GAS_CONSTANT * 293.15 / 2e3
    laws = MoistureLaws(steady, lambda x: x, lambda t: np.full_like(t, 2e3), latent_heat=0.0)
    leg = AirLeg(24.0 * HOUR, 293.15, 0.0, coefficient, 10.0)
    run = dry(shells, [leg], laws=laws, output_times=TIMES)
    series = sphere_series(0.0085, core, biot=biot, terms=300)
    return (
        np.asarray(run.mean_content[:, 0] / 0.5 - series.mean(DIFFUSIVITY * TIMES)),
        np.asarray(run.surface_content[:, 0] / 0.5 - series.surface(DIFFUSIVITY * TIMES)),
    )


@pytest.mark.parametrize("core", [0.0, 0.005], ids=["solid", "sealed core"])
class TestSeries:
    def test_a_held_surface(self, core: float) -> None:
        assert np.abs(held(core)).max() < 5e-4

    @pytest.mark.parametrize("biot", [1.0, 10.0, 100.0, 1000.0])
    def test_a_film(self, core: float, biot: float) -> None:
        mean, surface = behind_film(core, biot=biot)
        assert np.abs(mean).max() < 5e-4
        assert np.abs(surface).max() < 1e-3

    def test_twice_the_cells_are_ten_times_as_right(self, core: float) -> None:
        """Fourth order, but for the outermost half cell, which is the thinnest."""
        errors = [np.abs(held(core, cells=cells, steps=400)).max() for cells in (10, 20, 40)]
        assert np.all(np.divide(errors[:-1], errors[1:]) > 9.0)


def seeded(draws: int) -> tuple[MoistBall, AirLeg, MoistureLaws]:
    """Balls, rooms and materials of every sort, a third of each range at its corners."""
    random = np.random.default_rng(11)

    def spread(low: float, high: float) -> Array:
        corner = np.where(random.random(draws) < 0.5, low, high)
        return np.where(random.random(draws) < 0.3, corner, random.uniform(low, high, draws))

    outer, content = spread(0.005, 0.015), spread(0.35, 0.75)
    ball = MoistBall(
        outer,
        outer * spread(0.05, 0.7),
        content,
        1350.0,
        air_fraction=spread(0.0, 0.15),
        shrinkage=spread(0.0, 1.0),
    )
    mass = 10.0 ** spread(-2.5, -1.4)
    room = AirLeg(48.0 * HOUR, spread(278.0, 308.0), spread(0.2, 0.85), mass, 1126.0 * mass + 5.0)
    slow, energy, crust = 10.0 ** spread(-11.0, -9.5), spread(20e3, 38e3), spread(-2.0, 6.0)
    law = MoistureDiffusivity(slow, energy, crust, content)
    return ball, room, MoistureLaws(law, activity, saturation_pressure)


def test_any_ball_keeps_within_a_thousandth_of_a_fine_grid() -> None:
    ball, room, laws = seeded(48)
    times = HOUR * np.array([0.25, 1.0, 4.0, 12.0, 48.0])
    lost = []
    for cells, steps in ((CELLS, MOIST_STEPS), (128, 400)):
        shells = cut_moist_ball(ball, (48,), cells=cells)
        run = dry(shells, [room], laws=laws, steps=steps, output_times=times)
        lost.append(run.evaporated / (shells.solids * shells.water_content).sum(axis=0))
    assert np.abs(lost[0] - lost[1]).max() < 1e-3


def by_lsoda(draw: int, draws: int, times: Array, cells: int) -> Array:
    """Share of its first water one of the seeded balls has lost: another program for the same laws.

    LSODA at 1e-8 on shells of even solids, plain differences, the surface by a bracketed root.
    """
    balls, room, laws = seeded(draws)

    def own(values: Values) -> float:
        return float(np.broadcast_to(values, (draws,))[draw])

    outer, inner, first, air, shrinks = (
        own(one)
        for one in (
            balls.outer_radius,
            balls.core_radius,
            balls.water_content,
            balls.air_fraction,
            balls.shrinkage,
        )
    )
    warm, humid, mass, heat = (own(one) for one in room.values())
    rigid_volume = 1.0 / 1350.0 + first / 998.2
    loose = rigid_volume * air / (1.0 - air) + (1.0 - shrinks) / 998.2 * first
    place = 1.0 - (1.0 - np.linspace(0.0, 1.0, cells + 1)) ** 2.0
    solids = np.diff((inner + place * (outer - inner)) ** 3) * (1.0 - air) / rigid_volume
    assert isinstance(laws.diffusivity, MoistureDiffusivity)
    at_20, energy, steep, reference = (own(one) for one in laws.diffusivity.values())
    steep = steep if abs(steep) > 1e-6 else 1e-6

    def moves(kelvin: float) -> float:
        return at_20 * math.exp(-energy / GAS_CONSTANT * (1.0 / kelvin - 1.0 / 293.15)) / steep

    vapour = humid * float(np.asarray(saturation_pressure(np.array(warm))))

    def rate(_time: float, water: Array) -> Array:
        volume = 1.0 / 1350.0 + water / 998.2
        volume += np.maximum(loose - (1.0 - shrinks) / 998.2 * water, 0.0)
        faces = np.cbrt(np.append(inner**3, inner**3 + np.cumsum(solids * volume)))
        middles = 0.5 * (faces[1:] + faces[:-1])
        density = (solids[1:] + solids[:-1]) / (solids[1:] * volume[1:] + solids[:-1] * volume[:-1])
        reach = 3.0 * density * faces[1:-1] ** 2 / np.diff(middles)
        skin = 3.0 / volume[-1] * faces[-1] ** 2 / (faces[-1] - middles[-1])
        area = 3.0 * faces[-1] ** 2
        grown = np.exp(steep * (water - reference))  # steepness times its integral

        def excess(flux: float) -> float:
            kelvin = warm - 2.45e6 / heat * flux
            left = grown[-1] - flux * area / skin / moves(kelvin)
            at_surface = max(reference + math.log(left) / steep, 0.0) if left > 0.0 else 0.0
            pressure = float(np.asarray(saturation_pressure(np.array(kelvin))))
            offered = at_surface / (at_surface + 0.05) * pressure - vapour
            return VAPOUR_GAS_CONSTANT / mass * 0.5 * (warm + kelvin) * flux - offered

        low = -1.02 * vapour * mass / VAPOUR_GAS_CONSTANT / warm - 1e-12
        flux = brentq(excess, low, (warm - 253.2) * heat / 2.45e6, xtol=1e-20)
        kelvin = warm - 2.45e6 / heat * flux
        through = reach * moves(kelvin) * np.diff(grown)
        return np.asarray((np.append(through, -flux * area) - np.append(0.0, through)) / solids)

    found = odeint(
        rate, np.full(cells, first), np.append(0.0, times), tfirst=True, rtol=1e-8, atol=1e-8,
        mxstep=20_000,
    )  # fmt: skip
    return np.asarray(1.0 - found[1:] @ solids / (first * solids.sum()))


@pytest.mark.simulation
def test_shrinking_and_drying_is_what_lsoda_finds(
    sample_size: Callable[[int, int], int],
) -> None:
    """1e-3 of the first water, after hours and after two days, the air's side and all."""
    draws, times = sample_size(4, 64), HOUR * np.array([1.0, 8.0, 48.0])
    ball, room, laws = seeded(draws)
    run = dry(ball, [room], laws=laws, output_times=np.append(0.0, times))
    for draw in range(draws):
        coarse, fine = (by_lsoda(draw, draws, times, cells) for cells in (30, 60))
        lost = run.evaporated[1:, draw] / run.water[0, draw]
        assert np.abs(lost - (4.0 * fine - coarse) / 3.0).max() < 1e-3


def test_a_run_tells_its_error() -> None:
    ball, room, laws = seeded(48)
    times = HOUR * np.array([0.0, 0.25, 1.0, 4.0, 12.0, 48.0])
    run = dry(ball, [room], laws=laws, output_times=times, check=True)
    shells = cut_moist_ball(ball, (48,), cells=128)
    fine = dry(shells, [room], laws=laws, steps=400, output_times=times)
    assert run.error is not None
    error = np.abs(run.evaporated - fine.evaporated).max(axis=0) / run.water[0]
    assert np.all(error < run.error + 2e-5)
    assert np.all(run.error < 0.01)
    soak = absorb(BALL, [WaterLeg(HOUR, 281.0, 1.2)], diffusivity=falling, check=True)
    assert soak.error is not None
    assert soak.error[0] < 0.01


def imbalance(run: MoistureRun) -> float:
    total = run.water + run.evaporated
    return float(np.abs(total / total[0] - 1.0).max())


def test_no_water_is_lost_or_made() -> None:
    ball, room, laws = seeded(48)
    assert imbalance(dry(ball, [room, replace(room, humidity=0.95)], laws=laws)) < 1e-9
    uptake = absorb(ball, [WaterLeg(9.0 * HOUR, 280.0, 1.2)], diffusivity=laws.diffusivity)
    assert imbalance(uptake) < 1e-9
    assert np.all(uptake.evaporated[1:] < 0.0)


def shell_volume(run: MoistureRun, core: float = 0.005) -> Array:
    return np.asarray(4.0 / 3.0 * np.pi * (run.outer_radius**3 - core**3))


def test_ideal_shrinkage_is_the_water_that_left() -> None:
    for ball in (BALL, replace(BALL, air_fraction=0.1)):
        run = dry(ball, [ROOM], laws=LAWS)
        volume = shell_volume(run)
        assert np.abs((volume[0] - volume - run.evaporated / 998.2) / volume[0]).max() < 1e-12
        assert run.air_volume == pytest.approx(float(run.air_volume[0, 0]), rel=1e-12)
        assert volume[0] == pytest.approx(4.0 / 3.0 * np.pi * (0.0085**3 - 0.005**3), rel=1e-12)
        assert run.air_volume[0] == pytest.approx(ball.air_fraction * volume[0], abs=1e-20)


@few
@given(st.floats(0.0, 1.0), st.floats(1e-4, 0.3))
def test_the_rest_of_the_water_that_left_is_air(shrinkage: float, air: float) -> None:
    run = dry(replace(BALL, shrinkage=shrinkage, air_fraction=air), [ROOM], laws=LAWS)
    gained = run.air_volume - run.air_volume[0]
    assert gained == pytest.approx((1.0 - shrinkage) * run.evaporated / 998.2, abs=1e-18)
    volume = shell_volume(run)
    shrunk = shrinkage * run.evaporated / 998.2
    assert volume[0] - volume == pytest.approx(shrunk, abs=1e-12 * float(volume[0, 0]))


def test_water_taken_up_fills_the_air_before_it_swells() -> None:
    ball = replace(BALL, water_content=0.1, shrinkage=0.0, air_fraction=0.05)
    run = absorb(ball, [WaterLeg(200.0 * HOUR, 283.15, 1.0)], diffusivity=steady)
    volume = shell_volume(run)
    assert np.all(run.air_volume >= 0.0)
    assert run.air_volume[-1] == pytest.approx(0.0, abs=1e-12)
    assert volume[-1] > volume[0]
    grown = -run.evaporated[-1] / 998.2 - run.air_volume[0]
    assert volume[-1] - volume[0] == pytest.approx(grown, rel=1e-9)


def test_the_faces_bound_the_volume_that_the_totals_say() -> None:
    run = dry(replace(BALL, shrinkage=0.4, air_fraction=0.08), [ROOM], laws=LAWS)
    faces = run.final.faces(run.final.water_content)
    assert faces[-1] == pytest.approx(run.outer_radius[-1], rel=1e-12)
    assert np.all(np.diff(run.final.radii(), axis=0) > 0.0)


def test_in_the_end_the_ball_is_as_dry_as_its_air() -> None:
    run = dry(BALL, [replace(ROOM, duration=2000.0 * HOUR)], laws=LAWS)
    assert activity(run.mean_content[-1]) == pytest.approx(0.6, abs=1e-4)
    assert run.surface_temperature[-1] == pytest.approx(293.15, abs=1e-3)


def test_a_dry_ball_gathers_water() -> None:
    run = dry(replace(BALL, water_content=0.02), [replace(ROOM, humidity=0.9)], laws=LAWS)
    assert run.water[-1] > run.water[0]
    assert run.surface_temperature[1] > 293.15


def test_the_surface_balances_heat_and_vapour() -> None:
    surface = OpenSurface(ROOM, LAWS, (3,))
    area, still = np.array([1e-3, 9e-4, 1e-4]), np.array([0.5, 0.2, 0.05])
    resistance = np.array([1e3, 1e7, 1e9])
    flux = surface.flow(still, resistance, area) / area
    heat = 12.4 * (293.15 - surface.temperature)
    assert heat == pytest.approx(2.45e6 * flux, rel=1e-9)
    assert surface.content == pytest.approx(still - resistance * area * flux, rel=1e-9)
    film = 0.5 * (293.15 + surface.temperature)
    offered = activity(surface.content) * saturation_pressure(surface.temperature)
    driving = offered - 0.6 * saturation_pressure(np.array([293.15]))
    assert flux == pytest.approx(0.00676 * driving / VAPOUR_GAS_CONSTANT / film, rel=1e-6)


def test_a_balance_that_cannot_close_is_said() -> None:
    leg = replace(ROOM, mass_coefficient=10.0, heat_coefficient=1e-3, humidity=0.0)
    with pytest.raises(ComputationError):
        dry(BALL, [leg], laws=LAWS)


def test_one_draw_alone_is_the_same_among_many() -> None:
    humidity = np.array([0.3, 0.6, 0.8])
    many = dry(BALL, [replace(ROOM, humidity=humidity)], laws=LAWS)
    alone = dry(BALL, [ROOM], laws=LAWS)
    assert many.evaporated[:, 1] == pytest.approx(alone.evaporated[:, 0], rel=1e-8, abs=1e-15)


def test_a_run_goes_on_from_the_shells_of_another() -> None:
    damp = replace(ROOM, humidity=0.8, duration=6.0 * HOUR)
    whole = dry(BALL, [ROOM, damp], laws=LAWS)
    first = dry(BALL, [ROOM], laws=LAWS)
    second = dry(first.final, [damp], laws=LAWS)
    assert second.water[-1] == pytest.approx(whole.water[-1], rel=2e-4)
    wide = dry(first.final, [replace(damp, humidity=np.array([0.7, 0.8]))], laws=LAWS)
    assert wide.water[-1, 1] == pytest.approx(second.water[-1, 0], rel=1e-8)
    lake = absorb(first.final, [WaterLeg(HOUR, 281.0, 1.2)], diffusivity=falling)
    assert lake.water[0] == first.water[-1]


def test_times_between_steps_are_as_right_as_the_steps() -> None:
    fine = dry(BALL, [ROOM], laws=LAWS)
    wanted = np.array([0.0, *fine.times[40:60:5], 50_000.0, 24.0 * HOUR])
    between = dry(BALL, [ROOM], laws=LAWS, output_times=wanted)
    assert between.times is wanted or np.array_equal(between.times, wanted)
    assert between.water[1:5] == pytest.approx(fine.water[40:60:5], rel=1e-12)
    smooth = dry(BALL, [ROOM], laws=LAWS, steps=640, output_times=wanted)
    assert between.evaporated[5] == pytest.approx(smooth.evaporated[5], rel=1e-4)


@few
@given(st.floats(0.2, 0.7), st.floats(280.0, 305.0), st.floats(1.02, 1.3))
def test_what_takes_more_water_away(humidity: float, warm: float, factor: float) -> None:
    """The first draw is plain; each of the others differs from it in one thing."""
    room = AirLeg(
        8.0 * HOUR,
        warm + np.array([0.0, 0.0, 2.0, 0.0, 0.0]),
        humidity * np.array([1.0, factor, 1.0, 1.0, 1.0]),
        0.00676 * np.array([1.0, 1.0, 1.0, factor, 1.0]),
        12.4,
    )
    quick = DIFFUSIVITY * np.array([1.0, 1.0, 1.0, 1.0, factor])
    laws = replace(LAWS, diffusivity=lambda _temperature, _content: quick)
    plain, damper, warmer, windier, looser = dry(BALL, [room], laws=laws).evaporated[-1]
    assert damper < plain < min(warmer, windier, looser)


@few
@given(st.floats(0.006, 0.012), st.floats(1.02, 1.3), st.floats(0.6, 1.4))
def test_what_lets_more_water_in(outer: float, factor: float, content: float) -> None:
    start = 0.35 / 0.65
    held_at = content * np.array([1.0, factor, 1.0])
    ball = replace(BALL, outer_radius=outer * np.array([1.0, 1.0, factor]))
    run = absorb(ball, [WaterLeg(8.0 * HOUR, 280.0, held_at)], diffusivity=steady)
    gained = run.mean_content[-1] - start
    assert gained[1] > gained[0] > gained[2]


@pytest.mark.parametrize(
    ("ball", "leg", "field"),
    [
        (replace(BALL, outer_radius=np.nan), ROOM, "ball.outer_radius"),
        (replace(BALL, core_radius=0.0085), ROOM, "ball.core_radius / ball.outer_radius"),
        (replace(BALL, water_content=-0.1), ROOM, "ball.water_content"),
        (replace(BALL, solids_density=1.35), ROOM, "ball.solids_density"),
        (replace(BALL, air_fraction=1.0), ROOM, "ball.air_fraction"),
        (replace(BALL, shrinkage=1.1), ROOM, "ball.shrinkage"),
        (BALL, replace(ROOM, duration=0.0), "leg.duration"),
        (BALL, replace(ROOM, humidity=60.0), "leg.humidity"),
        (BALL, replace(ROOM, temperature=20.0), "leg.temperature"),
        (BALL, replace(ROOM, mass_coefficient=0.0), "leg.mass_coefficient"),
        (BALL, replace(ROOM, heat_coefficient=-1.0), "leg.heat_coefficient"),
    ],
)
def test_what_cannot_be_is_refused(ball: MoistBall, leg: AirLeg, field: str) -> None:
    with pytest.raises(RangeError) as refused:
        dry(ball, [leg], laws=LAWS)
    assert refused.value.field == field


def test_times_beyond_the_legs_are_refused() -> None:
    with pytest.raises(RangeError) as refused:
        dry(BALL, [ROOM], laws=LAWS, output_times=np.array([25.0 * HOUR]))
    assert (refused.value.field, refused.value.unit) == ("output_times", "s")
