"""Hazards against published examples: toxicity of mixtures, prepackages, allergens, lead."""

from __future__ import annotations

import pytest

from baitwright.advice.net_quantity import check_packs, limits_for
from baitwright.advice.toxicity import Part, Screening, Standing, screen
from baitwright.materials.acute_toxicity import toxicity_classes
from baitwright.materials.cautions import cautions
from baitwright.materials.hooks import LEAD_LIMITS_GB, lead_limited_in_britain
from baitwright.materials.powders import allergens


def example(route: str, estimates: tuple[float, ...], rest: Standing) -> Screening:
    """The mixture of example 3-1d: 26, 23 and 40 %, and 11 % of which the rest is told."""
    shares = (0.26, 0.23, 0.40)
    told = [
        Part.known(f"component {at}", share, estimate)
        for at, (share, estimate) in enumerate(zip(shares, estimates, strict=True), start=1)
    ]
    return screen([*told, Part("the rest", 0.11, rest)], route)


ORAL, VAPOUR = (2737.0, 4500.0, 400.0), (11.0, 19.0, 4.0)


def test_the_oral_example_of_the_un_as_printed() -> None:
    """UN sub-committee paper 3-1d of 23 May 2008 prints 873 mg/kg, category 4: to its last digit.

    That is right only if the 11 % is known to be harmless.
    """
    found = example("oral", ORAL, Standing.NOT_RELEVANT)
    assert found.estimate == pytest.approx(873, abs=0.5)
    assert found.estimate == pytest.approx(872.52, abs=0.01)  # recomputed
    assert found.category is not None
    assert found.category.category == 4
    assert (found.unknown, found.not_relevant, found.is_corrected) == (0.0, 0.11, False)


def test_the_same_with_the_rest_unknown_is_another_number() -> None:
    """Formula of 1272/2008, annex I, 3.1.3.6.2.3, by hand: 89 / (26/2737 + 23/4500 + 40/400)."""
    found = example("oral", ORAL, Standing.UNKNOWN)
    assert found.estimate == pytest.approx(776.54, abs=0.01)
    assert found.is_corrected
    assert found.unknown == pytest.approx(0.11)
    untold = screen([*found.parts[:3]], "oral")
    assert untold.estimate == pytest.approx(776.54, abs=0.01)
    assert untold.untold == pytest.approx(0.11)


def test_the_inhalation_example_of_the_un_as_printed() -> None:
    """The same paper prints 6.6 mg/l of vapour, category 3, with 11 % unknown."""
    found = example("vapour", VAPOUR, Standing.UNKNOWN)
    assert found.estimate == pytest.approx(6.6, abs=0.05)
    assert found.estimate == pytest.approx(6.557, abs=0.001)  # recomputed
    assert found.unit == "mg/l"
    assert found.category is not None
    assert found.category.category == 3


def test_oral_limits_and_points_of_the_regulation() -> None:
    """1272/2008, table 3.1.1 (oral limits read) and 3.1.2 (points by two pages); exact."""
    assert [one.up_to for one in toxicity_classes("oral")] == [5.0, 50.0, 300.0, 2000.0]
    assert [one.point for one in toxicity_classes("oral")] == [0.5, 5.0, 100.0, 500.0]


def test_limits_of_the_other_routes_as_recalled() -> None:
    """The same tables from memory: skin mg/kg, vapour and dust mg/l."""
    limits = {
        route: [(one.up_to, one.point) for one in toxicity_classes(route)]
        for route in ("skin", "vapour", "dust or mist")
    }
    assert limits["skin"] == [(50, 5), (200, 50), (1000, 300), (2000, 1100)]
    assert limits["vapour"] == [(0.5, 0.05), (2, 0.5), (10, 3), (20, 11)]
    assert limits["dust or mist"] == [(0.05, 0.005), (0.5, 0.05), (1, 0.5), (5, 1.5)]


@pytest.mark.parametrize(
    ("nominal_g", "error_g"),
    [(50, 4.5), (100, 4.5), (150, 6.75), (250, 9), (400, 12), (500, 15), (1000, 15), (5000, 75)],
)
def test_tolerable_negative_errors_of_the_directive(nominal_g: float, error_g: float) -> None:
    """76/211/EEC, annex I, 2.4 (read up to the row of 500 to 1000 g); exact, before rounding up."""
    found = limits_for(nominal_g / 1000)
    assert found.exact * 1000 == pytest.approx(error_g, abs=1e-9)


def test_a_share_is_rounded_up_to_a_tenth_of_a_gram() -> None:
    """The same paragraph, recalled: 6.75 g is used as 6.8 g."""
    found = limits_for(0.150)
    assert found.error * 1000 == pytest.approx(6.8)
    assert found.low * 1000 == pytest.approx(143.2)
    assert found.lowest * 1000 == pytest.approx(136.4)


def test_the_three_packers_rules() -> None:
    """UK regulations of 2006 by two guides: mean, at most 2.5 % short, none twice as short."""
    fair = check_packs(0.100, [0.1005] * 39 + [0.095])
    assert (fair.mean_holds, fair.few_short, fair.far_short, fair.holds) == (True, True, 0, True)
    light = check_packs(0.100, [0.0999] * 40)
    assert (light.mean_holds, light.holds) == (False, False)
    many = check_packs(0.100, [0.102] * 38 + [0.095] * 2)
    assert (many.mean_holds, many.few_short, many.short) == (True, False, 2)
    far = check_packs(0.100, [0.102] * 39 + [0.0909])
    assert (far.few_short, far.far_short, far.holds) == (True, 1, False)


def test_nine_of_the_allergens_are_major_in_the_us() -> None:
    """FALCPA 2004 and FASTER 2021: no molluscs, celery, mustard, lupin or sulphites."""
    minor = {one.id for one in allergens().values() if not one.us_major}
    assert minor == {"celery", "mustard", "sulphites", "lupin", "molluscs"}


def test_lead_weights_of_the_british_rule() -> None:
    """SI 1986/1992: lead of 0.06 g to 28.35 g, sizes second hand; an ounce is 28.35 g."""
    assert LEAD_LIMITS_GB == (0.06e-3, 28.35e-3)
    assert not lead_limited_in_britain(0.06e-3)
    assert lead_limited_in_britain(0.07e-3)
    assert lead_limited_in_britain(28.3e-3)
    assert not lead_limited_in_britain(30e-3)
    told = cautions()["lead-gb"].text
    assert "0.06 g" in told
    assert "28.35 g" in told
