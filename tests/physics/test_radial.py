"""Laws of the radial engine's heat: the exact series, the ledgers, what must rise and fall."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baitwright.physics.limits import Array
from baitwright.physics.radial import Ball, Bath, HeatHow, HeatRun, Layer, Leg, Method, heat
from baitwright.physics.series import sphere_series
from baitwright.physics.shells import ShellSystem
from baitwright.terms.errors import InputError, RangeError

few = settings(max_examples=15, deadline=None)

PASTE = Layer(0.37, 1130.0, 2675.0)
CORK = Layer(0.045, 200.0, 1900.0)
NOTHING = Layer(1e-6, 0.1, 10.0)
DIFFUSIVITY = 0.37 / 1130.0 / 2675.0
HOT, COLD, FILM = 373.15, 293.15, 1500.0
CORED = Ball(0.0085, 0.005, PASTE, CORK)
BOIL = Leg(75.0, HOT, FILM)
CELLS = HeatHow(Method.CELLS)


def wall_error(run: HeatRun, ball: Ball, *, since: float = 0.2) -> float:
    """Largest distance of the wall from the series [K]."""
    outer, core = float(ball.outer_radius), float(ball.core_radius)
    series = sphere_series(outer, core, biot=FILM * outer / 0.37)
    late = run.times >= since
    exact = HOT - (HOT - COLD) * series.innermost(DIFFUSIVITY * run.times[late])
    return float(np.abs(run.innermost_shell[late, 0] - exact).max())


@pytest.mark.parametrize(
    "ball",
    [
        pytest.param(Ball(0.0085, 0.0, PASTE), id="solid"),
        pytest.param(Ball(0.0085, 0.005, PASTE), id="hollow"),
        pytest.param(Ball(0.0085, 0.005, PASTE, NOTHING), id="core of nothing"),
    ],
)
class TestSeries:
    def test_the_wall_is_right_as_it_comes(self, ball: Ball) -> None:
        exact = heat(ball, [BOIL], start=COLD)
        assert exact.method is Method.MODES
        assert wall_error(exact, ball) < 2e-5  # 1e-7 of the difference it starts with, as promised
        assert wall_error(heat(ball, [BOIL], start=COLD, how=CELLS), ball) < 0.02

    def test_twice_the_cells_are_four_times_as_right(self, ball: Ball) -> None:
        errors = []
        for cells in (12, 24, 48):
            run = heat(ball, [BOIL], start=COLD, step=0.04, how=HeatHow(cells=(cells // 3, cells)))
            errors.append(wall_error(run, ball, since=10.0))
        orders = np.log2(np.divide(errors[:-1], errors[1:]))
        assert orders == pytest.approx([2.0, 2.0], abs=0.15)

    def test_half_the_step_is_four_times_as_right(self, ball: Ball) -> None:
        walls = [
            heat(ball, [Leg(16.0, HOT, FILM)], start=COLD, step=step, how=CELLS).innermost_shell[
                -1, 0
            ]
            for step in (1.0, 0.5, 0.25)
        ]
        assert np.log2((walls[0] - walls[1]) / (walls[1] - walls[2])) == pytest.approx(2, abs=0.3)

    def test_the_mean_and_the_surface_follow(self, ball: Ball) -> None:
        outer, core = float(ball.outer_radius), float(ball.core_radius)
        series = sphere_series(outer, core, biot=FILM * outer / 0.37)
        run = heat(ball, [BOIL], start=COLD)
        late = run.times > 10.0
        diffused, span = DIFFUSIVITY * run.times[late], HOT - COLD
        assert np.abs(run.shell_mean[late, 0] - HOT + span * series.mean(diffused)).max() < 0.05
        assert np.abs(run.surface[late, 0] - HOT + span * series.surface(diffused)).max() < 0.02


def test_a_core_of_the_same_stuff_is_no_core() -> None:
    run = heat(
        replace(CORED, core=PASTE),
        [BOIL],
        start=COLD,
        how=HeatHow(cells=(40, 28)),
        keep_profiles=True,
    )
    assert run.profiles is not None
    series = sphere_series(0.0085, biot=FILM * 0.0085 / 0.37)
    late = run.times > 1.0
    exact = series.local(DIFFUSIVITY * run.times[late], 0.005)
    assert np.abs(run.innermost_shell[late, 0] - HOT + (HOT - COLD) * exact).max() < 0.03
    centre = run.profiles[late, 0, 0]
    exact = series.innermost(DIFFUSIVITY * run.times[late])
    assert np.abs(centre - HOT + (HOT - COLD) * exact).max() < 0.03


def test_a_tiny_core_is_no_core() -> None:
    tiny = heat(Ball(0.0085, 1e-5, PASTE, CORK), [BOIL], start=COLD, how=HeatHow(cells=(4, 52)))
    solid = heat(Ball(0.0085, 0.0, PASTE), [BOIL], start=COLD)
    assert np.abs(tiny.innermost_shell - solid.innermost_shell).max() < 0.1


def test_a_film_of_nothing_holds_the_surface() -> None:
    ball = Ball(0.0085, 0.005, PASTE)
    run = heat(ball, [Leg(75.0, HOT, 1e8)], start=COLD)
    exact = HOT - (HOT - COLD) * sphere_series(0.0085, 0.005).innermost(DIFFUSIVITY * run.times)
    assert run.surface[1:] == pytest.approx(HOT, abs=1e-2)
    assert np.abs(run.innermost_shell[:, 0] - exact)[run.times > 1.0].max() < 0.03


def test_a_cork_lets_the_wall_wait() -> None:
    sealed, cork = (heat(replace(CORED, core=core), [BOIL], start=COLD) for core in (None, CORK))
    assert np.all(cork.innermost_shell[40:] < sealed.innermost_shell[40:])


def stored(run: HeatRun) -> Array:
    return np.asarray((run.capacities * (run.profile - COLD)).sum(axis=0))


def test_no_heat_is_lost_in_the_ball() -> None:
    legs = [BOIL, Leg(30.0, COLD, 40.0, step=0.7), Leg(20.0, np.array([280.0, 290.0]), 500.0)]
    run = heat(CORED, legs, start=COLD)
    assert run.heat_in[-1] == pytest.approx(stored(run), rel=1e-9)
    assert run.times[-1] == pytest.approx(125.0)


@few
@given(st.floats(0.5, 5.0), st.floats(-200.0, 3000.0), st.floats(1.0, 200.0), st.floats(0.0, 15.0))
def test_no_heat_is_lost_in_the_pot(litres: float, power: float, balls: float, cool: float) -> None:
    bath = Bath(4200.0 * litres, power, HOT, balls, start=HOT - cool)
    run = heat(CORED, [Leg(60.0, bath, FILM)], start=COLD, step=0.5)
    gained = 4200.0 * litres * (run.surroundings[-1] - (HOT - cool))
    spent = balls * (stored(run) + run.heat_vented[-1]) + gained
    assert spent == pytest.approx(power * 60.0, abs=1e-9 * balls * stored(run)[0])
    assert np.all(run.surroundings <= HOT)
    rounding = 1e-15 * 4200.0 * litres * HOT
    assert np.all(np.diff(run.heat_vented[:, 0]) >= -rounding)


def test_a_cold_pot_and_its_balls_meet() -> None:
    bath = Bath(4217.0, 0.0, HOT, 50.0)
    run = heat(CORED, [Leg(3000.0, bath, FILM, step=5.0)], start=COLD)
    body = 50.0 * run.capacities.sum()
    met = (4217.0 * HOT + body * COLD) / (4217.0 + body)
    assert run.surroundings[-1] == pytest.approx(met, abs=1e-3)
    assert run.innermost_shell[-1] == pytest.approx(met, abs=1e-3)
    assert not run.heat_vented.any()


def test_a_large_pot_is_held_at_its_boil() -> None:
    sea = heat(CORED, [Leg(75.0, Bath(1e8, 1e4, HOT, 1.0), FILM)], start=COLD)
    held = heat(CORED, [BOIL], start=COLD, how=CELLS)
    assert sea.method is Method.CELLS
    assert sea.innermost_shell == pytest.approx(held.innermost_shell, abs=1e-9)


def test_the_middle_goes_on_warming_after_the_pot() -> None:
    run = heat(Ball(0.009, 0.0, PASTE), [Leg(90.0, HOT, FILM), Leg(120.0, COLD, 40.0)], start=COLD)
    centre = run.innermost_shell[:, 0]
    out = int(np.searchsorted(run.times, 90.0))
    assert centre.argmax() > out
    assert centre.max() > centre[out] + 10.0


def test_one_draw_alone_is_the_same_among_many() -> None:
    outer, film = np.array([0.007, 0.0085, 0.01]), np.array([800.0, 1500.0, 3000.0])
    for how, apart in ((CELLS, 0.0), (None, 1e-5)):  # fewer modes do for one ball than for three
        many = heat(Ball(outer, 0.005, PASTE, CORK), [Leg(40.0, HOT, film)], start=COLD, how=how)
        alone = heat(
            Ball(0.0085, 0.005, PASTE, CORK), [Leg(40.0, HOT, 1500.0)], start=COLD, how=how
        )
        assert np.abs(many.innermost_shell[:, 1] - alone.innermost_shell[:, 0]).max() <= apart


def test_a_run_goes_on_from_a_profile() -> None:
    legs = [Leg(20.0, HOT, FILM), Leg(40.0, COLD, 40.0)]
    whole = heat(CORED, legs, start=COLD, how=CELLS)
    first = heat(CORED, legs[:1], start=COLD, how=CELLS)
    second = heat(CORED, legs[1:], start=first.profile)
    assert second.innermost_shell[-1] == pytest.approx(whole.innermost_shell[-1], abs=1e-12)
    exact = heat(CORED, legs, start=COLD)
    second = heat(CORED, legs[1:], start=heat(CORED, legs[:1], start=COLD).profile)
    assert second.method is Method.CELLS
    assert second.innermost_shell[-1] == pytest.approx(exact.innermost_shell[-1], abs=0.03)


def test_the_error_told_is_a_third_of_what_half_the_cells_and_steps_change() -> None:
    """A method of second order (Richardson): half as fine is four times as wrong."""
    ball, air = Ball(0.0085, 0.0075, PASTE, PASTE), Leg(75.0, HOT, 100.0)
    fine = heat(ball, [air], start=COLD, step=0.25, how=HeatHow(cells=(9, 60), check=True))
    coarse = heat(ball, [air], start=COLD, step=0.5, how=HeatHow(cells=(4, 30)))
    apart = max(
        float(np.abs(getattr(fine, kind)[::2] - getattr(coarse, kind))[1:].max())
        for kind in ("innermost_shell", "surface", "shell_mean")
    )
    assert fine.error is not None
    assert float(fine.error[0]) == pytest.approx(apart / 3.0, rel=1e-12)


@pytest.mark.parametrize("how", [HeatHow(Method.CELLS, check=True), HeatHow(check=True)])
def test_a_run_tells_its_error(how: HeatHow) -> None:
    outer = np.array([0.007, 0.0085, 0.01])
    ball = Ball(outer, 0.5 * outer, PASTE, CORK)
    legs = [Leg(40.0, HOT, FILM), Leg(30.0, COLD, 50.0)]
    run = heat(ball, legs, start=COLD, how=how)
    fine = HeatHow(Method.CELLS, cells=(60, 240))
    truth = heat(ball, legs, start=COLD, step=0.05, how=fine)
    every = np.searchsorted(truth.times, run.times - 1e-9)
    error = np.abs(run.innermost_shell - truth.innermost_shell[every])[4:].max(axis=0)
    assert run.error is not None
    assert np.all(error < 1.2 * run.error + 5e-3)  # the finer run is not quite the truth
    assert np.all(run.error < (1.0 if how.method else 1e-4))


def test_the_exact_run_has_the_shape_of_the_other() -> None:
    legs = [BOIL, Leg(30.0, COLD, 40.0, step=0.7)]
    exact = heat(CORED, legs, start=COLD, keep_profiles=True)
    cells = heat(CORED, legs, start=COLD, keep_profiles=True, how=CELLS)
    assert exact.profiles is not None
    assert cells.profiles is not None
    assert exact.times == pytest.approx(cells.times)
    assert exact.surroundings == pytest.approx(cells.surroundings)
    assert np.abs(exact.profiles - cells.profiles)[8:].max() < 0.5  # beside a fresh surface
    assert np.abs(exact.profile - cells.profile).max() < 0.3  # eight cells in the core
    assert exact.heat_in[-1] == pytest.approx(cells.heat_in[-1], rel=2e-3)


def test_a_method_that_cannot_is_refused() -> None:
    modes = HeatHow(Method.MODES)
    with pytest.raises(InputError):
        heat(CORED, [Leg(75.0, Bath(1e4, 1e3, HOT, 1.0), FILM)], start=COLD, how=modes)
    with pytest.raises(InputError):
        heat(CORED, [BOIL], start=np.full((44, 1), COLD), how=modes)


@few
@given(
    st.floats(0.006, 0.012),
    st.floats(0.2, 0.7),
    st.floats(300.0, 3000.0),
    st.floats(1.02, 1.5),
)
def test_what_makes_the_wall_hot_sooner(
    outer: float, share: float, film: float, factor: float
) -> None:
    core = share * outer

    def wall(ball: Ball, coefficient: float = film, hot: float = HOT) -> float:
        run = heat(ball, [Leg(50.0, hot, coefficient)], start=COLD, step=1.0)
        return float(run.innermost_shell[-1, 0])

    plain = wall(Ball(outer, core, PASTE, CORK))
    assert wall(Ball(outer, core, PASTE, CORK), film * factor) > plain
    assert wall(Ball(outer, core, PASTE, CORK), hot=HOT + 2.0) > plain
    assert wall(Ball(outer * factor, core, PASTE, CORK)) < plain
    assert wall(Ball(outer, min(core * factor, 0.9 * outer), PASTE, CORK)) > plain
    assert wall(Ball(outer, core, Layer(0.37 * factor, 1130.0, 2675.0), CORK)) > plain


@few
@given(st.integers(2, 12), st.integers(0, 2**32 - 1))
def test_the_elimination_solves_the_equations(cells: int, seed: int) -> None:
    random = np.random.default_rng(seed)
    capacity = 10.0 ** random.uniform(-6, 3, (cells, 1))
    conductance = 10.0 ** random.uniform(-6, 3, (cells - 1, 1))
    load, outside = random.normal(size=(cells, 1)), 10.0 ** random.uniform(-3, 3)
    links = np.append(conductance, outside)
    matrix = np.diag(capacity[:, 0] + links + np.append(0.0, links[:-1]))
    matrix -= np.diag(conductance[:, 0], 1) + np.diag(conductance[:, 0], -1)
    system = ShellSystem(cells, 1)
    system.factor(capacity, conductance)
    found = load.copy()
    folded = system.fold(found)
    system.unfold(found, folded / (system.outer + outside))
    assert matrix @ found == pytest.approx(load, abs=1e-9 * np.abs(matrix).max())


@pytest.mark.parametrize(
    ("ball", "leg", "field"),
    [
        (replace(CORED, outer_radius=-0.01), BOIL, "ball.outer_radius"),
        (replace(CORED, core_radius=0.0085), BOIL, "ball.core_radius / ball.outer_radius"),
        (replace(CORED, core_radius=np.array([0.0, 0.005])), BOIL, "ball.core_radius"),
        (replace(CORED, shell=replace(PASTE, conductivity=0.0)), BOIL, "shell.conductivity"),
        (replace(CORED, core=replace(CORK, density=np.nan)), BOIL, "core.density"),
        (CORED, Leg(0.0, HOT, FILM), "leg.duration"),
        (CORED, Leg(75.0, 100.0, FILM), "leg.surroundings"),
        (CORED, Leg(75.0, HOT, 0.0), "leg.coefficient"),
        (CORED, Leg(75.0, HOT, FILM, step=0.0), "leg.step"),
        (CORED, Leg(75.0, Bath(0.0, 1.0, HOT, 1.0), FILM), "bath.heat_capacity"),
        (CORED, Leg(75.0, Bath(1.0, 1.0, HOT, 1.0, start=HOT + 1.0), FILM), "bath.start"),
    ],
)
def test_what_cannot_be_is_refused(ball: Ball, leg: Leg, field: str) -> None:
    with pytest.raises(RangeError) as refused:
        heat(ball, [leg], start=COLD)
    assert refused.value.field.startswith(field)
