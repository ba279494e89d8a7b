"""From a plan's own readings to proposals: what moves, what does not, and what is said of both."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime

import pytest

from baitwright.batch.plan import PlanRequest, plan
from baitwright.learning.evidence import Taken
from baitwright.learning.in_bowl import measured_eggs, of_one_grade
from baitwright.learning.propose import LITTLE, learn
from baitwright.materials.factors import prior_factors
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.terms.errors import InputError
from baitwright.uncertainty.bands import band_of, median_of
from baitwright.uncertainty.draws import Draws
from tests.batch.kitchen import RECIPE, planned, with_eggs

DRAWS = Draws(batches=256)
SHELLS = with_eggs(Eggs(EggKind.WHOLE, count=3, shell_mass=0.1935, grade="EU L"))
MADE = planned(RECIPE, SHELLS, draws=DRAWS)
PRIORS = prior_factors()


def read(name: str, *, times: float = 1.0) -> Taken:
    """One of the plan's readings, so many times what was predicted."""
    measurement = next(one for one in MADE.readings if one.name == name)
    return Taken(measurement, times * median_of(measurement.predicted))


def test_the_tub_teaches_the_bridge() -> None:
    lesson = learn(MADE, [read("tub_used", times=1.15)], factors=PRIORS)
    (proposal,) = lesson.proposals
    assert (proposal.after.key, proposal.after.about) == ("dry_mix_per_egg", "Copper")
    assert 1.04 < proposal.after.median < 1.15
    assert proposal.after.scale < proposal.before.scale
    assert proposal.share > 0.7
    assert proposal.words.startswith("dry mix per egg for Copper: 1.00 becomes 1.0")
    assert proposal.words.endswith("known from 1 batch")
    assert proposal.after.source == "maker"


def test_the_score_comes_with_it() -> None:
    (scored,) = learn(MADE, [read("tub_used")], factors=PRIORS).scores
    assert scored.inside == 50
    assert scored.percentile == pytest.approx(0.5, abs=0.01)


def test_a_reading_that_cannot_tell_says_what_would() -> None:
    lesson = learn(MADE, [read("cup_rise", times=1.05)], factors=PRIORS)
    assert not lesson.proposals
    (little,) = lesson.tells_little
    assert little.key == "air_left"
    assert little.share < LITTLE
    assert "tells little about air left" in little.words
    assert "moves it most" in little.words
    assert "What would tell: the same baits weighed" in little.words


def test_fresh_and_dried_together_teach_drying() -> None:
    alone = learn(MADE, [read("twenty_at_8h", times=0.97)], factors=PRIORS)
    together = learn(MADE, [read("twenty_fresh"), read("twenty_at_8h", times=0.97)], factors=PRIORS)
    assert "drying" not in {one.after.key for one in alone.proposals}
    (drying,) = (one for one in together.proposals if one.after.key == "drying")
    assert drying.after.median > 1.0  # lighter than predicted: it dries faster here


def test_weighed_egg_explains_the_mix_it_took() -> None:
    lesson = learn(
        MADE, [read("egg_in_bowl", times=1.05), read("tub_used", times=1.05)], factors=PRIORS
    )
    after = {one.after.key: one.after for one in lesson.proposals}
    assert after["egg_volume"].median > 1.01
    assert after["dry_mix_per_egg"].median == pytest.approx(1.0, abs=0.005)


def test_proposals_move_on_from_todays_set() -> None:
    """The plan was made with the priors; meanwhile the maker has a set of his own."""
    general = PRIORS.find("dry_mix_per_egg")
    mine = replace(general, about="Copper", mu=math.log(1.10), kappa=5.0, batches=4)
    today = PRIORS.with_factors([mine], name="mine", made_on=datetime(2026, 11, 1))
    (proposal,) = learn(MADE, [read("tub_used", times=1.10)], factors=today).proposals
    assert proposal.before == mine
    assert proposal.after.median == pytest.approx(1.10, abs=0.005)
    assert proposal.after.batches == 5


@pytest.mark.parametrize("times", [0.09, 11.0, 1000.0, 0.0, -1.0])
def test_a_slip_of_the_unit_is_refused(times: float) -> None:
    with pytest.raises(InputError, match=r"tub_used: got .* predicted\. Check the unit"):
        learn(MADE, [read("tub_used", times=times)], factors=PRIORS)


def test_a_new_set_stands_beside_the_old_one() -> None:
    lesson = learn(MADE, [read("tub_used", times=1.15)], factors=PRIORS)
    accepted = lesson.accepted(PRIORS, name="after one", made_on=datetime(2026, 11, 27))
    assert prior_factors() == PRIORS
    assert accepted.find("dry_mix_per_egg").median == 1.0
    assert accepted.find("dry_mix_per_egg", "Copper").median > 1.04
    assert accepted.find("drying") == PRIORS.find("drying")


def test_the_next_plan_is_sharper_and_nearer() -> None:
    reading = read("tub_used", times=1.12)
    lesson = learn(MADE, [reading], factors=PRIORS)
    accepted = lesson.accepted(PRIORS, name="after one", made_on=datetime(2026, 11, 27))
    again = plan(PlanRequest(RECIPE, SHELLS, accepted, DRAWS))
    before, after = band_of(MADE.tub_used), band_of(again.tub_used)
    assert before.median < after.median < reading.reading
    assert after.high80 - after.low80 < before.high80 - before.low80


@pytest.mark.parametrize("measured", [{"contents_mass": 0.160}, {"contents_volume": 160e-6}])
def test_measured_eggs_teach_their_grade(measured: dict[str, float]) -> None:
    bench = with_eggs(Eggs(EggKind.WHOLE, count=3, grade="EU L", **measured))
    made = planned(RECIPE, bench, draws=DRAWS)
    lesson = learn(made, measured_eggs(made), factors=PRIORS)
    (proposal,) = lesson.proposals
    assert (proposal.after.key, proposal.after.about) == ("egg_volume", "EU L")
    assert proposal.after.median < 1.0  # about 172 ml by the grade
    assert "by the grade EU L" in lesson.scores[0].label


def test_a_weighing_teaches_more_than_a_beaker() -> None:
    by_scale, by_beaker = (
        learn(made, measured_eggs(made), factors=PRIORS).proposals[0].share
        for made in (
            planned(RECIPE, with_eggs(Eggs(EggKind.WHOLE, count=3, grade="EU L", **kind)))
            for kind in ({"contents_mass": 0.165}, {"contents_volume": 160e-6})
        )
    )
    assert by_scale > by_beaker


@pytest.mark.parametrize(
    "eggs",
    [
        Eggs(EggKind.WHOLE, count=3, contents_mass=0.165),
        Eggs(EggKind.WHOLE, grade="EU L", contents_mass=0.165),
        Eggs(EggKind.WHOLE, count=3, grade="EU L"),
    ],
    ids=["no grade", "not counted", "not measured"],
)
def test_eggs_without_two_sides_teach_nothing(eggs: Eggs) -> None:
    made = planned(RECIPE, with_eggs(eggs))
    assert measured_eggs(made) == ()


def test_eggs_of_two_grades_teach_no_single_one() -> None:
    large = Eggs(EggKind.WHOLE, count=2, grade="EU L")
    one_grade, two_grades = (
        planned(RECIPE, with_eggs(large, Eggs(EggKind.WHOLE, count=1, grade=other)))
        for other in ("EU L", "EU M")
    )
    in_bowl = one_grade.readings[0]
    assert in_bowl.name == "egg_in_bowl"
    assert of_one_grade(in_bowl, one_grade).about == "EU L"
    assert of_one_grade(in_bowl, two_grades).about == ""
    assert of_one_grade(one_grade.readings[1], two_grades).about == "Copper"
