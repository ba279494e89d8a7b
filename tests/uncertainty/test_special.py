"""Gamma and beta functions against scipy, and their own laws."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import special, stats

from baitwright.terms.errors import RangeError
from baitwright.uncertainty.special import (
    beta_below,
    beta_quantile,
    chi_squared_above,
    f_above,
    gamma_below,
    gamma_quantile,
    halved,
    student_quantile,
)

SHAPES = st.floats(0.1, 2000.0)
SHARES = st.floats(1e-4, 1.0 - 1e-4)


@given(x=st.floats(0.0, 1.0), a=SHAPES, b=SHAPES)
def test_beta_is_scipys(x: float, a: float, b: float) -> None:
    assert beta_below(x, a, b) == pytest.approx(special.betainc(a, b, x), rel=1e-9, abs=1e-13)


@given(x=st.floats(0.0, 5000.0), a=SHAPES)
def test_gamma_is_scipys(x: float, a: float) -> None:
    assert gamma_below(x, a) == pytest.approx(special.gammainc(a, x), rel=1e-9, abs=1e-13)


@given(share=SHARES, a=st.floats(0.5, 500.0), b=st.floats(0.5, 500.0))
def test_a_quantile_leaves_its_share_below(share: float, a: float, b: float) -> None:
    assert beta_below(beta_quantile(share, a, b), a, b) == pytest.approx(share, rel=1e-8)
    assert gamma_below(gamma_quantile(share, a), a) == pytest.approx(share, rel=1e-8)


@given(share=SHARES, degrees=st.floats(1.0, 300.0))
def test_students_quantile_is_scipys(share: float, degrees: float) -> None:
    found = student_quantile(share, degrees)
    assert found == pytest.approx(stats.t.ppf(share, degrees), rel=1e-7, abs=1e-7)


@given(x=st.floats(0.01, 50.0), above=st.integers(1, 40), below=st.integers(1, 200))
def test_tails_are_scipys(x: float, above: int, below: int) -> None:
    assert f_above(x, above, below) == pytest.approx(stats.f.sf(x, above, below), abs=1e-11)
    assert chi_squared_above(x, above) == pytest.approx(stats.chi2.sf(x, above), abs=1e-11)


@pytest.mark.parametrize("shape", [0.0, -1.0, math.inf, math.nan])
def test_no_shape_no_share(shape: float) -> None:
    with pytest.raises(RangeError):
        gamma_below(1.0, shape)
    with pytest.raises(RangeError):
        beta_below(0.5, 1.0, shape)


def test_halving_finds_a_crossing() -> None:
    assert halved(lambda x: x**3 - 2.0, 0.0, 2.0) == pytest.approx(2.0 ** (1.0 / 3.0), rel=1e-15)
