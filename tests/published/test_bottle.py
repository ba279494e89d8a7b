"""What a sample proves, against exact distributions of a peer and figures that stand in print."""

from __future__ import annotations

import pytest
from scipy import stats

from baitwright.learning.sample import endless_bound, hypergeometric_below, prove, tray_bound

pytestmark = pytest.mark.published


@pytest.mark.parametrize(("tested", "share"), [(13, 0.206), (8, 0.312), (59, 0.0495)])
def test_nothing_bad_among_so_many(tested: int, share: float) -> None:
    """clopper-pearson-1934: 1 - 0.05^(1/n) where none is bad; printed to three digits."""
    assert endless_bound(tested, 0) == pytest.approx(1.0 - 0.05 ** (1.0 / tested), abs=1e-12)
    assert endless_bound(tested, 0) == pytest.approx(share, abs=5e-4)


def test_eight_of_eight_name_which() -> None:
    """At most 31 % of all such baits, 28 % of a tray of 50: the hypergeometric knows the tray."""
    proof = prove(8, 0, tray=50)
    assert round(100.0 * proof.all_such) == 31
    assert proof.in_tray == 14
    assert proof.in_tray / 50 == 0.28


def test_a_batch_with_five_bad_passes_often() -> None:
    """55 baits of which 5 are bad: 8 drawn and none bad in 0.44094 of all samples."""
    assert hypergeometric_below(0, 8, tray=55, total=5) == pytest.approx(0.44094, abs=5e-6)


@pytest.mark.parametrize("tested", [1, 2, 8, 13, 40, 400])
def test_the_endless_bound_is_the_beta_quantile(tested: int) -> None:
    """clopper-pearson-1934: the limit is a quantile of a beta distribution; arithmetic only."""
    for bad in {0, 1, tested // 3, tested - 1} & set(range(tested)):
        exact = stats.beta.ppf(0.95, bad + 1, tested - bad)
        assert endless_bound(tested, bad) == pytest.approx(exact, rel=1e-9)


@pytest.mark.parametrize(("tray", "tested"), [(50, 8), (50, 50), (262, 20), (12, 3)])
def test_the_tray_bound_against_the_hypergeometric(tray: int, tested: int) -> None:
    """buonaccorsi-1987: the last total whose tail is above 5 %, the next one's is not."""
    for bad in {0, 1, tested // 2} & set(range(tested + 1)):
        most = tray_bound(tested, bad, tray=tray)
        assert bad <= most <= tray - tested + bad
        if most > bad:
            assert stats.hypergeom.cdf(bad, tray, most, tested) > 0.05
        if most < tray - tested + bad:
            assert stats.hypergeom.cdf(bad, tray, most + 1, tested) <= 0.05
