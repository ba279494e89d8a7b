"""Putting baits away: lives fall with warmth and moisture, lines stand beside, wishes are told."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from baitwright.batch.keep import AMBIENT, FREEZER, FRIDGE, KeepStage
from baitwright.recipe.bench import ReadyMark, Room, Storage
from baitwright.recipe.levels import read_level
from baitwright.recipe.liquid import Liquid
from baitwright.recipe.model import Recipe
from baitwright.terms.errors import RangeError
from baitwright.terms.notes import Weight
from baitwright.terms.quantity import Quantity, unwrap
from baitwright.uncertainty.bands import band_of, median_of
from tests.batch.kitchen import BENCH, MALT, RECIPE, planned

DAY = 86_400.0


def kept(recipe: Recipe = RECIPE, *, room: Room | None = None, **store: object) -> KeepStage:
    bench = replace(BENCH, room=room or BENCH.room, store=Storage(**store))  # type: ignore[arg-type]
    return planned(recipe, bench).keep


def values(quantity: Quantity) -> np.ndarray:
    return np.asarray(unwrap(quantity.value))


def celsius(value: float) -> float:
    return value + 273.15


@pytest.fixture(scope="module")
def usual() -> KeepStage:
    return kept()


def test_a_colder_fridge_never_keeps_shorter() -> None:
    lives = [values(kept(fridge=celsius(t)).place("fridge").life) for t in (1.0, 5.0, 9.0)]
    assert (lives[0] >= lives[1]).all()
    assert (lives[1] >= lives[2]).all()
    assert lives[0].mean() > lives[2].mean()


def test_a_colder_box_never_keeps_shorter() -> None:
    lives = [values(kept(ambient=celsius(t)).place("ambient").life) for t in (10.0, 20.0, 32.0)]
    assert (lives[0] >= lives[1]).all()
    assert (lives[1] >= lives[2]).all()


def test_a_colder_freezer_never_keeps_shorter() -> None:
    lives = [values(kept(freezer=celsius(t)).place("freezer").life) for t in (-30.0, -18.0, -8.0)]
    assert (lives[0] >= lives[1]).all()
    assert (lives[1] > lives[2]).all()


def test_drier_baits_keep_longer_and_freeze_later() -> None:
    moist = kept(room=Room(ready=ReadyMark(time=4 * 3600.0)))
    dry = kept(room=Room(ready=ReadyMark(time=30 * 3600.0)))
    assert (values(dry.activity) < values(moist.activity)).all()
    for place in ("fridge", "ambient"):
        assert (values(dry.place(place).life) >= values(moist.place(place).life)).all()
    assert (values(dry.freezing.starts) < values(moist.freezing.starts)).all()
    assert median_of(dry.freezing.share) <= median_of(moist.freezing.share)
    assert median_of(dry.under_line) > median_of(moist.under_line)
    assert (values(dry.freezing.ice) <= values(moist.freezing.ice)).all()


def test_the_fridge_beats_the_box_and_the_freezer_the_fridge(usual: KeepStage) -> None:
    fridge, ambient, freezer = usual.places
    assert [one.place for one in usual.places] == ["fridge", "ambient", "freezer"]
    assert (values(fridge.life) >= values(ambient.life)).all()
    assert median_of(freezer.life) > median_of(fridge.life)


def test_the_cautious_end_is_what_nine_in_ten_see(usual: KeepStage) -> None:
    for place in usual.places:
        cautious = median_of(place.cautious)
        assert cautious % DAY == 0.0
        assert np.mean(values(place.life) >= cautious) >= 0.9
        assert cautious <= band_of(place.life).low80 + 1.0


def test_the_skin_is_drier_than_the_whole(usual: KeepStage) -> None:
    assert (values(usual.skin) < values(usual.activity)).all()


def test_the_line_of_the_table_is_counted_bait_by_bait(usual: KeepStage) -> None:
    share = np.mean(values(usual.activity) < 0.88)
    assert median_of(usual.under_line) == pytest.approx(share)


def test_a_fan_freezes_faster_and_what_is_too_dry_never_does(usual: KeepStage) -> None:
    still, fan = median_of(usual.freezing.still), median_of(usual.freezing.fan)
    assert 20 * 60 < fan < still < 150 * 60
    dry = kept(room=Room(ready=ReadyMark(time=90 * 3600.0), humidity=0.4))
    never = values(dry.freezing.still) == np.inf
    assert never.any()
    assert (values(dry.freezing.ice)[never] < 0.05).all()
    assert any("ice forms in" in note.text for note in dry.notes)


def test_glycol_lowers_the_freezing_point() -> None:
    much = replace(MALT, level=read_level("4 ml per egg of 50 ml", "level"), carrier="glycerol")
    little = replace(much, level=read_level("0.2 ml per egg of 50 ml", "level"))
    with_much, with_little = (kept(replace(RECIPE, liquids=(one,))) for one in (much, little))
    assert median_of(with_much.freezing.starts) < median_of(with_little.freezing.starts)
    assert median_of(with_much.activity) < median_of(with_little.activity)


def test_limits_of_growth_are_told_for_the_moist_end(usual: KeepStage) -> None:
    fridge, ambient, freezer = usual.places
    assert {one.id for one in fridge.pathogens} <= {one.id for one in ambient.pathogens}
    assert "staphylococcus" in {one.id for one in ambient.pathogens}
    assert "moulds" in {one.id for one in fridge.spoilers}
    assert freezer.pathogens == freezer.spoilers == ()


def test_lines_are_of_the_makers_country() -> None:
    here = planned(RECIPE, replace(BENCH, country="GB")).keep
    assert {line.country for place in here.places for line in place.lines} == {"GB"}
    for line in here.lines:
        assert line.checked_on
        assert line.source


def test_a_wish_beyond_the_fridge_is_told() -> None:
    (note,) = (one for one in kept(keep_for=60 * DAY).notes if "wanted for" in one.text)
    assert note.weight is Weight.DOUBT
    assert "freeze" in note.text
    days = unwrap(next(one for one in kept().places if one.place == "fridge").cautious.value) / DAY
    assert days > 1.0
    assert f"the fridge is planned with {days:.3g} d" in note.text
    assert not any("wanted for" in one.text for one in kept(keep_for=DAY).notes)
    both = kept(keep_for=700 * DAY).notes
    assert any("The freezer too" in one.text for one in both)


def test_a_fridge_that_keeps_no_day_is_told_in_words() -> None:
    barely_dried = replace(BENCH.room, ready=ReadyMark(time=1800.0))
    for room, said in ((None, "1 d"), (barely_dried, "less than a day")):
        found = kept(room=room, fridge=celsius(15.0), keep_for=30 * DAY).notes
        (note,) = (one for one in found if "wanted for" in one.text)
        assert f"the fridge is planned with {said}:" in note.text


def test_a_warm_fridge_is_told() -> None:
    (note,) = (one for one in kept(fridge=celsius(9.0)).notes if "warmer than" in one.text)
    assert note.weight is Weight.CAUTION
    assert not any("warmer than" in one.text for one in kept(fridge=celsius(3.0)).notes)


def test_open_boxes_and_bags_are_told_apart() -> None:
    assert any("Left open" in note.text for note in kept(packed=False).notes)
    assert any("Bag them cold" in note.text for note in kept(packed=True).notes)


def liquid(name: str, **changes: object) -> Liquid:
    return replace(MALT, name=name, **changes)


@pytest.mark.parametrize(
    ("added", "told"),
    [
        (liquid("Potassium sorbate", powder=True), "a preservative, is recorded"),
        (liquid("House preservative"), "a preservative, is recorded"),
        (liquid("Xylitol syrup"), "harms dogs"),
        (liquid("Sweet stuff", strength="sweetener"), "a sweetener, is recorded"),
    ],
)
def test_a_preserver_is_recorded_and_promises_nothing(added: Liquid, told: str) -> None:
    plain = kept(replace(RECIPE, liquids=(liquid("Malt"),)))
    (note,) = (
        one for one in kept(replace(RECIPE, liquids=(added,))).notes if "recorded" in one.text
    )
    assert told in note.text
    assert "No longer life is counted" in note.text
    assert note.weight is Weight.CAUTION
    assert not any("recorded" in one.text for one in plain.notes)


def test_a_preserver_lengthens_nothing() -> None:
    plain = kept(replace(RECIPE, liquids=(MALT,))).place("fridge").life
    preserved = kept(replace(RECIPE, liquids=(liquid("Sorbate"),))).place("fridge").life
    assert (values(plain) == values(preserved)).all()


def test_alcohol_lost_on_the_tray_is_told() -> None:
    notes = kept(replace(RECIPE, liquids=(liquid("Plum", carrier="ethanol"),))).notes
    assert any("Plum: the alcohol is gone" in note.text for note in notes)
    assert not any("alcohol" in note.text for note in kept().notes)


@pytest.mark.parametrize(
    ("place", "value"),
    [
        ("freezer", 5.0),
        ("freezer", FREEZER[1] + 0.1),
        ("freezer", FREEZER[0] - 0.1),
        ("fridge", -5.0),
        ("fridge", FRIDGE[1] + 0.1),
        ("ambient", AMBIENT[1] + 0.1),
        ("ambient", AMBIENT[0] - 0.1),
        ("fridge", float("nan")),
    ],
)
def test_a_place_that_is_none_is_refused(place: str, value: float) -> None:
    with pytest.raises(RangeError, match=f"store.{place}"):
        kept(**{place: celsius(value)})


def test_nothing_promises(usual: KeepStage) -> None:
    texts = [note.text for note in usual.notes]
    texts += [line.text for place in usual.places for line in place.lines]
    for text in texts:
        assert "safe" not in text.lower()


def test_freezing_gives_off_its_heat_along_the_ice_line(usual: KeepStage) -> None:
    """Longer than if all of it froze at the freezing point, which is Plank's own assumption."""
    minutes = median_of(usual.freezing.still) / 60.0
    assert 40 < minutes < 80
