"""All factors anew: shrunk towards each other, with where each came from, and what stands out."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from baitwright.learning.history import Seen, history_of
from baitwright.learning.update import MEMORY, with_one_batch
from baitwright.materials.factors import prior_factors
from baitwright.terms.factors import of_lot

PRIOR = prior_factors()
KEY = "dry_mix_per_egg"


def copper(*ratios: float, about: str = "Copper", blur: float = 0.0) -> list[Seen]:
    return [Seen(f"B{at}", KEY, about, one, blur) for at, one in enumerate(ratios, start=1)]


def test_one_mix_alone_is_learned_as_by_single_batches() -> None:
    """With nothing to borrow from it is the plain update, blurred batches included."""
    blur, factor = 0.004, replace(PRIOR.find(KEY), about="Copper", source="maker")
    for ratio in (0.10, 0.14, 0.02):
        clear = factor.scale**2
        factor = with_one_batch(factor, log_ratio=ratio, share=clear / (clear + blur))
    (grown,) = history_of(copper(0.10, 0.14, 0.02, blur=blur), prior=PRIOR).grown
    for name in ("mu", "kappa", "nu", "sigma2", "batches"):
        assert getattr(grown.now, name) == pytest.approx(getattr(factor, name)), name


def test_a_new_mix_borrows_from_the_others() -> None:
    """The kitchen's part and each mix's own, as a linear model worked out by matrices."""
    told = {"Copper": (0.20, 0.24, 0.22), "Chalk": (0.16, 0.20)}
    seen = [one for name, ratios in told.items() for one in copper(*ratios, about=name)]
    history = history_of(seen, prior=PRIOR)
    prior = PRIOR.find(KEY)
    half = 1.0 / (2.0 * prior.kappa)
    # Unknown: the kitchen's part, Copper's, Chalk's and a new one's own; in units of the variance.
    design = np.array([[1, 1, 0, 0]] * 3 + [[1, 0, 1, 0]] * 2, dtype=float)
    values = np.array([*told["Copper"], *told["Chalk"]])
    precision = np.eye(4) / half + design.T @ design
    middle = np.linalg.solve(precision, design.T @ values + np.array([prior.mu / half, 0, 0, 0]))
    spread = np.linalg.inv(precision)
    new = np.array([1.0, 0.0, 0.0, 1.0])
    (general,) = history.general
    assert general.mu == pytest.approx(new @ middle)
    assert 1.0 / general.kappa == pytest.approx(new @ spread @ new)
    for row, grown in zip(([1, 1, 0, 0], [1, 0, 1, 0]), history.grown, strict=True):
        assert grown.now.mu == pytest.approx(np.array(row) @ middle)
        assert 1.0 / grown.now.kappa == pytest.approx(np.array(row) @ spread @ np.array(row))


def test_a_set_for_plans_holds_mixes_and_what_a_new_one_begins_with() -> None:
    history = history_of(copper(0.2, 0.2, 0.2, 0.2), prior=PRIOR)
    factors = PRIOR.with_factors(history.factors, name="x", made_on=None)  # type: ignore[arg-type]
    known, new = factors.find(KEY, "Copper"), factors.find(KEY, "Slate")
    assert 0.0 < new.mu < known.mu < 0.2
    assert new.scale > known.scale


def test_a_far_batch_is_pointed_at_and_counts() -> None:
    steady = history_of(copper(*[0.01, -0.01] * 6), prior=PRIOR).grown[0]
    grown = history_of(copper(*[0.01, -0.01] * 6, 0.5), prior=PRIOR).grown[0]
    assert [step.seen.batch for step in grown.steps if step.is_far] == ["B13"]
    assert grown.now.mu > steady.now.mu
    assert grown.now.batches == 13


def test_a_lasting_change_is_told_with_the_batch_it_began_at() -> None:
    step = math.log(1.15)
    grown = history_of(copper(*[0.02, -0.02] * 6, *[step, step + 0.02] * 2), prior=PRIOR).grown[0]
    (change,) = grown.changes
    assert change.goes_up
    assert grown.steps[change.began].seen.batch == "B13"
    assert change.told - 12 < 5


def test_memory_fades() -> None:
    grown = history_of(copper(*[0.0] * 200, *[0.3] * 40), prior=PRIOR).grown[0]
    assert grown.now.kappa <= MEMORY
    assert grown.now.mu > 0.2


def test_lots_of_a_thing_share_and_differ() -> None:
    """Kitchen, thing and lot, a quarter of the variance each lot's, by matrices."""
    told = {("cork", "C-1"): (0.20, 0.30), ("cork", "C-2"): (0.10,), ("foam", "F"): (-0.10, 0.0)}
    seen = [
        Seen("B", KEY, about, one, 0.0, lot) for (about, lot), each in told.items() for one in each
    ]
    history = history_of(seen, prior=PRIOR)
    prior = PRIOR.find(KEY)
    # Unknown: the kitchen's part; cork's, foam's; C-1's, C-2's, F's and a new lot of cork's.
    spread = np.diag([0.5] + [0.25] * 6) / prior.kappa
    places = {("cork", "C-1"): (1, 3), ("cork", "C-2"): (1, 4), ("foam", "F"): (2, 5)}
    rows = [place for place, each in told.items() for _ in each]
    design = np.array([[at in (0, *places[row]) for at in range(7)] for row in rows], dtype=float)
    values = np.array([one for each in told.values() for one in each])
    precision = np.linalg.inv(spread) + design.T @ design
    first = np.linalg.inv(spread) @ np.array([prior.mu, *[0.0] * 6])
    middle = np.linalg.solve(precision, design.T @ values + first)
    for (about, lot), (thing, own) in {**places, ("cork", ""): (1, 6)}.items():
        found = next(one for one in history.factors if one.about == of_lot(about, lot))
        row = np.array([float(at in (0, thing, own)) for at in range(7)])
        assert found.mu == pytest.approx(row @ middle)
        assert 1.0 / found.kappa == pytest.approx(row @ np.linalg.solve(precision, row))


def test_a_plan_goes_by_the_lot_it_takes_and_by_the_thing_where_that_is_new() -> None:
    seen = [Seen("B", KEY, "Copper", one, 0.0, lot) for lot, one in (("L1", 0.2), ("L2", -0.2))]
    factors = replace(PRIOR, factors=(*PRIOR.factors, *history_of(seen, prior=PRIOR).factors))
    known = factors.in_lots({(KEY, "Copper"): "L1"})
    assert known.find(KEY, "Copper").mu == factors.find(KEY, "Copper, L1").mu > 0.03
    assert factors.in_lots({(KEY, "Copper"): "L3"}) is factors
    assert abs(factors.find(KEY, "Copper").mu) < 0.01
