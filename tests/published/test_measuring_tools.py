"""Syringes, cylinders, pipettes, sieves, drops and spoons against their standards."""

from __future__ import annotations

import math

import pytest
from fluids.particle_size_distribution import ISO_3310_1_R20, ASTM_E11_sieves

from baitwright.materials.sieves import sieve, sieves
from baitwright.materials.tools import (
    choose_syringe,
    cylinders,
    draw,
    drops,
    pipettes,
    scales,
    spoon,
    syringe,
    syringe_tolerance,
    weighing_u,
)

ML = 1e-6

pytestmark = pytest.mark.published


@pytest.mark.parametrize(
    ("locator", "size", "volume", "limit"),
    [
        ("worked example, 10 ml syringe at 4 ml", "10 ml", 4.0, 0.19),
        ("1 ml syringe below half", "1 ml", 0.3, 0.021),
        ("1 ml syringe at half", "1 ml", 0.5, 0.025),
        ("1 ml syringe when full", "1 ml", 1.0, 0.05),
    ],
)
def test_syringe_tolerance(locator: str, size: str, volume: float, limit: float) -> None:
    """smtl-2016 on iso-7886-1, table 1. Arithmetic of percentages, so only rounding is allowed."""
    tolerance = syringe_tolerance(syringe(size), volume * ML)
    assert tolerance == pytest.approx(limit * ML, rel=1e-12)


def test_the_smallest_syringe_is_not_always_the_best() -> None:
    """iso-7886-1: 2.4 ml is within 0.120 ml in a 2.5 ml syringe and within 0.099 in a 5 ml one."""
    small, large = (draw(syringe(size), 2.4 * ML) for size in ("2.5 ml", "5 ml"))
    assert small.tolerance == pytest.approx(0.120 * ML, rel=1e-9)
    assert large.tolerance == pytest.approx(0.099 * ML, rel=1e-9)
    assert choose_syringe(2.4 * ML).tool.id == "syringe-5"


def test_a_small_dose_is_poorly_measured() -> None:
    """common-practice: 0.2 ml in a 1 ml syringe carries nearly 10 %; read as 9 to 10 %."""
    fill = choose_syringe(0.2 * ML)
    assert fill.tool.id == "syringe-1"
    assert 0.09 < fill.relative < 0.10


@pytest.mark.parametrize("dose", [0.1, 0.2, 0.5, 1.0])
def test_a_syringe_beats_a_squeeze_pipette(dose: float) -> None:
    """common-practice: a 1 ml syringe measures better."""
    pipette = draw(syringe("squeeze-pipette-1"), dose * ML)
    assert draw(syringe("1 ml"), dose * ML).total < pipette.total


@pytest.mark.parametrize(
    ("nominal", "class_a", "class_b"),
    [
        (5, 0.05, 0.10),
        (10, 0.10, 0.20),
        (25, 0.17, 0.34),
        (50, 0.25, 0.50),
        (100, 0.50, 1.00),
        (250, 1.0, 2.0),
        (500, 2.0, 4.0),
    ],
)
def test_cylinders(nominal: int, class_a: float, class_b: float) -> None:
    """astm-e1272, table 1, every row of it up to 500 ml; printed figures, so only rounding."""
    table = cylinders()
    assert table[f"astm-{nominal}-a"].tolerance == pytest.approx(class_a * ML, rel=1e-12)
    assert table[f"astm-{nominal}-b"].tolerance == pytest.approx(class_b * ML, rel=1e-12)


@pytest.mark.parametrize(("nominal", "limit"), [(2, 0.010), (5, 0.020), (10, 0.030)])
def test_graduated_pipettes(nominal: int, limit: float) -> None:
    """usp-31; printed figures, so only rounding."""
    assert pipettes()[f"usp-{nominal}"].tolerance == pytest.approx(limit * ML, rel=1e-12)


REFERENCE_SIEVES = {round(row.opening * 1e3, 4): row for row in ISO_3310_1_R20}


@pytest.mark.parametrize("name", [name for name in sieves() if name != "kitchen"])
def test_sieves(name: str) -> None:
    """iso-3310-1, table of the R 20 series as the package fluids has it; only rounding."""
    row = sieves()[name]
    reference = REFERENCE_SIEVES[round(row.opening * 1e3, 4)]
    assert row.wire == pytest.approx(reference.d_wire, rel=1e-9)
    assert row.mean_tolerance == pytest.approx(reference.Y_variation_avg, rel=1e-9)
    assert row.largest_excess == pytest.approx(reference.X_variation_max, rel=1e-9)


def test_a_sieve_of_one_millimetre() -> None:
    """iso-3310-1: wire 0.56 mm, mean opening within 0.030, no opening over by more than 0.13."""
    row = sieve("1 mm")
    values = (row.wire, row.mean_tolerance, row.largest_excess)
    assert values == pytest.approx((0.56e-3, 0.03e-3, 0.13e-3), rel=1e-12)
    # astm-e11: the same opening is its number 18.
    [same] = [each for each in ASTM_E11_sieves.values() if each.old_designation == "No. 18"]
    assert row.opening == pytest.approx(same.opening, rel=1e-12)


def test_a_drop_of_water() -> None:
    """usp-1101: 45 to 55 mg from a tip of 3 mm; at 20 °C that is 45.1 to 55.1 microlitres."""
    row = drops()["water-like"]
    assert row.low <= 0.045 / 0.9982 * ML
    assert row.high >= 0.055 / 0.9982 * ML
    assert row.drop == pytest.approx(0.050 / 0.9982 * ML, rel=0.01)


@pytest.mark.parametrize(
    ("kind", "drops_for_sixty_minims"),
    [("glycerol", 67), ("alcohol", 146), ("essential-oil", 129)],
)
def test_drops_of_other_liquids(kind: str, drops_for_sixty_minims: float) -> None:
    """materia-medica-drops: drops from one dropper where water gives 60; counts to 3 %."""
    table = drops()
    ratio = table["water-like"].drop / table[kind].drop
    assert ratio == pytest.approx(drops_for_sixty_minims / 60.0, rel=0.03)


@pytest.mark.parametrize(("tip_mm", "milligrams"), [(1.39, 26.2), (3.07, 52.2), (4.17, 69.0)])
def test_the_tip_makes_the_drop(tip_mm: float, milligrams: float) -> None:
    """eschbaum-1895: only tips near 3 mm give drops within the band, so bottles are calibrated."""
    row = drops()["water-like"]
    inside = row.low <= milligrams * 1e-3 / 0.9982 * ML <= row.high
    assert inside is (tip_mm > 2.0)


@pytest.mark.parametrize(
    ("source", "locator", "name", "millilitres"),
    [
        ("cfr-21-101-9", "(b)(5)(viii)", "teaspoon", 5.0),
        ("cfr-21-101-9", "(b)(5)(viii)", "tablespoon", 15.0),
        ("nist-hb-44", "gallon of 231 cubic inches", "teaspoon-us", 231 * 2.54**3 / 768),
        ("nist-hb-44", "gallon of 231 cubic inches", "tablespoon-us", 231 * 2.54**3 / 256),
    ],
)
def test_spoons(source: str, locator: str, name: str, millilitres: float) -> None:
    # Five decimals are kept of the customary ones.
    assert spoon(name).volume == pytest.approx(millilitres * ML, rel=2e-6)


@pytest.mark.parametrize(("scale", "grams"), [("kitchen-1", 0.289), ("pocket-0.01", 0.0029)])
def test_a_scale_of_one_step(scale: str, grams: float) -> None:
    """gum-2008, F.2.2.1: 0.29 of a step; printed with two digits."""
    assert weighing_u(scales()[scale], tared=False) == pytest.approx(grams * 1e-3, rel=5e-3)
    assert weighing_u(scales()[scale]) == pytest.approx(math.sqrt(2) * grams * 1e-3, rel=5e-3)
