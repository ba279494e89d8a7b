"""Laws of mixtures: bounds, mass balance, limits; and what a composition refuses."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.physics.food import (
    Composition,
    component,
    conductivity,
    conductivity_bounds,
    density,
    heat_capacity,
    maxwell_eucken,
)
from baitwright.terms.errors import InputError, RangeError

NAMES = ("water", "protein", "fat", "carbohydrate", "fibre", "ash")
KELVIN = st.floats(253.15, 373.15)
POROSITY = st.floats(0.0, 0.6)


@st.composite
def compositions(draw: st.DrawFn) -> Composition:
    parts = [draw(st.floats(0.001, 1.0)) for _ in NAMES]
    return Composition(*(part / sum(parts) for part in parts))


@given(compositions(), KELVIN, POROSITY)
def test_conductivity_lies_between_series_and_parallel(
    composition: Composition, kelvin: float, porosity: float
) -> None:
    low, high = conductivity_bounds(composition, kelvin, air_fraction=porosity)
    between = conductivity(composition, kelvin, air_fraction=porosity)
    assert low * (1.0 - 1e-12) <= between <= high * (1.0 + 1e-12)


@given(compositions(), KELVIN, st.floats(0.01, 0.6))
def test_air_makes_lighter_and_slower_but_no_cooler(
    composition: Composition, kelvin: float, porosity: float
) -> None:
    dense = density(composition, kelvin)
    assert density(composition, kelvin, air_fraction=porosity) == pytest.approx(
        (1.0 - porosity) * dense, rel=1e-12
    )
    assert conductivity(composition, kelvin, air_fraction=porosity) < conductivity(
        composition, kelvin
    )


@given(compositions(), KELVIN)
def test_a_mixture_stands_among_its_parts(composition: Composition, kelvin: float) -> None:
    parts = [component(name, kelvin) for name in NAMES]
    for got, key in [
        (density(composition, kelvin), "density"),
        (heat_capacity(composition, kelvin), "heat_capacity"),
        (conductivity(composition, kelvin), "conductivity"),
    ]:
        values = [getattr(part, key) for part in parts]
        assert min(values) * (1.0 - 1e-12) <= got <= max(values) * (1.0 + 1e-12)


@pytest.mark.parametrize("name", NAMES)
def test_one_part_alone_is_itself(name: str) -> None:
    alone = Composition(**{part: float(part == name) for part in NAMES})
    own = component(name, 320.0)
    assert density(alone, 320.0) == pytest.approx(own.density, rel=1e-12)
    assert heat_capacity(alone, 320.0) == pytest.approx(own.heat_capacity, rel=1e-12)
    assert conductivity(alone, 320.0) == pytest.approx(own.conductivity, rel=1e-12)
    bounds = conductivity_bounds(alone, 320.0)
    assert bounds.low == pytest.approx(bounds.high, rel=1e-12)


@given(compositions(), compositions(), st.floats(0.0, 5.0), st.floats(0.01, 5.0))
def test_mixing_loses_nothing(
    first: Composition, second: Composition, mass: float, other: float
) -> None:
    mixed = Composition.mixed([(mass, first), (other, second)])
    for name in NAMES:
        carried = mass * getattr(first, name) + other * getattr(second, name)
        assert (mass + other) * getattr(mixed, name) == pytest.approx(carried, rel=1e-12)


@given(compositions(), compositions(), st.floats(0.1, 5.0), st.floats(0.1, 5.0))
def test_volumes_add_when_mixed(
    first: Composition, second: Composition, mass: float, other: float
) -> None:
    mixed = Composition.mixed([(mass, first), (other, second)])
    volume = mass / density(first, 293.15) + other / density(second, 293.15)
    assert (mass + other) / density(mixed, 293.15) == pytest.approx(volume, rel=1e-12)


@given(compositions(), st.floats(0.975, 1.025))
def test_a_rounded_analysis_is_scaled_to_one(composition: Composition, scale: float) -> None:
    rounded = Composition(*(scale * value for _, value in composition.parts()))
    whole = rounded.normalised()
    assert whole.total == pytest.approx(1.0, rel=1e-12)
    assert whole.water + whole.dry_matter == pytest.approx(1.0, rel=1e-12)
    assert density(rounded, 300.0) == pytest.approx(density(composition, 300.0), rel=1e-12)
    assert heat_capacity(rounded, 300.0) == pytest.approx(
        heat_capacity(composition, 300.0), rel=1e-12
    )


@given(st.floats(0.05, 5.0), st.floats(0.01, 5.0))
def test_spheres_in_a_material_have_their_two_limits(around: float, spheres: float) -> None:
    assert maxwell_eucken(around, spheres, fraction=0.0) == pytest.approx(around, rel=1e-12)
    assert maxwell_eucken(around, spheres, fraction=1.0) == pytest.approx(spheres, rel=1e-9)


def test_draws_broadcast_through_every_property() -> None:
    water = np.array([0.30, 0.35, 0.40])
    many = Composition(water, 0.25, 0.08, 0.67 - water)
    kelvin = np.array([[293.15], [333.15]])
    for formula in (density, heat_capacity, conductivity):
        values = np.asarray(formula(many, kelvin))
        assert values.shape == (2, 3)
        single = formula(Composition(0.35, 0.25, 0.08, 0.32), 333.15)
        assert values[1, 1] == pytest.approx(single, rel=1e-12)
    assert np.shape(Composition.mixed([(water, many), (1.0, many)]).water) == (3,)


@pytest.mark.parametrize(
    ("fractions", "field"),
    [
        ((0.35, 0.25, 0.10, 0.25), "composition"),
        ((35.0, 25.0, 10.0, 30.0), "composition"),
        ((1.1, -0.1, 0.0, 0.0), "composition.protein"),
        ((np.nan, 0.5, 0.2, 0.3), "composition.water"),
        ((np.array([0.3, 0.9]), 0.3, 0.2, 0.2), "composition"),
    ],
)
def test_an_impossible_composition_is_refused(fractions: tuple[float, ...], field: str) -> None:
    with pytest.raises(InputError) as caught:
        Composition(*fractions)
    assert caught.value.field == field


@pytest.mark.parametrize("masses", [[], [-1.0], [0.0], [np.nan]])
def test_a_mixture_of_nothing_is_refused(masses: list[float]) -> None:
    one = Composition(0.5, 0.5, 0.0, 0.0)
    with pytest.raises(InputError):
        Composition.mixed([(mass, one) for mass in masses])


def test_unknown_parts_and_limits_are_named() -> None:
    with pytest.raises(InputError, match="sawdust") as refused:
        component("sawdust", 300.0)
    assert refused.value.field == "component"
    paste = Composition(0.36, 0.24, 0.09, 0.31)
    with pytest.raises(RangeError):
        density(paste, 20.0)
    with pytest.raises(RangeError):
        conductivity(paste, 300.0, air_fraction=1.0)
