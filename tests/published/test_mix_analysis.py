"""A worked base mix on its bases, densities and energies, against food tables and hand figures."""

from __future__ import annotations

import pytest

from baitwright.blending.analysis import MixAnalysis, analyse_mix
from baitwright.blending.bases import Basis, Bowl
from baitwright.blending.blend import gross_energy_of
from baitwright.blending.carp import energy_to_protein
from baitwright.blending.components import MixTold
from baitwright.materials.carp import carp_figures
from baitwright.materials.powders import ingredient, ingredients
from baitwright.materials.tables import CONSTITUENTS
from baitwright.physics.food import Composition, component, density
from baitwright.recipe.model import BaseMix, Part
from baitwright.terms.quantity import given
from baitwright.terms.units import GRAMS

pytestmark = pytest.mark.published

ROOM = 293.15
# The least-cost answer to a worked case of fourteen ingredients, in percent to four decimals.
WORKED = {
    "semolina": 42.8555,
    "soya-flour-roasted": 12.2829,
    "fishmeal-65": 24.8616,
    "krill-meal": 2.0,
    "milk-powder-skimmed": 5.0,
    "egg-albumen": 5.0,
    "maize-meal-coarse": 8.0,
}


@pytest.fixture(scope="module")
def worked() -> MixAnalysis:
    """80 g of the mix and 50 g of liquid egg, dried to 25 % water, every figure as printed."""
    base = BaseMix("Worked", tuple(Part(name, share / 100) for name, share in WORKED.items()))
    bowl = Bowl(
        given("egg", 0.050, label="egg", unit=GRAMS),
        given("dry_mix_per_egg", 0.080, label="dry mix per egg", unit=GRAMS),
        water=0.25,
    )
    return analyse_mix(MixTold(base), bowl, None)


@pytest.mark.parametrize(
    ("basis", "name", "percent"),
    [
        (Basis.DRY_MIX, "protein", 34.0),
        (Basis.DRY_MIX, "fat", 6.0),
        (Basis.DRY_MIX, "ash", 6.2449),
        (Basis.DRY_MIX, "water", 9.4676),
        (Basis.PASTE, "water", 35.1147),
        (Basis.PASTE, "protein", 25.7538),
        (Basis.PASTE, "fat", 7.35),
        (Basis.BAIT, "water", 25.0),
        (Basis.BAIT, "protein", 29.7685),
        (Basis.BAIT, "fat", 8.4958),
        (Basis.DRY_MATTER, "protein", 29.7685 / 0.75),
    ],
)
def test_the_worked_mix_on_its_bases(
    worked: MixAnalysis, basis: Basis, name: str, percent: float
) -> None:
    """usda-sr28 and inrae-cirad-afz rows, worked out apart from this program to four decimals."""
    assert worked.figure(name, basis).value == pytest.approx(percent / 100, abs=1e-5)


def test_the_weight_left_at_25_percent_water(worked: MixAnalysis) -> None:
    """130 g of paste come to 112.4679 g: the dry matter over three quarters."""
    assert 130.0 * worked.bases.left.value == pytest.approx(112.4679, abs=1e-3)


def test_the_density_of_the_worked_mix(worked: MixAnalysis) -> None:
    """choi-okos-1986: 1.37528 g/ml from three-decimal densities, 1.37549 from the composition."""
    assert worked.bases.densities[Basis.DRY_MIX].value == pytest.approx(1375.28, abs=0.01)
    whole = sum(WORKED.values())
    by_composition = 1.0 / sum(
        share
        / whole
        / float(density(Composition(**ingredient(name).composition).normalised(), ROOM))
        for name, share in WORKED.items()
    )
    assert by_composition == pytest.approx(1375.49, abs=0.1)


@pytest.mark.parametrize(
    ("name", "expected"),
    [
        ("water", 995.740),
        ("protein", 1319.532),
        ("fat", 917.239),
        ("carbohydrate", 1592.891),
        ("fibre", 1304.182),
        ("ash", 2418.187),
    ],
)
def test_component_densities_at_20_degrees(name: str, expected: float) -> None:
    """choi-okos-1986: the published polynomials at 20 °C, to the third decimal of kg/m3."""
    assert float(component(name, ROOM).density) == pytest.approx(expected, abs=1e-3)


@pytest.mark.parametrize(("name", "expected"), [("whole-egg", 1028.0), ("semolina", 1427.0)])
def test_densities_by_composition(name: str, expected: float) -> None:
    """choi-okos-1986 on usda-sr28 compositions, to the third decimal of g/ml."""
    made = density(Composition(**ingredient(name).composition).normalised(), ROOM)
    assert float(made) == pytest.approx(expected, abs=1.0)


@pytest.mark.parametrize(
    ("protein", "fat", "rest", "megajoules", "table"),
    [(0.323, 0.098, 0.434, 18.959, 19.0), (0.652, 0.092, 0.009, 19.176, 18.9)],
    ids=["linseed meal", "fish meal 65 %"],
)
def test_gross_energy_by_the_three_factors(
    protein: float, fat: float, rest: float, megajoules: float, table: float
) -> None:
    """inrae-cirad-afz: measured gross energies; the factors claim 3 % of them."""
    made = gross_energy_of.function(protein, fat, rest, 0.0)
    assert made == pytest.approx(megajoules * 1e6, abs=5e2)
    assert made == pytest.approx(table * 1e6, rel=0.03)


@pytest.mark.parametrize(
    ("kilocalories", "percent", "expected"), [(3100.0, 32.0, 96.9), (3600.0, 31.0, 116.1)]
)
def test_the_ends_of_energy_to_protein(
    kilocalories: float, percent: float, expected: float
) -> None:
    """takeuchi-1979-45: the abstract rounds the two ends to 97 and 116."""
    made = energy_to_protein.function(kilocalories * 4184.0, percent / 100.0)
    assert made == pytest.approx(expected, abs=0.1)
    row = carp_figures()["energy-to-protein"]
    assert min(abs(made - row.low), abs(made - row.high)) < 0.5


def test_the_table_of_ingredients_is_whole() -> None:
    """116 rows; all figures of composition are told, and none is below nothing."""
    rows = ingredients()
    assert len(rows) == 116
    assert all(row.composition[name] >= 0.0 for row in rows.values() for name in CONSTITUENTS)
