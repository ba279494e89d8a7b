"""Causes come from the plan's own graph: worked out again, cut, and left out where it is cut."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from baitwright.advice.causes_graph import Again, ends_of, key_of, path_to
from baitwright.advice.causes_moved import Middles, slips
from baitwright.advice.causes_weighed import TROUBLE, weigh
from baitwright.advice.faults import Known, fault_in
from baitwright.advice.faults_numbered import Numbers
from baitwright.advice.faults_numbers import more_of
from baitwright.advice.faults_tables import held, leaves, symptom, symptoms
from baitwright.terms import quantity as terms
from baitwright.terms.errors import ComputationError
from baitwright.terms.quantity import Origin, PerBatch, Quantity, identity, unwrap
from tests.advice.kitchen import numbers, sinker, usual


def without(name: str) -> Numbers:
    """The plan's numbers with one taken out of the graph: nothing stands above it any more."""
    done: dict[tuple[object, ...], Quantity] = {}

    def cut(one: Quantity) -> Quantity:
        if identity(one) not in done:
            inputs = () if one.name == name else tuple((role, cut(it)) for role, it in one.inputs)
            done[identity(one)] = replace(one, inputs=inputs)
        return done[identity(one)]

    plan = usual()
    return Numbers.of(cut(one) for one in (*plan.quantities(), *more_of(plan)))


def test_a_plan_worked_out_again_is_the_same_to_the_bit() -> None:
    roots = (*usual().quantities(), *more_of(usual()))
    ends = [end for root in roots for end in ends_of(root)]
    again = Again({key_of(end): end.value for end in ends})
    computed = [one for one in roots if one.origin is Origin.COMPUTED]
    assert len(computed) > 150
    for one in computed:
        first, second = unwrap(one.value), unwrap(again.of(one).value)
        if isinstance(first, float | np.ndarray):
            assert np.array_equal(first, second), one.name


def test_what_is_moved_at_once_moves_as_it_does_alone() -> None:
    signs = [one.quantity for name in ("too-strong", "paste-dry") for one in _signs(name)]
    every = slips(end for one in signs for end in ends_of(one, held()))
    together = [one for one in every if not one.row.is_alone]
    middles = Middles(signs, held())
    at_once = middles.columns(together)
    alone = np.array([middles.by_one(one) for one in together]).T
    assert len(together) >= 10
    np.testing.assert_allclose(at_once, alone, rtol=1e-9, atol=1e-15)


def _signs(name: str) -> tuple[object, ...]:
    return numbers().signs(symptom(name))


@pytest.mark.parametrize(
    ("noticed", "taken_out", "cause"),
    [
        ("floats too hard", "paste_density", "the paste's density"),
        ("soft centre", "set_seconds", "time your pot needs"),
        ("too strong", "paste_mass", "dry mix the eggs took up"),
    ],
)
def test_a_number_taken_out_of_the_graph_takes_its_causes_along(
    noticed: str, taken_out: str, cause: str
) -> None:
    def named(every: Numbers) -> list[str]:
        return [one.what for one in fault_in(every, symptom(noticed), Known()).causes]

    assert any(one.startswith(cause) for one in named(numbers()))
    assert not any(one.startswith(cause) for one in named(without(taken_out)))


def test_a_formula_that_is_gone_is_missed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.delitem(terms._DECLARED, "paste_mass")
    with pytest.raises(ComputationError, match="'paste_mass'"):
        fault_in(numbers(), symptom("too strong"), Known())


def test_a_cause_tells_its_way_through_the_plan() -> None:
    sign = numbers().named("rig_lift", "lift of bait and hook together")[0]
    core = numbers().named("factor:core_density")[0]
    way = path_to(sign, key_of(core))
    assert way[0] == "your factor: core density"
    assert way[1] == "core's density"
    assert way[-1] == "lift of bait and hook together"
    assert path_to(core, key_of(sign)) == ()


def test_what_a_plan_is_unsure_of_has_a_row_with_a_test() -> None:
    """Nothing that was drawn once per batch above a sign is left without a test."""
    for plan in (usual(), sinker()):
        table = Numbers.of_plan(plan)
        signs = [one.quantity for each in symptoms().values() for one in table.signs(each)]
        drawn = {
            end.name
            for sign in signs
            for end in ends_of(sign, held())
            if isinstance(end.value, PerBatch)
        }
        assert len(drawn) > 15
        assert drawn - leaves().keys() == set()


@pytest.mark.parametrize("seed", [1, 2])
def test_blame_is_what_draws_say_that_fit(seed: int) -> None:
    """Against the general formula of least squares, which is solved the other way round."""
    generator = np.random.default_rng(seed)
    sign, readings = generator.normal(size=5), generator.normal(size=(2, 5))
    off, noise = generator.normal(size=2), np.array([0.1, 0.4])
    found = weigh(sign, readings=readings, off=off, noise=noise, known=0.0)
    spread = float(np.linalg.norm(sign))

    def fits(rows: np.ndarray, told: np.ndarray, doubt: np.ndarray) -> np.ndarray:
        weighted = np.vstack([np.eye(5), rows / doubt[:, None]])
        return np.linalg.lstsq(weighted, np.append(np.zeros(5), told / doubt), rcond=None)[0]

    by_record = fits(readings, off, noise)
    np.testing.assert_allclose(found.by_record, by_record, rtol=1e-9)
    rest = max(TROUBLE * spread, float(sign @ by_record))
    rows, told = np.vstack([readings, sign]), np.append(off, rest)
    in_all = fits(rows, told, np.append(noise, 0.3 * spread))
    np.testing.assert_allclose(found.in_all, in_all, rtol=1e-9)
    sure = weigh(sign, readings=readings, off=off, noise=noise, known=TROUBLE * spread)
    assert float(sign @ sure.in_all) <= float(sign @ found.in_all)
