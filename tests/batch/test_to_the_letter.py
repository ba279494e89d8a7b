"""What a plan says beside its numbers: names, units, weights of notes, whose factor it is."""

from __future__ import annotations

import math
from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from baitwright.batch.batch_plan import BatchPlan
from baitwright.batch.boil import decades
from baitwright.batch.boil_table import Asked, boil_table
from baitwright.batch.coat import _offered
from baitwright.batch.cores import size_core
from baitwright.batch.design import _paste_room, _Search
from baitwright.batch.dry import _ready
from baitwright.batch.front import _depths
from baitwright.batch.on_rig import _on_shot
from baitwright.batch.prove import ASKED, EARLY
from baitwright.batch.rig_balance import balance_rig
from baitwright.batch.settle import _on_current
from baitwright.batch.stow import bag_freezes
from baitwright.batch.unknowns import Unknowns
from baitwright.materials.factors import prior_factors
from baitwright.materials.powders import ingredient
from baitwright.recipe.bench import ReadyMark
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.recipe.levels import read_level
from baitwright.recipe.model import BaitKind, Coat, Core, Filler
from baitwright.recipe.rig import Piece, Rig
from baitwright.terms.errors import InputError, RangeError
from baitwright.terms.notes import Weight
from baitwright.terms.quantity import Quantity, given, unwrap
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import BENCH, FEW, MALT, NOW, RECIPE, planned, with_bait, with_eggs

UNKNOWNS = Unknowns(FEW, prior_factors())
NINE = Core("cork-ball", 0.009)


def named(quantity: Quantity, name: str) -> Quantity:
    """What a quantity stands on, by name."""
    return next(one for one in quantity.walk() if one.name == name)


def bare(value: float) -> Quantity:
    """A number that stands on nothing."""
    return given("bare", value, label="bare")


# --- whose factor -----------------------------------------------------------------------------


def test_the_density_learned_for_one_kind_of_core_is_for_that_kind() -> None:
    prior = prior_factors()
    before = prior.find("core_density", "cork-ball")
    own = replace(before, about="cork-ball", mu=before.mu + math.log(1.2))
    learned = Unknowns(FEW, prior.with_factors([own], name="own", made_on=NOW))
    for core, times in ((NINE, 1.2), (replace(NINE, material="cork-stick"), 1.0)):
        was, is_now = (
            median_of(named(size_core(core, one).density, "factor:core_density"))
            for one in (UNKNOWNS, learned)
        )
        assert is_now == pytest.approx(times * was, rel=1e-12)


# --- by hand ----------------------------------------------------------------------------------


def test_the_room_of_paste_is_the_ball_less_cores_and_fillers() -> None:
    ball, core = (math.pi / 6.0 * size**3 for size in (0.016, 0.006))
    tenth = (Filler("cork-granules", 0.1),)
    assert _paste_room(0.016, None, ()) == pytest.approx(ball)
    assert _paste_room(0.016, None, tenth) == pytest.approx(0.9 * ball)
    three = Core("cork-ball", 0.006, count=3)
    assert _paste_room(0.016, three, tenth) == pytest.approx(0.9 * (ball - 3.0 * core))


def test_powder_of_a_known_loose_density_is_offered_by_it() -> None:
    """Offered = pi / 6 ((D + 2 layer)^3 - D^3) times what a litre of it weighs."""
    row = replace(ingredient("liver-powder"), bulk_density=400.0)
    state: Any = SimpleNamespace(diameter=bare(0.015), mass=bare(0.002))
    wanted = Coat("liver-powder", layer=0.001)
    offered = _offered(state, wanted, row, unknowns=UNKNOWNS)
    shell = math.pi / 6.0 * (0.017**3 - 0.015**3)
    assert float(unwrap(offered.value)) == pytest.approx(400.0 * shell)
    bulk = named(offered, "bulk_density")
    assert (bulk.shown, bulk.source) == ("g/ml", row.source)


def test_a_bag_freezes_by_the_mean_of_its_baits_batch_by_batch() -> None:
    """Plank: d/2 (1/h + d/(4 k)) rho dH / fall, summed over the legs, with baits of each batch."""
    heat = np.array([[4.0, 8.0], [1.0, 3.0], [2.0, 2.0]])
    mass = np.array([[1.0, 3.0], [2.0, 4.0], [1.0, 1.0]])
    body = SimpleNamespace(density=600.0, conductivity=0.2)
    bait: Any = SimpleNamespace(mass=mass)
    found = bag_freezes.function
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(
            "baitwright.batch.stow.cooling_legs", lambda *_: [(heat, 10.0), (2.0 * heat, 5.0)]
        )
        time = found(0.04, SimpleNamespace(body=body), bait, 255.15, 10.0)
    through = 0.02 * (0.1 + 0.04 / 0.8)
    by_hand = [
        600.0 * through * (mean / 10.0 + 2.0 * mean / 5.0) / each
        for mean, each in ((6.0, 2.0), (2.0, 3.0), (2.0, 1.0))
    ]
    assert np.shape(time) == (3, 1)
    assert time[:, 0] == pytest.approx(by_hand)


def test_a_skin_that_ends_between_wall_and_first_cell_is_read_off_between_them() -> None:
    """A wall that is cold and paste that is done: set to where 95 % lies on the line between."""
    times = np.array([0.0, 600.0])
    hot, cold = np.full((2, 3, 1), 372.0), np.full((2, 1), 280.0)
    run: Any = SimpleNamespace(
        times=times,
        radii=np.array([[0.005], [0.006], [0.007]]),
        core_cells=0,
        profiles=hot,
        innermost_shell=cold,
        surface=hot[:, 0],
    )
    depth = _depths(run, slice(0, 1))
    edge, wall, first = 0.0075, 0.0045, 0.005
    assert depth[0, 0] == 0.0
    assert depth[1, 0] == pytest.approx(edge - (wall + 0.95 * (first - wall)), rel=1e-6)


def test_half_of_a_paste_cannot_be_liquids_set_against_it() -> None:
    half = replace(MALT, level=read_level("50 % of paste", "liquid.level"))
    with pytest.raises(InputError) as refused:
        planned(replace(RECIPE, liquids=(half,)))
    assert "liquid.level: got '50 %'" in str(refused.value)


# --- which readings, which notes ----------------------------------------------------------------


@pytest.mark.parametrize(("hours", "left_out"), [(12.0, set()), (6.0, {"twenty_at_8h"})])
def test_a_plan_asks_for_no_more_than_is_asked_and_for_nothing_too_late(
    hours: float, left_out: set[str]
) -> None:
    readings = tuple(SimpleNamespace(name=name) for name in (*ASKED, "egg_in_bowl", "baits_made"))
    time = bare(hours / 8.0 * EARLY)
    made: Any = SimpleNamespace(dry=SimpleNamespace(time=time), readings=readings)
    asked = BatchPlan.prove.fget  # type: ignore[attr-defined]
    assert {one.name for one in asked(made)} == set(ASKED) - left_out


def test_lead_left_out_is_a_caution_and_no_remark() -> None:
    stage: Any = SimpleNamespace(net=bare(-1e-3))
    rig = Rig(stock=(Piece("BB", 0.4e-3, "lead"),))
    (note,) = _on_shot(stage, rig, None, country="GB")
    assert (note.weight, note.source) == (Weight.CAUTION, "uk-si-1986-1992")


def test_a_core_that_fits_no_size_is_told_as_a_doubt() -> None:
    nobody: Any = None
    search = _Search(nobody, nobody, nobody, nobody, nobody)
    (note,) = search.in_the_way(None, left_out=0)
    assert note.weight is Weight.DOUBT
    assert note.text == "No core leaves 1.5 mm of paste in any size weighed up."


def test_granules_in_the_paste_are_counted_in_what_a_refusal_proposes() -> None:
    """Lighter paste needs a smaller core for the same hook."""
    heavy = replace(BENCH, hook=replace(BENCH.hook, size=None, mass=1.5e-3), cores=(0.005, 0.006))
    sizes = []
    for share in (0.0, 0.1):
        fillers = (Filler("cork-granules", share),) if share else ()
        (note,) = balance_rig(planned(with_bait(fillers=fillers), heavy)).design.notes
        text = note.text.partition("would need a core of at least ")[2]
        sizes.append(float(text.partition(" mm")[0]))
    assert sizes[1] < sizes[0] - 0.1


def test_a_table_of_seconds_says_what_it_was_asked_and_that_small_cores_are_not_in_it() -> None:
    several = with_bait(core=Core("cork-ball", 0.006, count=2))
    asked = Asked((0.015,), (0.0,))
    draws = Draws(batches=8, baits=1)
    state = planned(several, draws=draws).rolled.bait
    unknowns = Unknowns(draws, prior_factors())
    made = boil_table(state, several, asked=asked, bench=BENCH, unknowns=unknowns)
    assert made.asked == asked
    (note,) = (one for one in made.notes if "one core in the middle" in one.text)
    assert (note.stage, note.source, note.weight) == ("boil", "fricke-becker-2001", Weight.DOUBT)


# --- names and units ------------------------------------------------------------------------------


def test_a_current_out_of_range_is_told_in_metres_a_second() -> None:
    with pytest.raises(RangeError, match=r"current.*m/s"):
        _on_current(bare(2.0), 4.0)


def test_an_activity_out_of_range_is_told_by_its_field() -> None:
    nobody: Any = None
    with pytest.raises(RangeError, match=r"^room\.ready: "):
        _ready(nobody, nobody, ReadyMark(water_activity=0.99), unknowns=nobody)


def test_decades_are_told_bait_by_bait() -> None:
    boil = planned().boil
    assert np.shape(unwrap(boil.decades.value)) == (FEW.batches, FEW.baits)
    run = SimpleNamespace(times=np.array([0.0, 60.0]), innermost_shell=np.full((2, 6), 335.0))
    found = decades.function(run, 30.0, 1.0, np.full((2, 3), 0.015))
    assert np.shape(found) == (2, 3)


def test_places_are_named_as_a_maker_names_them() -> None:
    labels = {one.place: one.life.label for one in planned().keep.places}
    assert labels["fridge"] == "keeps in the fridge"
    assert labels["ambient"] == "keeps out of the cold"


def test_what_stands_under_a_number_has_its_name_and_unit() -> None:
    made = balance_rig(planned())
    error = next(one.error for one in made.protocols if named_core(one.error))
    assert named(error, "core").shown == "mm"
    lasts = made.design.options[0].lasts
    assert named(lasts, "paste_share").label == "paste beside the bait's own"
    free = with_eggs(Eggs(EggKind.EGG_FREE, contents_mass=0.15))
    (powder, _) = planned(bench=free).eggs.lots[0].parts
    assert named(powder, "albumen_share").shown == "%"


def named_core(quantity: Quantity) -> bool:
    """Whether a core was weighed for it."""
    return any(one.name == "core" for one in quantity.walk())


def test_a_solid_bait_is_weighed_up_beside_solid_ones() -> None:
    """Without a core a larger bait has its own share of paste, and the smaller one less."""
    made = balance_rig(planned(with_bait(kind=BaitKind.SINKER, core=None))).design
    solid = [one for one in made.options if one.core is None and not one.granules]
    assert len({one.diameter for one in solid}) > 1
    for one in solid:
        share = float(unwrap(named(one.lasts, "paste_share").value))
        assert share == pytest.approx((one.diameter / 0.015) ** 3)
