"""Powders, liquids, cork and metals against food tables, feed tables, laws and handbooks."""

from __future__ import annotations

import math

import pytest
from chemicals.safety import T_flash
from chemicals.volume import rho_data_CRC_inorg_s_const, rho_data_Perry_8E_105_l
from CoolProp.CoolProp import PropsSI

from baitwright.materials.cores import cores
from baitwright.materials.hooks import lead_limited_in_britain, shots, weight
from baitwright.materials.liquids import FLAMMABLE_UP_TO, carrier
from baitwright.materials.powders import allergens, gross_energy, ingredient, ingredients

pytestmark = pytest.mark.published

ICE_POINT = 273.15
ROOM = 293.15
# choi-okos-1986: density of each constituent at 20 °C in kg/m3, from its published coefficients.
CHOI_OKOS_20C = {
    "water": 997.18 + 3.1439e-3 * 20 - 3.7574e-3 * 20**2,
    "protein": 1329.9 - 0.5184 * 20,
    "fat": 925.59 - 0.41757 * 20,
    "carbohydrate": 1599.1 - 0.31046 * 20,
    "fibre": 1311.5 - 0.36589 * 20,
    "ash": 2423.8 - 0.28063 * 20,
}


@pytest.mark.parametrize("name", list(ingredients()))
def test_density_by_composition(name: str) -> None:
    """choi-okos-1986: volumes add. The table keeps three decimals of g/ml."""
    row = ingredients()[name]
    total = math.fsum(row.composition.values())
    volume = math.fsum(x / total / CHOI_OKOS_20C[k] for k, x in row.composition.items())
    assert row.composition_density == pytest.approx(1.0 / volume, abs=0.6)


UNCLOSED = {"whey-protein-80", "whey-protein-35", "shrimp-powder", "fish-hydrolysate-powder"}


@pytest.mark.parametrize("name", list(ingredients()))
def test_parts_add_up(name: str) -> None:
    """By definition of carbohydrate as the remainder; four sources print figures that do not.

    The others miss by up to 0.3 points, where a source measured the last part too.
    """
    total = math.fsum(ingredients()[name].composition.values())
    assert total == pytest.approx(1.0, abs=0.03 if name in UNCLOSED else 0.003)
    if name in UNCLOSED:
        assert abs(total - 1.0) > 0.01


@pytest.mark.parametrize(
    ("name", "factors", "kilocalories"),
    [
        ("semolina", (4.05, 8.37, 4.12), 360.0),
        ("whole-egg", (4.36, 9.02, 3.68), 143.0),
        ("soya-flour", (3.47, 8.37, 4.07), 434.0),
    ],
)
def test_energy_identity(
    name: str, factors: tuple[float, float, float], kilocalories: float
) -> None:
    """usda-sr28: kilocalories by that table's own factors, which count fibre as carbohydrate.

    Printed in whole kilocalories. Our column holds them in kilojoules at 4.184.
    """
    row = ingredient(name)
    parts = (row.protein, row.fat, row.carbohydrate + row.fibre)
    by_factors = 100.0 * sum(f * x for f, x in zip(factors, parts, strict=True))
    assert by_factors == pytest.approx(kilocalories, abs=0.75)
    assert row.energy is not None
    assert row.energy == pytest.approx(kilocalories * 4.184e4, abs=0.6e4)


@pytest.mark.parametrize(
    ("name", "megajoules"),
    [
        ("linseed-meal", 19.0),
        ("fishmeal-65", 18.9),
        ("milk-powder-feed", 17.4),
        ("coconut-meal", 18.49),
        ("fish-hydrolysate-powder", 22.7),
    ],
)
def test_gross_energy(name: str, megajoules: float) -> None:
    """inrae-cirad-afz and copra-page: measured gross energies; the three factors claim 3 %."""
    assert gross_energy(ingredient(name)) == pytest.approx(megajoules * 1e6, rel=0.031)


@pytest.mark.parametrize(
    ("name", "low", "high"),
    [
        ("fishmeal-65", 0.48, 0.64),
        ("wheat-bran", 0.17, 0.25),
        ("coconut-meal", 0.43, 0.46),
        ("peanut-meal", 0.46, 0.46),
        ("blood-meal", 0.61, 0.61),
        ("shrimp-meal", 0.40, 0.40),
        ("whey-powder", 0.56, 0.73),
        ("salt", 1.12, 1.28),
        ("oyster-grit", 1.20, 1.20),
    ],
)
def test_bulk_density(name: str, low: float, high: float) -> None:
    """fao-adcp-87-26, appendix XI: inside the range as printed."""
    bulk = ingredient(name).bulk_density
    assert bulk is not None
    assert low * 1e3 * (1 - 1e-9) <= bulk <= high * 1e3 * (1 + 1e-9)


@pytest.mark.parametrize(
    ("name", "grams", "millilitres"),
    [
        ("semolina", 167.0, 236.588),
        ("soya-flour", 84.0, 236.588),
        ("egg-albumen", 107.0, 236.588),
        ("bakers-yeast", 4.0, 4.92892),
    ],
)
def test_bulk_density_of_a_measure(name: str, grams: float, millilitres: float) -> None:
    """usda-sr28, household weights in whole grams; the table keeps three decimals of g/ml."""
    assert ingredient(name).bulk_density == pytest.approx(grams / millilitres * 1e3, abs=0.6)


@pytest.mark.parametrize(
    ("name", "protein", "fat", "ash_low", "ash_high"),
    [("acid-casein", 0.90, 0.0225, 0.0, 0.025), ("rennet-casein", 0.84, 0.02, 0.075, 1.0)],
)
def test_edible_casein(
    name: str, protein: float, fat: float, ash_low: float, ash_high: float
) -> None:
    """uk-si-1990-1, schedule, part III: limits on dry matter, and water at most 10 %."""
    row = ingredient(name)
    dry = 1.0 - row.water
    assert row.water <= 0.10
    assert row.protein / dry >= protein
    assert row.fat / dry <= fat
    assert ash_low <= row.ash <= ash_high


def test_the_fourteen_allergen_groups() -> None:
    """eu-1169-2011, annex II, in its order."""
    assert [row.number for row in allergens().values()] == list(range(1, 15))
    assert list(allergens()) == [
        "cereals-with-gluten",
        "crustaceans",
        "eggs",
        "fish",
        "peanuts",
        "soybeans",
        "milk",
        "nuts",
        "celery",
        "mustard",
        "sesame",
        "sulphites",
        "lupin",
        "molluscs",
    ]


def test_the_nine_american_allergens() -> None:
    """us-falcpa-faster: eight of 2004 and sesame."""
    assert {row.us_name for row in allergens().values() if row.us_major} == {
        "milk",
        "eggs",
        "fish",
        "crustacean shellfish",
        "tree nuts",
        "wheat",
        "peanuts",
        "soybeans",
        "sesame",
    }


# Molar mass in kg/mol of what the handbook tables give by amount of substance.
LIQUIDS = {
    "propylene-glycol": ("57-55-6", 0.076095),
    "isopropanol": ("67-63-0", 0.060096),
    "ethanol": ("64-17-5", 0.046069),
    "acid": ("107-92-6", 0.088106),
}


@pytest.mark.parametrize("name", list(LIQUIDS))
def test_carrier_density(name: str) -> None:
    """Perry's Handbook, 8th edition, table 2-32, by the package chemicals, at 20 °C.

    The correlations claim about 1 %; a flavour's carrier holds some water besides.
    """
    cas, molar_mass = LIQUIDS[name]
    row = rho_data_Perry_8E_105_l.loc[cas]
    molar = row["C1"] / row["C2"] ** (1.0 + (1.0 - ROOM / row["C3"]) ** row["C4"])
    assert carrier(name).density == pytest.approx(molar * molar_mass, rel=0.01)


@pytest.mark.parametrize(("name", "fluid"), [("ethanol", "Ethanol"), ("water", "Water")])
def test_carrier_density_by_equation_of_state(name: str, fluid: str) -> None:
    """CoolProp at 20 °C and one atmosphere; the table keeps three decimals of g/ml."""
    density = PropsSI("D", "T", ROOM, "P", 101_325.0, fluid)
    assert carrier(name).density == pytest.approx(density, abs=0.6)


@pytest.mark.parametrize(
    ("name", "cas", "tolerance"),
    [
        ("ethanol", "64-17-5", 2.0),
        ("isopropanol", "67-63-0", 2.0),
        ("acid", "107-92-6", 2.0),
        ("essential-oil", "5989-27-5", 5.0),
        ("triacetin", "102-76-1", 5.0),
        ("propylene-glycol", "57-55-6", 17.0),
        ("glycerol", "56-81-5", 17.0),
    ],
)
def test_flash_point(name: str, cas: str, tolerance: float) -> None:
    """Collections in the package chemicals (IEC 60079-20-1, NFPA 497, a correlation).

    Closed cups repeat within 2 K; the heavy ones are given from 85 to 107 °C and 160 to 199 °C.
    What matters is the class by clp-1272-2008, which is the same for all.
    """
    flash = carrier(name).flash_point
    assert flash is not None
    published = T_flash(cas)
    assert flash == pytest.approx(published, abs=tolerance)
    assert carrier(name).flammable is (published <= FLAMMABLE_UP_TO)


@pytest.mark.parametrize(
    ("name", "cas", "molar_mass", "tolerance"),
    [
        ("lead", "7439-92-1", 0.2072, 0.005),
        ("tungsten", "7440-33-7", 0.18384, 0.005),
        ("bismuth", "7440-69-9", 0.20898, 0.005),
        ("zinc", "7440-66-6", 0.06538, 0.005),
    ],
)
def test_metal_density(name: str, cas: str, molar_mass: float, tolerance: float) -> None:
    """CRC Handbook, inorganic solids, by the package chemicals; castings differ by 0.5 %."""
    published = molar_mass / rho_data_CRC_inorg_s_const.loc[cas]["Vm"]
    assert weight(name).density == pytest.approx(published, rel=tolerance)


@pytest.mark.parametrize(
    ("name", "cas", "molar_mass"),
    [("salt", "7647-14-5", 0.05844), ("oyster-grit", "471-34-1", 0.100087)],
)
def test_mineral_density(name: str, cas: str, molar_mass: float) -> None:
    """CRC Handbook, inorganic solids, by the package chemicals; three digits are printed."""
    published = molar_mass / rho_data_CRC_inorg_s_const.loc[cas]["Vm"]
    assert ingredient(name).density == pytest.approx(published, rel=0.004)


@pytest.mark.parametrize("kind", ["cork-ball", "cork-stick"])
def test_cork_density(kind: str) -> None:
    """anjos-2008 and a handbook page: natural cork 120 to 240 kg/m3; within our two deviations."""
    row = cores()[kind]
    assert row.density - 2 * row.density_batch_spread <= 120.0
    assert 120.0 <= row.density <= 240.0


@pytest.mark.parametrize(
    ("grams", "limited"), [(0.05, False), (0.06, False), (0.2, True), (28.35, True), (30.0, False)]
)
def test_lead_in_britain(grams: float, limited: bool) -> None:
    """uk-si-1986-1992: over 0.06 g up to one ounce; the size limits were read second hand."""
    assert lead_limited_in_britain(grams * 1e-3) is limited


@pytest.mark.parametrize(("heavier", "lighter", "count"), [("ssg", "aaa", 2), ("aaa", "bb", 2)])
def test_shot_sizes(heavier: str, lighter: str, count: int) -> None:
    """common-practice: one SSG is two AAA and one AAA two BB; true shot differs by 10 %."""
    assert shots()[heavier].mass == pytest.approx(count * shots()[lighter].mass, rel=0.1)


@pytest.mark.parametrize(
    ("name", "held"),
    [("maize-meal-coarse", 1.2), ("soya-flour-defatted", 2.7), ("coconut-meal", 3.6)],
)
def test_water_holding(name: str, held: float) -> None:
    """feed-water-holding-2018, table 3; as printed."""
    assert ingredient(name).water_holding == pytest.approx(held)
