"""The quick answer: its words in, its figures out, and its closed form held against the draws."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.batch.plan import PlanRequest, plan
from baitwright.materials.eggs import egg_part, grade
from baitwright.materials.factors import prior_factors
from baitwright.recipe.levels import read_level
from baitwright.terms.errors import InputError
from baitwright.uncertainty.bands import median_of
from baitwright.uncertainty.draws import Draws
from baitwright.uncertainty.spreads import Normal, Uniform
from baitwright.workshop.levels.level_advice import of_other_makers
from baitwright.workshop.levels.levels import Answer, Levels, levels
from baitwright.workshop.levels.levels_json import levels_as_json
from baitwright.workshop.levels.levels_request import Asked, understand
from baitwright.workshop.levels.levels_together import together, together_lines
from baitwright.workshop.levels.levels_words import levels_text
from baitwright.workshop.recipe_files.liquid_table import RecipeLiquidTable, as_liquid
from baitwright.workshop.typed.eggs_text import parse_eggs
from tests.batch.kitchen import BENCH, RECIPE

ML = 1e-6


def asked(*texts: str, eggs: str = "3 x 40 ml", **more: Any) -> Levels:
    return levels(understand(Asked(texts, eggs, **more)))


def one(text: str, **more: Any) -> Answer:
    return asked(text, **more).answers[0]


@pytest.mark.parametrize(
    ("text", "count", "volume_ml"),
    [
        ("3 x 40 ml", 3, 120.0),
        ("3x40ml", 3, 120.0),
        ("3 × 40 ml", 3, 120.0),
        ("40 ml", 1, 40.0),
        ("120 ml", 2.4, 120.0),
        ("3 x 57 g in the bowl", 3, 171 / 1.03),
        ("171 g out of the shell", 171 / 1.03 / 50, 171 / 1.03),
        ("3 x EU L", 3, (3 * 68 * 0.885 - 3 * 1.3) / 1.03),
        ("3 EU L", 3, (3 * 68 * 0.885 - 3 * 1.3) / 1.03),
        ("EU L", 1, (68 * 0.885 - 1.3) / 1.03),
        ("195 g in the shell", 3, (195 * 0.885 - 3 * 1.3) / 1.03),
        ("3 x 65 g in their shells", 3, (195 * 0.885 - 3 * 1.3) / 1.03),
        ("2 x 40 ml + 1 x 55 ml", 3, 135.0),
        ("90 ml of white", 1.8, 90.0),
        ("4 x EU L of white", 4, (4 * 68 * 0.885 - 4 * 1.3) / 1.033 * 0.66),
        ("4 x EU L of yolk", 4, (4 * 68 * 0.885 - 4 * 1.3) / 1.035 * 0.34),
    ],
)
def test_eggs_as_makers_say_them(text: str, count: float, volume_ml: float) -> None:
    bowl = asked("1 ml per egg of 50 ml", eggs=text).bowl
    assert bowl.count == pytest.approx(count)
    assert bowl.volume.value == pytest.approx(volume_ml * ML, rel=1e-9)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "it takes eggs such as"),
        ("+ 3 x 40 ml", "it takes eggs such as"),
        ("171 g", "Weighed how?"),
        ("3 x L", "write '3 x EU L', or '3 l' for litres"),
        ("3 L", "A grade without its country: write '3 x EU L'"),
        ("3L", "write '3 x EU L'"),
        ("3 M", "write '3 x EU M'."),
        ("2 XL", "write '2 x EU XL'."),
        ("3 x 40 ml + 1 S", "write '1 x EU S'."),
        ("3 L of white", "write '3 x EU L'"),
        ("0 x EU L", "1 to 10000 eggs"),
        ("3 x -40 ml", "more than nothing"),
        ("3 x 0 ml", "more than nothing"),
        ("3 x 400 ml", "5 to 150 ml of one egg"),
        ("3 x 2 fl oz", "UK fl oz"),
        ("3 x 40 mm", "the unit 'mm'"),
        ("500 l", "at most 100"),
        ("1 x EU L of carton", "does not come in shells"),
        ("90 ml of tea", "such as white"),
        ("some", "a system and a grade"),
    ],
)
def test_eggs_that_cannot_be(text: str, says: str) -> None:
    with pytest.raises(InputError) as error:
        asked("1 ml per egg of 50 ml", eggs=text)
    assert says in str(error.value)


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"dry_mix": "86"}, "a weight such as"),
        ({"dry_mix": "-86 g"}, "12 to 200 g for an egg of 40 ml"),
        ({"dry_mix": "860 g"}, "12 to 200 g for an egg of 40 ml"),
        ({"dry_mix": "86 ml per egg of 50 ml"}, "a weight per egg"),
        ({"dry_mix": "86 g per kg paste"}, "a weight per egg"),
        ({"carriers": ("beer",)}, "propylene-glycol, ethanol"),
        ({"carriers": ("water", "ethanol")}, "one for all levels, or 1"),
        ({"strengths": ("mighty",)}, "quality"),
        ({"syringes": "3 ml"}, "a size of 1 ml"),
        ({"syringes": "-1 ml"}, "sizes such as"),
        ({"drops_per_ml": math.nan}, "5 to 200"),
        ({"drops_per_ml": 0.0}, "5 to 200"),
    ],
)
def test_questions_that_cannot_be(more: dict[str, Any], says: str) -> None:
    with pytest.raises(InputError) as error:
        one("1 ml per egg of 50 ml", **more)
    assert says in str(error.value)


def test_a_drop_is_no_unit_until_its_bottle_is_calibrated() -> None:
    with pytest.raises(InputError, match="A drop is not a unit"):
        one("4 drops per egg of 50 ml")
    counted = one("4 drops per egg of 50 ml", drops_per_ml=25.0).dose
    assert counted.middle == pytest.approx(3 * 4 * 40 / 50)
    assert counted.volume == pytest.approx(counted.middle / 25 * ML)


def test_no_egg_and_no_level() -> None:
    with pytest.raises(InputError, match="eggs: got nothing"):
        understand(Asked(("1 ml per egg of 50 ml",), None))
    with pytest.raises(InputError, match="levels: got nothing"):
        understand(Asked((), "3 x 40 ml"))


@given(st.floats(0.05, 5.0), st.floats(25.0, 75.0), st.integers(1, 40))
def test_twice_the_eggs_twice_the_dose(amount: float, egg: float, count: int) -> None:
    level = f"{amount} ml per egg of 50 ml"
    single, double = (one(level, eggs=f"{n} x {egg} ml").dose for n in (count, 2 * count))
    assert double.middle == pytest.approx(2 * single.middle, rel=1e-12)
    assert single.middle == pytest.approx(amount * ML * count * egg / 50, rel=1e-9)


@given(st.floats(0.1, 20.0), st.floats(40.0, 90.0))
def test_every_basis_gives_the_dose_back(amount: float, dry_mix: float) -> None:
    """A level read off one row of the answer and asked again comes to the same dose."""
    how = {"dry_mix": f"{dry_mix} g per egg", "eggs": "2 x 50 ml"}
    first = one(f"{amount} ml per egg of 50 ml", **how)
    for basis in first.bases:
        if basis.unit == "%" or "of these" in basis.per:
            continue
        again = one(f"{basis.low / ML!r} ml {basis.per}", **how)
        assert again.dose.middle == pytest.approx(first.dose.middle, rel=1e-9), basis.per


def test_dry_mix_unknown_is_a_shown_range() -> None:
    found = asked("12 ml per kg dry mix", eggs="3 x 50 ml")
    dose = found.answers[0].dose
    assert (dose.low, dose.high) == pytest.approx((3 * 12 * 0.070 * ML, 3 * 12 * 0.095 * ML))
    assert dose.middle == pytest.approx(3 * 12 * 0.0825 * ML)
    assert "70 to 95 g an egg (common practice, no source)" in levels_text(found)


def test_dry_mix_given_for_another_egg_follows_the_ml() -> None:
    here, elsewhere = (
        asked("1 ml per kg dry mix", dry_mix=text).bridges.middle.dry_mix
        for text in ("68.8 g per egg", "86 g per egg of 50 ml")
    )
    assert here == pytest.approx(elsewhere)


def test_a_share_of_the_paste_counts_itself_in() -> None:
    """8 g in every kg of paste, the liquid's own weight included."""
    found = asked("0.8 % of paste", "1 ml per egg of 50 ml", dry_mix="75 g per egg")
    bridge, dose = found.bridges.middle, found.answers[0].dose
    other = found.answers[1].dose
    paste = 3 * (bridge.egg_mass + 0.075) + dose.mass + other.mass
    assert dose.mass / paste == pytest.approx(0.008, rel=1e-12)
    assert found.share == pytest.approx((dose.mass + other.mass) / paste, rel=1e-12)


def test_half_a_paste_of_liquid_is_refused() -> None:
    with pytest.raises(InputError, match="less than half of the paste"):
        asked("30 % of paste", "25 % of paste")


def test_thick_extracts_by_weight_and_spoon() -> None:
    dose = one(
        "1/2 tsp per egg of 50 ml",
        eggs="1 x 50 ml",
        carriers=("thick extract",),
        strengths=("thick extract",),
    ).dose
    assert dose.fill is None
    assert dose.mass == pytest.approx(2.5e-6 * 1250)
    assert dose.spoons is not None
    assert dose.spoons.spoon.id == "half-teaspoon"


def test_a_spoon_is_said_with_its_band() -> None:
    text = levels_text(
        asked("1/2 tsp per egg of 50 ml", eggs="1 x 50 ml", strengths=("thick extract",))
    )
    assert "weigh     2.5 g\n  or spoon  1 level half teaspoon (2 to 3.1 ml)" in text


def test_carriers_and_strengths_one_for_each() -> None:
    found = asked(
        "1 ml per egg of 50 ml",
        "0.1 ml per kg dry mix",
        carriers=("ethanol", "essential oil"),
        strengths=("weak", "concentrated"),
        dry_mix="86 g per egg",
    )
    assert [one.carrier.id for one in found.answers] == ["ethanol", "essential-oil"]
    assert [one.liquid.strength for one in found.answers] == ["weak", "concentrated"]
    text = levels_text(found)
    assert "Dry mix: 86 g an egg, as you say." in text
    assert "of a carrier it stays clear in" in text


def test_the_shelf_is_what_is_on_it() -> None:
    fill = one("1 ml per egg of 50 ml", syringes="10 ml, 20 ml").dose.fill
    assert fill is not None
    assert fill.tool.id == "syringe-10"


def test_the_table_is_the_dose_for_so_many() -> None:
    answer = one("0.2 ml per egg of 50 ml")
    assert [row.eggs for row in answer.table] == list(range(1, 13))
    assert [row.dose for row in answer.table] == pytest.approx(
        [n * 0.16 * ML for n in range(1, 13)]
    )
    assert answer.table[2].fill == answer.dose.fill


LEVEL_TEXTS = ("0.8 ml per egg of 50 ml", "6 ml per 500 g egg", "12 ml per kg dry mix")


@pytest.mark.parametrize("eggs", ["3 x 40 ml", "3 x EU L", "3 x 65 g in the shell"])
@pytest.mark.parametrize("text", [*LEVEL_TEXTS, "9 ml per kg paste"])
def test_the_closed_form_is_what_the_draws_give(text: str, eggs: str) -> None:
    """Mean and standard error of the strength, by GUM and by 200,000 draws, within 2 %."""
    found = asked(text, eggs=eggs)
    drawn = _strength_by_draws(found, eggs, text)
    closed = found.answers[0].dose.strength
    assert np.mean(drawn) == pytest.approx(closed.value, rel=0.02)
    assert np.std(drawn) == pytest.approx(closed.u, rel=0.02)


def _strength_by_draws(found: Levels, eggs: str, text: str) -> Any:
    draws = Draws(batches=200_000)
    fill = found.answers[0].dose.fill
    assert fill is not None
    error = math.sqrt(3.0) * fill.u
    drawn = draws.per_batch("fill", Uniform(fill.volume - error, fill.volume + error)).values
    volume = _egg_by_draws(draws, eggs)
    low, high = found.bridges.low.dry_mix, found.bridges.high.dry_mix
    dry = draws.per_batch("dry", Uniform(low, high)).values
    mass = volume * 1030.0
    liquids = 3 * found.bridges.middle.other_liquids
    reference = {
        "ml of egg": volume,
        "weight of egg": mass,
        "dry mix": 3 * dry,
        "paste": mass + 3 * dry + liquids,
    }
    return drawn / reference[str(read_level(text, "level").reference)]


def _egg_by_draws(draws: Draws, eggs: str) -> Any:
    if eggs == "3 x 40 ml":
        return draws.per_batch("beaker", Uniform(0.95 * 120e-6, 1.05 * 120e-6)).values
    shells: Any = 0.195
    if eggs == "3 x EU L":
        row = grade("EU L")
        each = [draws.per_batch(f"egg {n}", Uniform(row.low, row.high)).values for n in range(3)]
        shells = sum(each)
    share, residue = (egg_part(name) for name in ("shell_share", "residue"))
    share_drawn = draws.per_batch("share", Normal(share.value, share.spread)).values
    residue_drawn = draws.per_batch("residue", Normal(residue.value, residue.spread)).values
    prior = prior_factors().find("egg_volume")
    factor = draws.student_log("factor", mu=prior.mu, scale=prior.scale, nu=prior.nu).values
    return (shells * (1 - share_drawn) - 3 * residue_drawn) / 1030.0 * factor


@pytest.mark.parametrize("eggs", ["3 x EU L", "3 x 65 g in the shell", "3 x 55 g in the bowl"])
def test_the_quick_bowl_is_the_plans_bowl(eggs: str) -> None:
    """The two ways to the ml of egg agree within the sampling of the plan's draws."""
    bench = replace(BENCH, eggs=parse_eggs(eggs, "eggs"))
    made = plan(PlanRequest(RECIPE, bench, prior_factors(), Draws(batches=256)))
    quick = asked("0.8 ml per egg of 50 ml", eggs=eggs)
    assert quick.bowl.volume.value == pytest.approx(median_of(made.eggs.volume), rel=0.005)
    assert quick.answers[0].dose.middle == pytest.approx(
        median_of(made.doses.doses[0].volume), rel=0.005
    )


def test_what_the_text_says() -> None:
    text = levels_text(asked("Malt: 0.2 ml per egg of 50 ml", "1 ml per egg of 50 ml"), table=True)
    assert "Eggs: 120 ml in the bowl, give or take 5.8 % (3 of 40 ml)." in text
    assert "Malt: 0.2 ml per egg of 50 ml\n  dose      0.48 ml in all, 0.16 ml an egg\n" in text
    assert "draw to   0.48 ml in the 1 ml syringe, within 5.2 %" in text
    assert "0.16 ml per egg of these (40 ml)" in text
    assert "within the usual 0.16 to 0.8 ml an egg for a quality one in a hookbait" in text
    assert "in a hookbait (common practice, no source)" in text
    assert "judged    within the usual" in text
    assert "Taken as a quality one, not stated (our own judgement)" in text
    assert "carrier   taken as one of 1 g/ml, not stated (our own judgement)" in text
    assert "strength  within 8.3 % in 19 batches of 20" in text
    assert "All liquids: 2.88 ml, 0.96 ml an egg" in text
    assert "      12     1.92 ml   1.9 ml in the 2 ml syringe" in text


def test_a_small_dose_is_offered_a_blend() -> None:
    text = levels_text(
        asked("0.2 ml per egg of 50 ml", eggs="1 x 40 ml", carriers=("propylene glycol",))
    )
    assert "carrier   propylene glycol. Keeps paste soft" in text
    assert "or blend  1 part to 19 of propylene glycol, with a lot and a date" in text


@pytest.mark.parametrize(
    ("text", "bound"),
    [
        ("60 ml per egg of 50 ml", "0.00005 to less than 50 ml for 50 ml of egg"),
        ("1e-9 ml per egg of 50 ml", "0.00005 to less than 50 ml for 50 ml of egg"),
        ("3 kg per kg dry mix", "0.001 to less than 1000 g for 1 kg of dry mix"),
        ("60 % of paste", "0.001 to less than 500 g for 1 kg of paste"),
        ("600 g per 500 g egg", "0.0005 to less than 500 g for 500 g of egg"),
    ],
)
def test_a_level_beyond_sense_is_refused_with_its_bounds(text: str, bound: str) -> None:
    with pytest.raises(InputError) as error:
        one(text)
    assert bound in str(error.value)
    assert error.value.got == text


def test_drops_beyond_sense_are_bounded_in_drops() -> None:
    with pytest.raises(InputError, match="to less than 1250 drops for 50 ml of egg"):
        one("2000 drops per egg of 50 ml", drops_per_ml=25.0)


def test_spoons_are_metric_unless_the_question_is_of_another_country() -> None:
    def spoon(text: str, eggs: str) -> str:
        found = one(text, eggs=eggs, strengths=("thick extract",)).dose.spoons
        assert found is not None
        return found.spoon.id

    assert spoon("4.93 ml per egg of 50 ml", "1 x 50 ml") == "teaspoon"
    assert spoon("1/6 US fl oz per egg of 50 ml", "1 x 50 ml") == "teaspoon-us"
    with_grades = understand(Asked(("1 ml per egg of 50 ml",), "2 x US Large"))
    assert with_grades.country == "US"


@pytest.mark.parametrize("carrier", ["", "essential oil", "acid", "water", "thick extract"])
def test_what_is_not_stated_is_taken_as_the_plan_takes_it(carrier: str) -> None:
    line = {"name": "A", "level": "1 ml per egg of 50 ml"} | (
        {"carrier": carrier} if carrier else {}
    )
    filed = as_liquid(RecipeLiquidTable.model_validate(line), "liquid[1]")
    asked_for = one(line["level"], carriers=(carrier,) if carrier else ()).liquid
    for name in ("carrier", "strength", "thick", "strength_assumed"):
        assert getattr(filed, name) == getattr(asked_for, name)


@pytest.mark.parametrize(
    ("level", "strength", "use", "says"),
    [
        ("4 ml per egg of 50 ml", "quality", "hookbait", "above the usual"),
        ("4 ml per egg of 50 ml", "weak", "hookbait", "within the usual"),
        ("0.8 ml per egg of 50 ml", "quality", "free bait", "above the usual"),
        ("4 drops per kg dry mix", "essential oil", "hookbait", "within the usual"),
        ("2 g per egg of 50 ml", "quality", "hookbait", "0.2 to 1 ml per egg of 50 ml"),
    ],
)
def test_judged_by_strength_and_use(level: str, strength: str, use: str, says: str) -> None:
    found = asked(level, strengths=(strength,), use=use, drops_per_ml=25.0)
    judged = next(line for line in levels_text(found).splitlines() if "judged" in line)
    assert says in judged


def test_the_same_for_programs() -> None:
    data = levels_as_json(asked("0.2 ml per egg of 50 ml", eggs="2 x 50 ml"))
    (answer,) = data["levels"]
    assert data["eggs"]["volume_ml"] == pytest.approx(100.0)
    assert data["dry_mix_per_egg"]["evidence"] == "practice"
    assert answer["dose"]["middle"] == pytest.approx(0.4)
    assert answer["fill"]["tool"] == "syringe-1"
    assert answer["bases"][0] == {
        "per": "per egg of 50 ml",
        "unit": "ml",
        "low": pytest.approx(0.2),
        "high": pytest.approx(0.2),
        "alike": [{"unit": "g", "low": pytest.approx(0.156), "high": pytest.approx(0.252)}],
    }
    assert len(answer["table"]) == 12


def test_drops_stay_drops_for_programs() -> None:
    (answer,) = levels_as_json(asked("4 drops per egg of 40 ml", drops_per_ml=25.0))["levels"]
    assert answer["unit"] == "drops"
    assert answer["dose"]["middle"] == pytest.approx(12.0)
    assert answer["dose"]["volume_ml"] == pytest.approx(0.48)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("5 ml", "Per what? For an egg of 50 ml it could be 0.35 to 5 ml."),
        ("5 g", "it could be 0.35 to 5 g."),
        ("4 drops", "it could be 0.28 to 4 drops."),
        ("3 ml per egg", "with eggs of 37 to 67 ml it could be 2.2 to 4 ml for 50 ml of egg."),
        ("1 oz per lb dry mix", "'oz weight' (28.3 g), 'UK fl oz' (28.4 ml) or 'US fl oz' (29.6"),
        ("1 oz", "'US fl oz' (29.6 ml)"),
        ("4 drops per egg of 50 ml", "Uncounted, '4 drops' may be 0.056 to 0.28 ml."),
        ("5 cats", "The amount takes ml, g, tsp or drops."),
        ("a bit", "It names no basis"),
    ],
)
def test_what_is_missing_is_asked_back_with_its_range(text: str, says: str) -> None:
    with pytest.raises(InputError, match=re.escape(says)) as error:
        one(text)
    assert str(error.value).startswith(("level: got", "liquid"))
    assert "\n" not in str(error.value)


def test_uncounted_drops_are_those_of_their_carrier() -> None:
    with pytest.raises(InputError, match=r"may be 0\.06 to 0\.128 ml"):
        one("4 drops per egg of 50 ml", carriers=("essential oil",))


def test_the_same_by_volume_by_weight_and_in_counted_drops() -> None:
    found = one("2 ml per 50 ml egg", carriers=("glycerol",), drops_per_ml=30.0)
    alike = {one.unit: one.low for one in found.bases[0].alike}
    assert alike == {"g": pytest.approx(2e-6 * 1261), "drops": pytest.approx(60.0)}
    back = one(f"{1e3 * alike['g']} g per 50 ml egg", carriers=("glycerol",))
    assert back.bases[0].alike[0].low == pytest.approx(2e-6, rel=1e-12)
    assert back.bases[0].alike[0].unit == "ml"


_MEASURES = {"ml": 1e6, "g": 1e3, "drops": 1.0}


@given(
    st.floats(0.1, 4.0), st.sampled_from(list(_MEASURES)), st.sampled_from(["", " dry mix", " egg"])
)
def test_the_answer_is_the_same_on_whatever_basis_it_is_asked(
    amount: float, unit: str, what: str
) -> None:
    more: dict[str, Any] = {
        "eggs": "3 x 45 ml",
        "dry_mix": "80 g per egg",
        "carriers": ("glycerol",),
        "drops_per_ml": 30.0,
    }
    basis = f"per kg{what or ' paste'}"
    first = one(f"{amount!r} {unit} {basis}", **more)
    for told in first.bases:
        units = [(told.unit, told.low), *((other.unit, other.low) for other in told.alike)]
        for name, value in units:
            per = told.per.replace("of these (45 ml)", "of 45 ml")
            scale = 100.0 if name == "%" else _MEASURES[name]
            again = one(f"{value * scale!r} {name} {per}", **more)
            assert again.dose.volume == pytest.approx(first.dose.volume, rel=1e-12)
            assert again.dose.mass == pytest.approx(first.dose.mass, rel=1e-12)
            assert again.usual == pytest.approx(first.usual, rel=1e-12)


def test_drops_are_those_of_the_bottle_they_were_counted_from() -> None:
    found = asked("2 ml per 50 ml egg", "4 drops per 50 ml egg", drops_per_ml=30.0)
    assert [one.unit for one in found.answers[0].bases[0].alike] == ["g"]
    assert [one.unit for one in found.answers[1].bases[0].alike] == ["ml", "g"]


def test_two_in_one_bait_share_its_room() -> None:
    found = asked(
        "Malt: 0.8 ml per egg of 50 ml",
        "Plum: 0.4 ml per egg of 50 ml",
        "Butter: 1 ml per kg dry mix",
        carriers=("propylene glycol", "propylene glycol", "acid"),
        dry_mix="80 g per egg",
    )
    made = together(found)
    volumes = {row.id: volume for row, volume in made.carriers}
    assert volumes["propylene-glycol"] == pytest.approx(3 * 1.2 * 40 / 50 * ML)
    assert math.fsum(volumes.values()) == pytest.approx(found.liquids, rel=1e-12)
    assert [share for _, share in made.filled] == pytest.approx([0.8, 0.4, 0.5])
    assert made.strongest.liquid.name == "Malt"
    text = levels_text(found)
    assert "Malt 80 %, Plum 40 %, Butter 50 %; together 170 %. Malt meets its own first." in text
    assert "At 59 % of these levels" in text
    assert "at most 2.88 ml of propylene glycol, 0.24 ml of organic acid" in text


def test_a_limit_that_makers_hold_is_named() -> None:
    found = asked("A: 0.1 ml per 50 ml egg", "B: 2 ml per kg dry mix", carriers=("water", "acid"))
    assert "B meets its own first, which makers hold for a limit." in levels_text(found)
    assert not list(together_lines(asked("1 ml per 50 ml egg")))


@pytest.mark.parametrize(
    ("level", "strength", "says"),
    [
        ("4.5", "quality", "4.5 ml an egg is nearly all propylene glycol"),
        ("4.5", "quality", "right only for a weak flavour"),
        ("4.5", "weak", "as weak flavours do"),
        ("3", "normal", "right only for a weak flavour"),
        ("2.9", "normal", ""),
        ("5", "hydrolysate", ""),
    ],
)
def test_a_level_that_is_mostly_carrier_is_flagged(level: str, strength: str, says: str) -> None:
    text = levels_text(
        asked(
            f"{level} ml per egg of 50 ml",
            eggs="3 x 50 ml",
            carriers=("propylene glycol",),
            strengths=(strength,),
        )
    )
    assert ("flagged" in text) is bool(says)
    assert says in text


def test_the_other_use_beside_it() -> None:
    text = levels_text(asked("0.8 ml per egg of 50 ml"))
    assert "free bait 0.4 ml per egg of 50 ml; makers take 33 to 67 % of the hookbait's" in text
    text = levels_text(asked("0.4 ml per egg of 50 ml", use="free bait"))
    assert "hookbait  0.8 ml per egg of 50 ml; makers take 1.5 to 3 times" in text


def test_other_makers_strengths_are_an_assumption() -> None:
    """Ratios of the middles of the usual ranges: sqrt(8 x 16) to sqrt(2 x 4) is four to one."""
    found = asked("12 ml per kg dry mix", strengths=("normal",))
    answer = found.answers[0]
    others = dict(of_other_makers(answer, found))
    assert others["concentrated"] == pytest.approx(answer.dose.volume / 3 / 4)
    assert "of a concentrated one" in levels_text(found)
    assert "(assumed from what is usual of each; judgement)" in levels_text(found)
    assert not of_other_makers(one("2 ml per kg dry mix", carriers=("acid",)), found)


def test_cold_water_asks_for_a_carrier_that_mixes() -> None:
    oil = levels_text(asked("0.8 ml per egg of 50 ml", carriers=("vegetable oil",)))
    assert "cold water thickens it further. In cold water a carrier that mixes with water" in oil
    glycol = levels_text(asked("0.8 ml per egg of 50 ml", carriers=("propylene glycol",)))
    assert "In cold water a carrier" not in glycol
