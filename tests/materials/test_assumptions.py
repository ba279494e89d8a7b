"""Defaults, factors and hardness: in SI, in their bands, with a reading that moves them."""

from __future__ import annotations

import pytest

from baitwright.materials.defaults import Default, default, defaults, hardness, hardnesses
from baitwright.materials.factors import FactorPrior, factor_priors, prior_factors
from baitwright.terms.errors import InputError


@pytest.mark.parametrize("row", defaults().values(), ids=lambda row: row.id)
def test_a_default_lies_in_its_band(row: Default) -> None:
    assert row.low <= row.value <= row.high
    assert row.low < row.high
    assert row.label
    assert row.evidence != "read"


@pytest.mark.parametrize(
    ("name", "value"),
    [
        ("room_temperature", 293.15),
        ("room_humidity", 0.6),
        ("pot_volume", 3e-3),
        ("pot_power", 1500.0),
        ("paste_working_time", 2700.0),
        ("rolling_pace", 0.05),
        ("surface_coefficient", 1500.0),
        ("diameter_spread", 0.3e-3),
        ("core_density_ball_spread", 20.0),
        ("shell_minimum", 1.5e-3),
        ("moisture_diffusivity", 5e-11),
        ("pot_volume", 3e-3),
        ("basket", 25.0),
    ],
)
def test_defaults_are_in_si(name: str, value: float) -> None:
    assert default(name).value == pytest.approx(value, rel=1e-12)


def test_an_unknown_default_is_our_slip() -> None:
    with pytest.raises(KeyError):
        default("luck")


def test_the_factors_start_at_the_tables_values() -> None:
    found = prior_factors()
    assert found.made_on is None
    assert [factor.key for factor in found.factors] == list(factor_priors())
    for factor in found.factors:
        assert factor.median == 1.0
        assert factor.batches == 0
    assert found.find("core_density", "some lot").key == "core_density"


@pytest.mark.parametrize("row", factor_priors().values(), ids=lambda row: row.id)
def test_a_prior_predicts_the_next_batch_as_it_says(row: FactorPrior) -> None:
    assert row.factor.scale == pytest.approx(row.log_sd, rel=1e-12)
    assert 0.0 < row.log_sd <= 1.0
    assert row.measurement


def test_base_values_are_in_si() -> None:
    assert factor_priors()["dry_mix_per_egg"].base_value == pytest.approx(1600.0)
    assert factor_priors()["rolling_loss"].base_value == pytest.approx(0.03)
    assert factor_priors()["core_density"].base_value == pytest.approx(200.0)


def test_harder_is_set_further_and_held_longer() -> None:
    rows = list(hardnesses().values())
    assert [row.id for row in rows] == ["normal", "hard", "extra-hard"]
    assert [row.hold for row in rows] == [0.0, 15.0, 45.0]
    assert [row.extent for row in rows] == sorted(row.extent for row in rows)
    assert hardness("extra hard") is rows[2]
    with pytest.raises(InputError, match="normal"):
        hardness("norml")
