"""The tray: marks of readiness, air that changes, dryers, what is refused, and what is remarked."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from baitwright.batch.drying import air_gained, dried_diameter, hardness_index
from baitwright.batch.plan import BatchPlan
from baitwright.batch.tray_air import same_air
from baitwright.batch.weighings import band_removed
from baitwright.materials.defaults import default
from baitwright.physics.air import AirState, humidity_ratio
from baitwright.recipe.bench import Bench, LaterAir, ReadyMark, Room
from baitwright.recipe.levels import read_level
from baitwright.recipe.model import BaseMix
from baitwright.terms.errors import InputError, RangeError
from baitwright.terms.evidence import Evidence
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import band_of, median_of
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import BENCH, MALT, RECIPE, planned

TINY = Draws(batches=16, baits=2)
WARM, COOL = 295.15, 287.15
# Steps differ where the air changes: each run is within 0.001 of the first water of the truth, as
# the engine says of itself, and water is about 0.35 of the paste.
STEPS = 2 * 0.001 * 0.35


def in_room(**changes: Any) -> Bench:
    return replace(BENCH, room=replace(BENCH.room, **changes))


def dried(**changes: Any) -> BatchPlan:
    return planned(bench=in_room(**changes), draws=TINY)


def values(quantity: Quantity) -> Any:
    return np.asarray(unwrap(quantity.value))


def lost_by(plan: BatchPlan, hours: float) -> Any:
    return next(values(point.loss) for point in plan.dry.curve if point.time == 3600.0 * hours)


class TestMarks:
    def test_the_usual_mark_is_a_tenth_of_the_weight_and_overnight(self) -> None:
        mark = ReadyMark(loss=default("ready_loss").value)
        usual, stated = dried(temperature=303.15), dried(temperature=303.15, ready=mark)
        np.testing.assert_array_equal(values(usual.dry.ready), values(stated.dry.ready))
        assert values(usual.dry.time) >= default("least_tray_time").value
        assert values(stated.dry.time) < values(usual.dry.time)

    @settings(max_examples=6, deadline=None)
    @given(st.floats(0.04, 0.14))
    def test_by_weight_they_have_lost_it_when_ready(self, share: float) -> None:
        plan = dried(ready=ReadyMark(loss=share))
        ready = values(plan.dry.ready)
        at_end = values(plan.dry.loss)
        early = np.isfinite(ready) & (ready <= values(plan.dry.time))
        assert np.all(at_end[early] >= share * (1.0 - 1e-9))
        assert np.all(at_end[~early] <= share * (1.0 + 1e-9))

    def test_by_water_activity_they_have_it_when_ready(self) -> None:
        plan = dried(ready=ReadyMark(water_activity=0.85))
        ready, activity = values(plan.dry.ready), values(plan.dry.activity)
        early = ready <= values(plan.dry.time)
        assert early.mean() > 0.85
        assert np.all(activity[early] <= 0.85 + 1e-4)
        assert np.all(activity[~early] >= 0.85 - 1e-4)

    def test_a_dryer_mark_takes_longer(self) -> None:
        marks = [dried(ready=ReadyMark(water_activity=aw)).dry.ready for aw in (0.93, 0.88, 0.80)]
        assert np.all(np.diff([values(ready) for ready in marks], axis=0) > 0.0)

    def test_below_the_air_they_are_never_ready(self) -> None:
        plan = dried(humidity=0.75, ready=ReadyMark(water_activity=0.7))
        assert np.all(np.isinf(values(plan.dry.ready)))
        assert any("not be ready within four days" in note.text for note in plan.notes)

    def test_by_the_clock_they_are_ready_then(self) -> None:
        plan = dried(ready=ReadyMark(time=5.25 * 3600.0))
        assert values(plan.dry.ready) == 5.25 * 3600.0
        assert values(plan.dry.time) == 5.5 * 3600.0
        assert not any("weighed fresh" in note.text for note in plan.notes)

    @pytest.mark.parametrize(
        "mark",
        [
            ReadyMark(),
            ReadyMark(loss=0.1, time=3600.0),
            ReadyMark(loss=0.9),
            ReadyMark(loss=float("nan")),
            ReadyMark(water_activity=1.0),
            ReadyMark(time=1e9),
        ],
    )
    def test_what_is_no_mark_is_refused(self, mark: ReadyMark) -> None:
        with pytest.raises(InputError, match=r"room\.ready"):
            dried(ready=mark)


class TestAir:
    def test_more_of_the_bait_in_the_air_dries_faster(self) -> None:
        crowded, open_tray, net = (dried(exposure=share) for share in (0.5, 0.8, 1.0))
        losses = [lost_by(plan, 4) for plan in (crowded, open_tray, net)]
        assert np.all(np.diff(losses, axis=0) > 0.0)

    def test_a_stated_exposure_takes_its_doubt_away(self) -> None:
        names = {part.name: part for part in dried(exposure=0.8).dry.ready.walk()}
        assert names["tray_exposure"].evidence is Evidence.MEASURED
        assert names["tray_exposure"].value == 0.8

    def test_a_fan_dries_faster_and_beyond_its_formula_says_so(self) -> None:
        still, fan = dried(air_speed=0.05), dried(air_speed=1.0)
        assert np.all(lost_by(fan, 4) > lost_by(still, 4))
        assert any("faster than the formula" in note.text for note in fan.notes)
        assert not any("faster than the formula" in note.text for note in still.notes)

    def test_a_dryer_warms_the_rooms_air_and_keeps_its_water(self) -> None:
        room = AirState(293.15, 0.6, 0.1)
        air = same_air.function(before=room, temperature=308.15, speed=1.0)
        assert air.relative_humidity == pytest.approx(0.25, abs=0.002)
        assert humidity_ratio(air) == pytest.approx(humidity_ratio(room), rel=1e-12)
        assert air.speed == 1.0

    def test_a_dryer_is_faster_and_asks_for_no_night(self) -> None:
        room, dryer = dried(), dried(dryer=313.15)
        assert np.all(values(dryer.dry.ready) < 0.6 * values(room.dry.ready))
        assert values(dryer.dry.time) < values(room.dry.time)
        assert any("isotherms at 20 C" in note.text for note in dryer.notes)

    def test_the_same_air_said_in_two_stretches_is_the_same_air(self) -> None:
        """The profile is carried over; only the time steps differ."""
        once, twice = dried(), dried(then=(LaterAir(after=5 * 3600.0),))
        for hours in (4, 8, 24):
            np.testing.assert_allclose(lost_by(twice, hours), lost_by(once, hours), atol=STEPS)

    def test_a_cool_night_holds_them_up(self) -> None:
        night = (LaterAir(after=2 * 3600.0, temperature=COOL),)
        even, swing = dried(temperature=WARM), dried(temperature=WARM, then=night)
        np.testing.assert_allclose(lost_by(swing, 2), lost_by(even, 2), atol=STEPS)
        assert np.all(lost_by(swing, 12) < lost_by(even, 12))
        damp = swing.dry.run.inputs[-1][1].value.air
        assert damp.relative_humidity > 0.9

    def test_air_may_move_later_and_grow_damper(self) -> None:
        plan = dried(then=(LaterAir(after=2 * 3600.0, air_speed=0.6, humidity=0.8),))
        first, later = (
            part.value.air for name, part in plan.dry.run.inputs if name.startswith("stretch")
        )
        assert (float(first.speed), float(later.speed)) == (0.1, 0.6)
        assert (float(first.relative_humidity), float(later.relative_humidity)) == (0.6, 0.8)
        assert later.temperature == first.temperature

    def test_a_dryer_may_come_later_and_go_again(self) -> None:
        later = (
            LaterAir(after=8 * 3600.0, dryer=313.15),
            LaterAir(after=10 * 3600.0),
        )
        plan = dried(then=later)
        tray = [part.value for name, part in plan.dry.run.inputs if name.startswith("stretch")]
        assert [float(one.air.temperature) for one in tray] == [293.15, 313.15, 293.15]
        assert [float(one.air.speed) for one in tray] == [0.1, 1.0, 0.1]
        room = dried()
        np.testing.assert_allclose(lost_by(plan, 8), lost_by(room, 8), atol=STEPS)
        assert np.all(lost_by(plan, 12) > lost_by(room, 12))

    @pytest.mark.parametrize(
        ("changes", "said"),
        [
            ({"humidity": 1.2}, r"room\.humidity"),
            ({"humidity": float("nan")}, r"room\.humidity"),
            ({"temperature": 268.15}, r"room\.temperature"),
            ({"air_speed": 50.0}, r"room\.air_speed"),
            ({"exposure": 0.0}, r"room\.exposure"),
            ({"dryer": 400.0}, r"room\.dryer"),
            ({"then": (LaterAir(after=3600.0, humidity=1.5),)}, r"room\.then\[1\]\.humidity"),
        ],
    )
    def test_surroundings_that_cannot_be_are_named(
        self, changes: dict[str, Any], said: str
    ) -> None:
        with pytest.raises(RangeError, match=said):
            dried(**changes)

    @pytest.mark.parametrize(
        ("changes", "said"),
        [
            ({"temperature": 303.15, "dryer": 298.15}, r"room\.dryer"),
            ({"then": (LaterAir(after=0.0),)}, r"room\.then\.after"),
            ({"then": (LaterAir(after=7200.0), LaterAir(after=3600.0))}, r"room\.then\.after"),
            ({"then": (LaterAir(after=400_000.0),)}, r"room\.then\.after"),
            ({"then": (LaterAir(after=3600.0, temperature=275.15),)}, r"room\.then\.humidity"),
        ],
    )
    def test_air_that_contradicts_itself_is_refused(
        self, changes: dict[str, Any], said: str
    ) -> None:
        with pytest.raises(InputError, match=said):
            dried(**changes)


class TestWaterHeld:
    def test_a_humectant_dries_slower_at_the_end(self) -> None:
        sweet = replace(MALT, level=read_level("6 % of paste", "level"))
        usual = planned(replace(RECIPE, liquids=()), draws=TINY)
        moist = planned(replace(RECIPE, liquids=(sweet,)), draws=TINY)
        assert moist.dry.holds.value.moisture(0.6) > 1.1 * usual.dry.holds.value.moisture(0.6)

    def test_shares_of_the_dry_matter_never_exceed_it(self) -> None:
        shares = [float(part.value) for _, part in planned(draws=TINY).dry.holds.inputs]
        assert 0.8 < sum(shares) < 1.0

    def test_a_bought_mix_takes_the_judged_isotherm(self) -> None:
        plan = planned(replace(RECIPE, base=BaseMix("Copper")), draws=TINY)
        names = dict(plan.dry.holds.inputs)
        assert "bought" in names
        assert names["bought"].evidence is Evidence.JUDGEMENT
        # 35 % water stands at 0.965 in it; the liquids bring it a little below.
        assert 0.94 < plan.dry.holds.value.water_activity(0.5385) < 0.966

    def test_what_it_holds_is_counted_among_the_doubts(self) -> None:
        walked = {part.name for part in planned(draws=TINY).dry.activity.walk()}
        assert "isotherm_scale" in walked


class TestCurve:
    def test_baits_grow_lighter_smaller_drier_and_harder(self) -> None:
        curve = planned(draws=TINY).dry.curve
        rows = {
            name: np.stack([values(getattr(point, name)) for point in curve])
            for name in ("mass", "diameter", "activity", "hardness", "loss")
        }
        for name in ("mass", "diameter", "activity"):
            assert np.all(np.diff(rows[name], axis=0) < 0.0), name
        for name in ("hardness", "loss"):
            assert np.all(np.diff(rows[name], axis=0) > 0.0), name
        assert np.all((rows["activity"] > 0.0) & (rows["activity"] < 1.0))
        np.testing.assert_allclose(rows["hardness"][0], 1.0)

    def test_density_is_weight_over_volume(self) -> None:
        point = planned(draws=TINY).dry.curve[4]
        volume = np.pi / 6.0 * values(point.diameter) ** 3
        np.testing.assert_allclose(values(point.density) * volume, values(point.mass), rtol=1e-12)

    def test_the_curve_ends_as_the_stage_does(self) -> None:
        dry = dried(ready=ReadyMark(time=8 * 3600.0)).dry
        point = next(one for one in dry.curve if one.time == 8 * 3600.0)
        for name in ("loss", "mass", "diameter", "density", "activity", "hardness"):
            np.testing.assert_array_equal(values(getattr(dry, name)), values(getattr(point, name)))

    def test_hardness_is_said_to_be_judged(self) -> None:
        assert hardness_index.source == "judgement"
        assert "no measurement" in hardness_index.note


class TestWeighings:
    def test_two_weighings_take_a_share_of_the_band_away(self) -> None:
        note = next(one.text for one in planned().notes if "weighed fresh" in one.text)
        share = float(note.split("%")[0].split()[-1])
        assert 10 < share < 90

    @pytest.mark.parametrize("noise", [0.0, 0.5, 1.0, 3.0])
    def test_against_a_known_line(self, noise: float) -> None:
        """Y = 2 x + noise z, what is left is noise / sqrt(4 + noise^2)."""
        generator = np.random.default_rng(4)
        x, z = generator.standard_normal((2, 40_000, 1))
        reading = replace(planned(draws=TINY).dry.ready, value=np.exp(x))
        left = 1.0 - band_removed([reading], np.exp(2.0 * x + noise * z))
        assert left == pytest.approx(noise / np.sqrt(4.0 + noise**2), abs=0.012)

    def test_readings_that_see_nothing_remove_nothing(self) -> None:
        generator = np.random.default_rng(5)
        reading = replace(planned(draws=TINY).dry.ready, value=np.full((500, 1), 2.0))
        assert band_removed([reading], np.exp(generator.standard_normal((500, 1)))) == 0.0
        assert band_removed([reading], np.full((500, 1), 3.0)) == 0.0


def test_the_crust_is_left_out_and_its_band_told() -> None:
    row = default("crust")
    assert (row.value, row.low, row.high) == (0.0, 0.0, 4.0)
    crust = next(part for part in planned(draws=TINY).dry.run.walk() if part.name == "crust")
    assert crust.value == 0.0


def test_a_crust_would_slow_them() -> None:
    from baitwright.batch.drying import drying_run

    run = planned(draws=TINY).dry.run
    inputs = {name: part.value for name, part in run.inputs}
    inputs["paste"] = replace(inputs["paste"], crust=4.0)
    slowed = drying_run.function(**inputs)
    at = np.searchsorted(run.value.times, 36_000.0)
    late = np.searchsorted(slowed.times, 36_000.0)
    assert np.all(slowed.evaporated[late] < run.value.evaporated[at])


def test_band_of_the_activity_is_within_what_is_possible() -> None:
    band = band_of(planned().dry.activity)
    assert 0.6 < band.low95 < band.high95 < 0.97
    assert median_of(planned().dry.hardness) > 1.0


def test_a_room_without_a_word_is_planned() -> None:
    plan = planned(bench=replace(BENCH, room=Room()), draws=TINY)
    assert np.all(np.isfinite(values(plan.dry.ready)))


@given(
    lost=st.floats(-2e-3, 1e-3),
    chi=st.floats(0.3, 1.0),
    air=st.floats(0.0, 3e-7),
)
def test_room_is_kept_account_of_when_water_leaves_and_when_damp_air_brings_it(
    lost: float, chi: float, air: float
) -> None:
    """Archimedes needs the bait's volume: it changes by the water's own and by the air's."""
    before = 0.016
    after = float(dried_diameter.function(before, lost, chi, air))
    kept = float(air_gained.function(air, lost, chi))
    assert kept >= 0.0
    grown = np.pi / 6.0 * (after**3 - before**3)
    assert grown == pytest.approx(kept - air - lost / 998.2, abs=1e-15)
