"""Laws of eggs: grades, contents and back."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.materials.eggs import (
    EggParts,
    contents_mass,
    contents_volume,
    egg_form,
    egg_forms,
    egg_grades,
    egg_part,
    egg_parts,
    egg_systems,
    grade,
    grade_of,
    grades_of,
    mass_in_shell,
)
from baitwright.terms.errors import InputError

masses = st.floats(30e-3, 100e-3)


def test_a_weighed_egg() -> None:
    # measuring by hand: (58 x 0.885 - 1.3) / 1.03
    assert contents_volume(58e-3) == pytest.approx(48.573e-6, abs=1e-9)
    assert mass_in_shell(50e-6) == pytest.approx(59.661e-3, abs=1e-6)


@given(masses)
def test_contents_and_back(mass: float) -> None:
    assert mass_in_shell(contents_volume(mass)) == pytest.approx(mass, rel=1e-12)
    assert contents_mass(mass) < mass


@given(masses, masses)
def test_a_heavier_egg_gives_more(one: float, other: float) -> None:
    lighter, heavier = sorted((one, other))
    assert contents_volume(lighter) <= contents_volume(heavier)


def test_draws_go_through_like_numbers() -> None:
    parts = EggParts(np.array([0.10, 0.13]), np.array([1e-3, 2e-3]), np.array([1030.0, 1028.0]))
    volumes = contents_volume(np.array([60e-3, 60e-3]), parts)
    assert volumes == pytest.approx(
        [
            contents_volume(60e-3, EggParts(0.10, 1e-3, 1030.0)),
            contents_volume(60e-3, EggParts(0.13, 2e-3, 1028.0)),
        ]
    )
    assert mass_in_shell(volumes, parts) == pytest.approx([60e-3, 60e-3])


def test_the_parts_are_in_si() -> None:
    assert egg_parts() == EggParts(0.115, pytest.approx(1.3e-3), pytest.approx(1030.0))
    assert egg_part("residue").spread == pytest.approx(0.5e-3)
    assert egg_part("white_share").value + egg_part("yolk_share").value == pytest.approx(1.0)


@pytest.mark.parametrize("row", egg_grades().values(), ids=lambda row: row.id)
def test_a_grade_is_found_by_its_name_and_holds_its_middle(row: object) -> None:
    assert isinstance(row, type(grade("EU L")))
    assert grade(row.name) is row
    assert grade(row.id) is row
    if (row.system, row.grade) != ("za", "XL"):
        assert grade_of(row.system, row.mass) is row
    assert row.mass_u == pytest.approx((row.high - row.low) / 12**0.5)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("eu l", "eu-l"),
        ("EU large", "eu-l"),
        ("large EU", "eu-l"),
        ("UK extra large", "uk-xl"),
        ("gb xl", "uk-xl"),
        ("US_Jumbo", "us-jumbo"),
        ("USDA extra-large", "us-extra-large"),
        ("new zealand size 7", "nz-7"),
        ("EU 1995 size 3", "eu-1995-3"),
        ("eu-1995 3", "eu-1995-3"),
    ],
)
def test_grades_as_people_write_them(text: str, expected: str) -> None:
    assert grade(text).id == expected


def test_a_letter_alone_is_refused_and_explained() -> None:
    with pytest.raises(InputError) as caught:
        grade("L", "eggs.1.grade")
    message = str(caught.value)
    assert caught.value.field == "eggs.1.grade"
    for part in ("L means different eggs by country", "EU L about 57 ml", "US Large about 50 ml"):
        assert part in message
    for system in egg_systems():
        assert system.upper() in message


@pytest.mark.parametrize("text", ["EU Q", "NZ L", "eu", "", "seven", "EU L please"])
def test_what_is_no_grade_is_refused(text: str) -> None:
    with pytest.raises(InputError):
        grade(text)


def test_a_wrong_grade_names_the_right_ones() -> None:
    with pytest.raises(InputError, match="a grade of New Zealand: 6, 7, 8"):
        grade("NZ L")


@given(st.sampled_from(["eu", "uk", "us", "ca", "eu-1995"]), st.floats(20e-3, 120e-3))
def test_open_ends_take_every_egg(system: str, mass: float) -> None:
    rows = grades_of(system)
    if not (system == "us" and mass < 35.4369e-3):
        assert grade_of(system, mass) in rows


@pytest.mark.parametrize(
    ("system", "mass"), [("au", 41e-3), ("nz", 40e-3), ("eu", 0.0), ("eu", -0.05)]
)
def test_an_egg_outside_a_system_is_refused(system: str, mass: float) -> None:
    with pytest.raises(InputError, match=r"eggs\.mass"):
        grade_of(system, mass)


def test_a_system_by_any_name() -> None:
    assert grade_of("European Union", 65e-3).id == "eu-l"
    with pytest.raises(InputError, match=r"eggs\.system"):
        grade_of("atlantis", 65e-3)


@pytest.mark.parametrize("form", egg_forms().values(), ids=lambda form: form.id)
def test_every_form_is_whole(form: object) -> None:
    assert isinstance(form, type(egg_form("whole")))
    assert sum(form.composition.values()) == pytest.approx(1.0, abs=2e-4)
    assert 1020.0 < form.density < 1040.0
    assert 0.0 < form.setting <= 1.0


def test_a_form_is_found_by_name_or_refused() -> None:
    assert egg_form("egg white") is egg_form("white")
    with pytest.raises(InputError, match="yolk"):
        egg_form("yelk")
