"""Draws, bands and propagation: what they promise, and what the standards print."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given as for_all
from hypothesis import strategies as st
from scipy import stats

from baitwright.terms.quantity import PerBait, PerBatch, given
from baitwright.uncertainty.bands import band_of, band_of_mean, movers_of, quantile_of
from baitwright.uncertainty.draws import Draws
from baitwright.uncertainty.gum import WIDEST, Measured, combine, kept_student, rectangular
from baitwright.uncertainty.spreads import LogNormal, Normal, Uniform, standard_normal


def test_quantiles_are_scipys() -> None:
    probability = np.linspace(1e-6, 1 - 1e-6, 1001)
    np.testing.assert_allclose(standard_normal(probability), stats.norm.ppf(probability), atol=1e-9)
    np.testing.assert_allclose(
        LogNormal(2.0, 0.3).quantile(probability),
        stats.lognorm(s=0.3, scale=2.0).ppf(probability),
        rtol=1e-9,
    )
    np.testing.assert_allclose(
        Uniform(1.0, 3.0).quantile(probability),
        stats.uniform(1.0, 2.0).ppf(probability),
        rtol=1e-12,
    )


def test_every_stratum_holds_one_draw() -> None:
    draws = Draws(batches=128, baits=4)
    for values in (
        draws.per_batch("x", Uniform(0, 1)).values,
        draws.per_bait("x", Uniform(0, 1)).values,
    ):
        strata = np.floor(np.sort(values.ravel()) * values.size).astype(int)
        assert list(strata) == list(range(values.size))


def test_a_stream_depends_on_its_name_and_seed_alone() -> None:
    first, again, other = Draws(seed=1), Draws(seed=1), Draws(seed=2)
    first.per_batch("something else", Normal(0, 1))
    same = [d.per_batch("x", Normal(0, 1)).values for d in (first, again, other)]
    assert np.array_equal(same[0], same[1])
    assert not np.array_equal(same[0], same[2])
    assert (
        abs(np.corrcoef(same[0].ravel(), first.per_batch("y", Normal(0, 1)).values.ravel())[0, 1])
        < 0.2
    )


def test_a_factor_known_from_little_has_heavy_tails() -> None:
    draws = Draws(batches=4096, baits=2)
    logs = np.log(draws.student_log("f", mu=0.1, scale=0.2, nu=4.0).values.ravel())
    expected = 0.1 + 0.2 * stats.t(4.0).ppf([0.1, 0.5, 0.9])
    np.testing.assert_allclose(np.quantile(logs, [0.1, 0.5, 0.9]), expected, atol=0.02)


def test_three_questions_have_three_answers() -> None:
    draws = Draws(batches=512, baits=8)
    shift = draws.per_batch("shift", Normal(0, 1)).values
    scatter = draws.per_bait("scatter", Normal(0, 2)).values
    quantity = given("x", PerBait(shift + scatter), label="x")
    bait, mean = band_of(quantity), band_of_mean(quantity)
    assert bait.high80 - bait.low80 == pytest.approx(2 * 1.2816 * np.sqrt(5), rel=0.05)
    assert mean.high80 - mean.low80 == pytest.approx(2 * 1.2816 * np.sqrt(1 + 4 / 8), rel=0.06)


def test_never_is_a_value_a_band_can_have() -> None:
    values = np.concatenate((np.arange(80.0), np.full(21, np.inf)))[:, None]
    band = band_of(given("x", PerBatch(values), label="x"))
    assert band.median == 50.0
    assert band.high80 == np.inf
    assert np.isfinite(band.high50)


@for_all(st.lists(st.floats(-1e3, 1e3), min_size=2, max_size=60), st.floats(0, 1))
def test_quantiles_are_numpys(values: list[float], probability: float) -> None:
    quantity = given("x", PerBatch(np.array(values)[:, None]), label="x")
    assert quantile_of(quantity, probability) == pytest.approx(
        float(np.quantile(values, probability)), rel=1e-9, abs=1e-9
    )


def test_what_moves_a_result_most_is_named_first() -> None:
    from baitwright.terms.quantity import Declared
    from baitwright.terms.units import PLAIN

    draws = Draws(batches=512, baits=2)
    parts = {
        name: given(name, draws.per_batch(name, Normal(0, sd)), label=name)
        for name, sd in (("little", 0.6), ("much", 2.0), ("nothing", 0.001))
    }
    total = Declared(lambda **p: sum(p.values()), "t", "t", PLAIN, "sum", "definition", "")(**parts)
    movers = movers_of(total)
    assert [mover.name for mover in movers] == ["much", "little"]
    assert movers[0].share == pytest.approx(4 / 4.36, abs=0.03)


def test_what_never_comes_has_no_movers() -> None:
    from baitwright.terms.quantity import Declared
    from baitwright.terms.units import PLAIN

    drawn = given("drawn", Draws().per_batch("drawn", Normal(0.0, 1.0)), label="drawn")
    never = Declared(
        lambda of: np.full_like(of, np.inf), "n", "n", PLAIN, "never", "definition", ""
    )
    assert movers_of(never(of=drawn)) == ()


class TestPropagation:
    """The Guide to the Expression of Uncertainty in Measurement, JCGM 100:2008."""

    def test_rectangular_limits(self) -> None:
        """4.4.5: half-width 0.40e-6 gives 0.23e-6 (printed to two digits; recalled)."""
        assert rectangular(0.40e-6) == pytest.approx(0.23e-6, abs=0.005e-6)

    def test_end_gauge(self) -> None:
        """H.1: 50.000 838 mm with u = 32 nm (printed; read in public test suites)."""

        def length(ls: float, d: float, da: float, theta: float, a: float, dt: float) -> float:
            return ls + d - ls * (da * theta + a * dt)

        result = combine(
            length,
            {
                "ls": Measured(50.000623e6, 25.0),
                "d": Measured(215.0, 9.7),
                "da": Measured(0.0, 0.58e-6),
                "theta": Measured(-0.1, 0.41),
                "a": Measured(11.5e-6, 1.2e-6),
                "dt": Measured(0.0, 0.029),
            },
        )
        assert result.value == pytest.approx(50.000838e6, abs=0.5)
        assert result.u == pytest.approx(32.0, abs=0.5)

    def test_against_the_uncertainties_package(self) -> None:
        from uncertainties import ufloat

        theirs = ufloat(2.0, 0.05) * ufloat(3.0, 0.02) / ufloat(1.5, 0.01)
        ours = combine(
            lambda a, b, c: a * b / c,
            {"a": Measured(2.0, 0.05), "b": Measured(3.0, 0.02), "c": Measured(1.5, 0.01)},
        )
        assert ours.value == pytest.approx(theirs.nominal_value, rel=1e-12)
        assert ours.u == pytest.approx(theirs.std_dev, rel=1e-4)
        assert ours.relative == pytest.approx(ours.u / ours.value)

    def test_sum_of_four_rectangles_by_draws(self) -> None:
        """JCGM 101:2008, 9.2.3: 95 % within 3.88 standard units (recalled, recomputed)."""
        draws = Draws(batches=40_000, baits=2)
        edge = np.sqrt(3.0)
        total = sum(draws.per_batch(f"x{i}", Uniform(-edge, edge)).values.ravel() for i in range(4))
        assert np.quantile(total, 0.975) == pytest.approx(3.88, abs=0.03)


@pytest.mark.parametrize("nu", [2.0, 4.0, 12.0])
def test_a_kept_student_is_scipys_with_its_tails_at_the_edge(nu: float) -> None:
    inside = stats.t(nu).expect(lambda t: t * t, lb=-WIDEST, ub=WIDEST)
    expected = np.sqrt(inside + 2.0 * WIDEST**2 * stats.t(nu).sf(WIDEST))
    assert kept_student(nu) == pytest.approx(expected, rel=1e-6)


def test_no_factor_lies_beyond_the_widest() -> None:
    values = Draws(batches=4096, baits=2).student_log("f", mu=0.0, scale=1.0, nu=2.0).values
    assert np.abs(np.log(values)).max() <= WIDEST * (1 + 1e-12)
