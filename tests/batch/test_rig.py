"""Laws of the rig: what hangs on a bait, what balances it, how it sinks."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.batch.balance import lift_on_core
from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.counterweight import (
    MOST_KINDS,
    MOST_PIECES,
    best_combination,
    combinations,
    lead_cautions,
)
from baitwright.batch.rig import RigStage, depth_loss, hole_lift, putty
from baitwright.batch.rig_balance import RigBalance, balance_rig
from baitwright.batch.settle import settle_time, sinking_share, sinking_speed
from baitwright.physics.buoyancy import neutral_shell_density, sphere_volume
from baitwright.recipe.bench import Hook
from baitwright.recipe.model import BaitKind, Core
from baitwright.recipe.rig import Hole, Link, Piece, Rig, every_size
from baitwright.sheets.bench_steps import stages
from baitwright.sheets.explain import explain_plan
from baitwright.sheets.text import plan_text
from baitwright.terms.errors import InputError, RangeError
from baitwright.terms.quantity import unwrap
from baitwright.uncertainty.bands import median_of
from tests.batch.kitchen import BENCH, planned, with_bait

WATER, VISCOSITY = 999.7, 1.3059e-3
TIN, LEAD = "tin", "lead"
STOCK = tuple(Piece(f"{mass} g", mass * 1e-3, TIN) for mass in (0.8, 0.4, 0.2, 0.1, 0.06, 0.04))
POP_UP = with_bait(kind=BaitKind.POP_UP, diameter=0.017, core=Core("cork-ball", 0.012))
sizes = st.floats(0.012, 0.024)
shares = st.floats(0.3, 0.85)
densities = st.floats(120.0, 300.0)


@cache
def on_rig(rig: Rig = Rig(), stock: tuple[Piece, ...] = STOCK, country: str = "") -> RigBalance:  # noqa: B008  frozen
    bench = replace(BENCH, country=country or None, rig=replace(rig, stock=stock))
    return balance_rig(planned(POP_UP, bench))


def hung(rig: Rig = Rig()) -> RigStage:  # noqa: B008  frozen
    return on_rig(rig).on_rig.stage


def values(quantity: Any) -> Any:
    return unwrap(quantity.value)


def lift(diameter: float, core: float, paste: float, cork: float) -> float:
    return float(lift_on_core.function(diameter, core, paste, cork, WATER))


@given(sizes, shares, densities)
def test_neutral_paste_lifts_nothing(diameter: float, share: float, cork: float) -> None:
    core = share * diameter
    paste = float(neutral_shell_density(diameter, core, core_density=cork, water_density=WATER))
    scale = WATER * float(sphere_volume(diameter))
    assert abs(lift(diameter, core, paste, cork)) < 1e-12 * scale + 1e-15


@given(sizes, shares, densities, st.floats(1.0, 100.0))
def test_a_heavier_core_lifts_less(d: float, share: float, cork: float, more: float) -> None:
    assert lift(d, share * d, 1170.0, cork + more) < lift(d, share * d, 1170.0, cork)


@given(sizes, shares, densities, st.floats(1e-4, 1e-3))
def test_a_larger_core_lifts_more(d: float, share: float, cork: float, more: float) -> None:
    assert lift(d, share * d + more, 1170.0, cork) > lift(d, share * d, 1170.0, cork)


@given(st.lists(st.floats(0.01, 1.6), min_size=1, max_size=6, unique=True), st.floats(0.001, 1.0))
def test_the_best_combination_is_never_worse_than_one_shot(
    masses: list[float], aim_grams: float
) -> None:
    stock = [Piece(str(mass), mass * 1e-3, TIN) for mass in masses]
    aim = aim_grams * 1e-3
    best = best_combination(stock, aim, water_density=WATER)
    alone = [piece.pull(WATER) for piece in stock if piece.pull(WATER) >= aim]
    if best is None:
        assert not alone
        assert MOST_PIECES * max(piece.pull(WATER) for piece in stock) < aim
        return
    assert best.pull >= aim - 1e-12
    assert all(best.pull <= pull + 1e-7 for pull in alone)
    assert best.pull == pytest.approx(sum(piece.pull(WATER) for piece in best.pieces), rel=1e-12)


def test_no_more_shot_is_taken_than_the_box_holds() -> None:
    box = (Piece("BB", 0.4e-3, TIN, count=1), Piece("No 8", 0.06e-3, TIN, count=2))
    made = list(combinations(box, water_density=WATER))
    assert len(made) == 5
    assert all(one.pieces.count(box[0]) <= 1 and one.pieces.count(box[1]) <= 2 for one in made)


def test_alike_pulls_take_fewer_pieces() -> None:
    box = (Piece("large", 0.4e-3, TIN), Piece("small", 0.2e-3, TIN))
    best = best_combination(box, 0.34e-3, water_density=WATER)
    assert best is not None
    assert [piece.name for piece in best.pieces] == ["large"]


def test_a_box_without_end_is_refused() -> None:
    many = [Piece(str(at), 1e-5 * at, TIN) for at in range(1, MOST_KINDS + 2)]
    with pytest.raises(InputError, match=f"at most {MOST_KINDS} kinds of shot") as refused:
        best_combination(many, 1e-4, water_density=WATER)
    assert (refused.value.field, refused.value.got) == ("shot", MOST_KINDS + 1)


def test_the_fullest_box_is_searched_up_to_the_most_pieces() -> None:
    last = Piece("last", 1e-4, TIN, count=MOST_PIECES + 1)
    spent = [Piece(str(at), 1e-5 * at, TIN, count=0) for at in range(1, MOST_KINDS)]
    made = list(combinations([*spent, last], water_density=WATER))
    assert [len(one.pieces) for one in made] == list(range(1, MOST_PIECES + 1))
    exactly = best_combination([last], 2.0 * last.pull(WATER), water_density=WATER)
    assert exactly is not None
    assert len(exactly.pieces) == 2


def test_a_sealed_hole_lifts_and_an_open_one_takes_lift_from_cork() -> None:
    sizes = {"diameter": 0.017, "core_diameter": 0.012, "hole": 0.002}
    paste = {"paste_density": 1150.0, "core_density": 200.0}
    sealed = hole_lift.function(**sizes, **paste, fill_density=0.0)
    opened = hole_lift.function(**sizes, **paste, fill_density=WATER)
    assert opened < 0.0 < sealed
    none = {**sizes, "hole": 0.0}
    assert hole_lift.function(**none, **paste, fill_density=WATER) == 0.0


def test_a_hole_as_wide_as_the_ball_takes_all_of_it() -> None:
    whole = hole_lift.function(
        0.017, 0.0, hole=0.017, paste_density=1150.0, core_density=0.0, fill_density=0.0
    )
    assert whole == pytest.approx(1150.0 * float(sphere_volume(0.017)), rel=1e-12)


@given(st.floats(0.0, 20.0), st.floats(0.1, 10.0))
def test_deeper_water_takes_more_lift(depth: float, more: float) -> None:
    def loss(at: float) -> float:
        held = {"water_density": WATER, "modulus": 9e6}
        return float(depth_loss.function(1e-7, 0.010, depth=at, **held))

    assert 0.0 <= loss(depth) < loss(depth + more)


@given(st.floats(-0.5, 0.5), st.floats(8000.0, 12000.0))
def test_putty_pulls_what_is_left_and_the_margin(net_grams: float, density: float) -> None:
    net, margin = net_grams * 1e-3, 0.02e-3
    mass = float(putty.function(net, margin, density, WATER))
    assert mass >= 0.0
    if net + margin > 0.0:
        assert net - mass * (1.0 - WATER / density) == pytest.approx(-margin, abs=1e-15)


def test_draws_on_both_sides_of_neutral_each_take_their_own_law() -> None:
    net = np.array([[-2e-4, -1e-5, 0.0, 1e-5, 2e-4]])
    speed = sinking_speed.function(0.017, net, WATER, VISCOSITY)
    assert np.all(np.diff(speed) < 0.0)
    assert list(np.sign(speed[0])) == [1, 1, 0, -1, -1]
    assert abs(speed[0, 0]) > abs(speed[0, 4])  # what rises zigzags
    assert sinking_share.function(speed) == pytest.approx(0.4)
    assert list(np.isinf(settle_time.function(3.0, speed))[0]) == [False, False, True, True, True]


def test_a_rigs_books_close() -> None:
    made = on_rig(Rig(link=Link("fluorocarbon", 0.15), parts=("bait-stop",), depth=3.5))
    stage = made.on_rig.stage
    np.testing.assert_allclose(
        values(stage.net),
        values(stage.alone)
        + values(stage.hole)
        - values(stage.depth)
        - sum(values(pull) for pull in stage.pulls),
        rtol=1e-12,
        atol=1e-15,
    )
    assert [pull.label for pull in stage.pulls] == [
        "the hook under water",
        "PVDF line under water",
        "bait stop under water",
    ]


def test_the_bare_rig_is_the_plans_own() -> None:
    plan = planned(POP_UP)
    assert plan.rig is None
    bare = balance_rig(plan).on_rig.stage
    np.testing.assert_allclose(values(bare.alone), values(plan.water.dried), rtol=1e-12)
    np.testing.assert_allclose(values(bare.net), values(plan.water.rig), rtol=1e-9)


def test_the_shot_takes_the_middle_bait_just_past_balance() -> None:
    held = on_rig().on_rig.counterweight
    assert held is not None
    assert -0.02e-3 - STOCK[-1].pull(WATER) < median_of(held.left) <= -0.0199e-3
    assert 0.4 < float(held.taken_down.value) < 0.8


def test_a_box_gives_up_to_four_pieces_and_holds_so_many_kinds() -> None:
    box = tuple(Piece(f"No {n}", 1e-4 * (n + 1), TIN) for n in range(MOST_KINDS))
    sizes = {len(one.pieces) for one in combinations(box[:3], water_density=WATER)}
    assert sizes == {1, 2, 3, 4}
    assert next(iter(combinations(box, water_density=WATER))).pieces == (box[-1],)


def test_what_pulls_just_as_much_as_wanted_is_enough() -> None:
    shot = Piece("AAA", 0.8e-3, TIN)
    found = best_combination((shot,), shot.pull(WATER), water_density=WATER)
    assert found is not None
    assert found.pieces == (shot,)


def test_what_sinks_by_itself_takes_no_counterweight() -> None:
    wafter = balance_rig(planned()).on_rig
    assert median_of(wafter.stage.net) < 0.0
    assert wafter.counterweight is None
    assert median_of(wafter.stage.putty) == 0.0


def test_a_box_too_light_is_told() -> None:
    made = on_rig(stock=(Piece("dust", 0.01e-3, TIN),)).on_rig
    assert made.counterweight is None
    assert any("putty" in note.text for note in made.notes)


def test_britain_leaves_lead_out_and_every_country_is_told() -> None:
    box = (Piece("BB", 0.4e-3, LEAD), Piece("No 9", 0.05e-3, LEAD))
    british = on_rig(stock=box, country="GB")
    assert any("Left out for their lead: BB." in note.text for note in british.on_rig.notes)
    assert {caution.id for caution in british.cautions} == {"lead-gb"}
    if british.on_rig.counterweight is not None:
        assert {one.name for one in british.on_rig.counterweight.combination.pieces} == {"No 9"}
    assert len(lead_cautions(box, None)) == 4
    assert not lead_cautions(STOCK, None)


def test_salt_water_lifts_more() -> None:
    assert np.all(values(hung(Rig(salinity=0.005)).alone) > values(hung().alone))


def test_floating_line_carries_itself() -> None:
    braid = hung(Rig(link=Link("braid", 0.2))).pulls[1]
    assert median_of(braid) < 0.0


def test_a_hole_wider_than_the_bait_is_refused() -> None:
    with pytest.raises(RangeError, match="hole"):
        on_rig(Rig(hole=Hole(0.02)))


def test_no_depth_below_nothing() -> None:
    with pytest.raises(RangeError, match="depth"):
        on_rig(Rig(depth=-1.0))


def test_the_lift_is_told_to_be_unsure() -> None:
    assert any("weigh a dozen" in note.text for note in on_rig().on_rig.notes)


# --- the rig in the plan ---------------------------------------------------------------------

WHOLE = Rig(link=Link("fluorocarbon", 0.15), parts=("bait-stop",), hole=Hole(0.0015), depth=3.5)


def rigged(rig: Rig = WHOLE, country: str | None = None) -> BatchPlan:
    return planned(POP_UP, replace(BENCH, rig=rig, country=country))


def test_plan_and_balance_tell_one_rig() -> None:
    made = rigged()
    assert made.rig is not None
    assert balance_rig(made).on_rig is made.rig
    close = {"rtol": 1e-9, "atol": 1e-15}
    stage = made.rig.stage
    np.testing.assert_allclose(values(made.water.dried), values(stage.alone), **close)
    np.testing.assert_allclose(values(made.water.rig), values(stage.net), **close)
    np.testing.assert_allclose(values(made.soak.curve[0].rig), values(stage.net), **close)
    own = next(one for one in made.water.cores if one.core == POP_UP.bait.core)
    np.testing.assert_allclose(values(own.rig_lift), values(stage.net), **close)


def test_without_a_rig_only_the_hook_hangs() -> None:
    bare = planned(POP_UP)
    assert bare.rig is None
    assert bare.water.burden is None
    assert bare.hung is bare.water.taken is bare.water.hook
    assert "hook together" in bare.soak.curve[0].rig.label


def test_a_rig_takes_lift_and_leaves_the_bait_alone_as_it_is() -> None:
    bare, whole = planned(POP_UP), rigged()
    np.testing.assert_allclose(values(whole.water.dried), values(bare.water.dried), rtol=1e-12)
    assert np.all(values(whole.water.rig) < values(bare.water.rig))
    assert median_of(whole.hung) > median_of(bare.hung)


def test_the_night_in_salt_water_begins_with_the_lift_there() -> None:
    made = rigged(replace(WHOLE, salinity=0.01))
    first = values(made.soak.curve[0].lift)
    np.testing.assert_allclose(first, values(made.water.dried), rtol=1e-9, atol=1e-15)
    assert np.all(first > values(rigged().soak.curve[0].lift))


def test_the_balance_point_leaves_nothing_and_the_putty_the_margin() -> None:
    made = rigged()
    assert made.rig is not None
    stage = made.rig.stage
    assert median_of(stage.balance_point) > 0.0
    more = values(stage.putty) - values(stage.balance_point)
    floats = values(stage.net) > 0.0
    dense = more[np.broadcast_to(floats, more.shape)]
    assert np.all(dense > 0.02e-3)  # the margin is a pull under water, and putty is lifted too
    assert np.all(dense < 0.03e-3)


def test_lead_in_the_box_is_cautioned_about_in_the_plan() -> None:
    lead = replace(WHOLE, stock=every_size(LEAD))
    made = rigged(lead, "GB")
    assert "lead-gb" in {one.id for one in made.care.cautions}
    assert any("Left out for their lead" in note.text for note in made.notes)
    assert "lead-gb" not in {one.id for one in rigged(country="GB").care.cautions}


def test_the_plan_remarks_on_hole_and_wishes() -> None:
    asked = replace(WHOLE, fastest=0.001, putty=5e-3)
    told = " ".join(note.text for note in rigged(asked).notes)
    assert "An open hole lets water at core and paste" in told
    assert "does not hold up the 5 g of putty" in told
    assert "faster" not in told  # with its hook alone it does not sink at all
    heavy = replace(BENCH, hook=Hook(mass=1.5e-3), rig=asked)
    told = " ".join(note.text for note in planned(bench=heavy).notes)
    assert "faster than the 0.001 m/s wished" in told
    sealed = replace(WHOLE, hole=Hole(0.0015, sealed=True))
    assert "An open hole" not in " ".join(note.text for note in rigged(sealed).notes)


def test_text_sheet_and_explanation_tell_the_rig() -> None:
    made = rigged()
    text = " ".join(plan_text(made).split())
    for said in ("ON THE RIG", "critically balanced with putty of", "0.02 g past balance"):
        assert said in text
    for said in ("Shot for the middle bait", "on the bottom after", "lift left on the whole rig"):
        assert said in text
    (stage,) = (one for one in stages(made) if one.name == "Rig")
    assert [step.do for step in stage.steps] == [
        "Lift left on the rig",
        "Putty to just take it down",
        "On the bottom at 3.5 m after",
    ]
    assert "putty = (net lift + margin)" in explain_plan(made)
    light = rigged(replace(WHOLE, stock=(Piece("dust", 0.01e-3, TIN),)))
    (stage,) = (one for one in stages(light) if one.name == "Rig")
    assert [step.do for step in stage.steps] == [
        "Lift left on the rig",
        "Putty to just take it down",
    ]
    bare = planned(POP_UP)
    assert "ON THE RIG" not in plan_text(bare)
    assert all(one.name != "Rig" for one in stages(bare))
