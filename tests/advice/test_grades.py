"""A statement is as sure as the weakest thing under it, read off the numbers themselves."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from baitwright.advice.grades import TOLD, Footing, Grade, footing_of, grade_of, weakest
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import (
    IDENTITY,
    Backing,
    Origin,
    Quantity,
    declared,
)
from baitwright.terms.quantity import (
    given as entered,
)


@declared("sum_of_two", label="sum", equation="a + b", source="definition")
def sum_of_two(a: float, b: float) -> float:
    return a + b


def leaf(evidence: Evidence, label: str) -> Quantity:
    origin = Origin.GIVEN if evidence is Evidence.MEASURED else Origin.TABLE
    return entered("a", 1.0, label=label, backing=Backing(origin, "somewhere", evidence))


def test_every_kind_of_evidence_has_a_grade() -> None:
    assert {grade_of(one) for one in Evidence} == set(Grade) - {Grade.TOLD}
    assert grade_of(Evidence.MEMORY) is Grade.JUDGEMENT  # nobody has looked it up again


@given(
    first=st.sampled_from(Evidence),
    second=st.sampled_from(Evidence),
    third=st.sampled_from(Evidence),
)
def test_a_computed_number_has_the_weakest_grade_under_it(
    first: Evidence, second: Evidence, third: Evidence
) -> None:
    made = sum_of_two(a=leaf(first, "one"), b=leaf(second, "two"))
    made = sum_of_two(a=made, b=leaf(third, "three"))
    order = list(Grade)
    grades = [grade_of(one) for one in (first, second, third)]
    found = footing_of(made)
    assert found.grade is max(grades, key=order.index)
    named = dict(zip(("one", "two", "three"), grades, strict=True))
    assert named[found.rests_on] is found.grade


def test_what_stands_by_definition_weakens_nothing() -> None:
    counted = entered("count", 20.0, label="count", backing=IDENTITY)
    made = sum_of_two(a=leaf(Evidence.MEASURED, "weighed"), b=counted)
    assert footing_of(made) == Footing(Grade.MEASURED, "weighed", "somewhere")


def test_of_several_as_weak_what_moves_it_most_is_named() -> None:
    made = sum_of_two(a=leaf(Evidence.JUDGEMENT, "one"), b=leaf(Evidence.JUDGEMENT, "two"))
    assert footing_of(made).rests_on == "one"
    assert footing_of(made, ["two", "one"]).rests_on == "two"
    assert footing_of(made, ["other"]).rests_on == "one"


def test_nothing_under_it_is_what_was_told() -> None:
    assert weakest(()) == TOLD
