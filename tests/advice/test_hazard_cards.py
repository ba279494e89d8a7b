"""Every card is raised by what it is for, and by nothing else; a card without its example fails."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.advice.hazards import AtHand, Doing, allergens_here, cards_of, unknown_here
from baitwright.batch.cautions import take_care
from baitwright.materials.care import Sheet
from baitwright.materials.cautions import TRIGGERS, Caution, cautions
from baitwright.materials.countries import countries
from baitwright.materials.hazard_phrases import codes_in, hazard_phrases, triggers_of_sheet
from baitwright.materials.liquids import carrier
from baitwright.materials.powders import allergens, ingredient, ingredients
from baitwright.recipe.bench import Bench, FromFreezer, Frozen
from baitwright.recipe.eggs import EggKind, Eggs
from baitwright.recipe.finish import Coat, Glug
from baitwright.recipe.levels import read_level
from baitwright.recipe.liquid import Purpose
from baitwright.recipe.model import Filler, Recipe
from baitwright.recipe.rig import Piece, Rig
from tests.batch.kitchen import BENCH, CARAWAY, MALT, RECIPE, planned, with_eggs

Raised = Callable[[str], frozenset[str]]

CARTON = with_eggs(Eggs(EggKind.CARTON, contents_mass=0.15))
PLAIN = replace(RECIPE, liquids=(MALT,))


def _at_hand(*things: AtHand, doing: Doing | None = None) -> Raised:
    """Ids of the cards that things raise, where something is done with them, in a country."""
    doings = () if doing is None else (doing,)
    return lambda country: frozenset(
        one.caution.id for one in cards_of(things, doings=doings, country=country).cards
    )


def _batch(recipe: Recipe = PLAIN, bench: Bench = CARTON) -> Raised:
    """Ids of the cards of a batch."""
    made = planned()

    def cards(country: str) -> frozenset[str]:
        there = replace(bench, country=country)
        care = take_care(recipe, there, made.mix, bridge=made.doses.bridge)
        return frozenset(one.id for one in care.cautions)

    return cards


def _powder(name: str) -> Raised:
    return _at_hand(AtHand(name, ingredient(name)))


def _bottle(*hazards: str, flash: float | None = 400.0, kind: str = "water") -> Raised:
    return _at_hand(AtHand("Bottle", carrier=carrier(kind), sheet=Sheet(hazards, flash)))


def _with(purpose: Purpose) -> Raised:
    return _batch(replace(PLAIN, liquids=(replace(MALT, purpose=purpose),)))


_LOADED = replace(RECIPE.bait, fillers=(Filler("glass-bubbles", 0.05),))
_LEAD = Rig(stock=(Piece("AAA", 0.81e-3, "lead"),))
_MUCH = replace(CARAWAY, strength="essential oil", level=read_level("3 ml per egg of 50 ml", ""))
_GLUG = Glug("Malt", "glycerol", "quality", 6e-6, None, 3600.0)

FIRES: Mapping[str, Raised] = {
    "always": _at_hand(doing=Doing.MAKING),
    "dust": _at_hand(doing=Doing.MAKING),
    "hot-water": _at_hand(doing=Doing.MAKING),
    "small-parts": _at_hand(doing=Doing.MAKING),
    "moist-bait": _at_hand(doing=Doing.MAKING),
    "leftovers": _at_hand(doing=Doing.MAKING),
    "selling": _at_hand(doing=Doing.SELLING),
    "raw-egg": _batch(bench=BENCH),
    "frozen": _batch(bench=replace(CARTON, frozen=(FromFreezer(Frozen.PASTE),))),
    "coat": _batch(replace(PLAIN, coat=Coat("liver-powder", 0.03))),
    "glug": _batch(replace(PLAIN, glug=_GLUG)),
    "glass-dust": _batch(replace(PLAIN, bait=_LOADED)),
    "dye": _with(Purpose.DYE),
    "sweetener": _with(Purpose.SWEETENER),
    "preservative": _with(Purpose.PRESERVATIVE),
    "lead-shot": _batch(bench=replace(CARTON, rig=_LEAD)),
    "essential-oil-over-limit": _batch(replace(PLAIN, liquids=(_MUCH,))),
    "acid": _batch(replace(PLAIN, liquids=(replace(MALT, strength="acid"),))),
    "sensitiser": _powder("semolina"),
    "allergens": _powder("fishmeal-65"),
    "nuts": _powder("almonds-ground"),
    "pets": _powder("cocoa"),
    "pets-theobromine": _powder("cocoa"),
    "pets-garlic": _powder("garlic-powder"),
    "pets-salt": _powder("salt"),
    "pets-caffeine": _at_hand(AtHand("Coffee, ground")),
    "pets-xylitol": _at_hand(AtHand("Xylitol syrup")),
    "enzyme": _at_hand(AtHand("Papain powder")),
    "aflatoxin": _powder("maize-meal-fine"),
    "particles": _powder("hemp-seed-crushed"),
    "raw-pulses": _powder("chickpea-flour"),
    "neat-essential-oil": _bottle(kind="essential-oil"),
    "flash-point-below-60C": _bottle(flash=273.15 + 60.0),
    "flash-point-60-to-93C": _bottle(flash=273.15 + 60.1),
    "liquid": _bottle("H317"),
    "no-sheet": _bottle(),
    "corrosive": _bottle("H314"),
    "skin-irritant": _bottle("H315"),
    "eye-hazard": _bottle("H319"),
    "skin-sensitiser": _bottle("H317"),
    "breath-sensitiser": _bottle("H334"),
    "harmful-swallowed": _bottle("H302"),
    "harmful-through-skin": _bottle("H312"),
    "harmful-breathed": _bottle("H336"),
    "aspiration": _bottle("H304"),
    "lasting-harm": _bottle("H361d"),
    "water-life": _bottle("H411"),
    "other-hazard": _bottle("H271"),
}
HARMLESS: Raised = _at_hand(AtHand("Honey", ingredient("honey")))


def _country_of(row: Caution) -> str:
    named = row.country.partition(";")[0].strip()
    return "CA" if named == "any" else named


def test_every_trigger_has_its_example_and_no_other() -> None:
    assert set(FIRES) == set(TRIGGERS)


@pytest.mark.parametrize("row", cautions().values(), ids=lambda row: row.id)
def test_a_card_is_raised_by_its_example_and_not_without_it(row: Caution) -> None:
    here = _country_of(row)
    assert row.id in FIRES[row.trigger](here)
    assert row.id not in HARMLESS(here)
    assert row.id not in _at_hand()(here)


@pytest.mark.parametrize(
    "row", [one for one in cautions().values() if one.place], ids=lambda row: row.id
)
def test_a_card_of_one_country_is_not_told_in_another_and_told_where_none_is_known(
    row: Caution,
) -> None:
    fires = FIRES[row.trigger]
    elsewhere = next(
        one for one in ("CA", "US", "GB", "FR") if not row.holds_in(one) and one != row.country
    )
    assert row.id not in fires(elsewhere)
    assert row.id in fires("")
    assert row.id in fires("JP")  # no rules of it are here


def test_an_unknown_country_is_told_in_words() -> None:
    flour = (AtHand("Flour", ingredient("semolina")),)
    assert "No country was told" in cards_of(flour).country
    assert "No rules of JP" in cards_of(flour, country="JP").country
    assert cards_of(flour, country="GB").country == ""


def test_a_union_and_a_part_are_told_with_the_country() -> None:
    danish = FIRES["lead-shot"]("DK") | FIRES["selling"]("DK")
    assert {"lead-denmark", "sell-feed", "sell-poison"} <= danish
    assert "sell-weight-gb" not in danish
    assert "fish-licence" in FIRES["always"]("GB")  # England's
    assert countries()["England"].within == ("GB",)


@pytest.mark.parametrize("phrase", hazard_phrases())
def test_every_phrase_raises_a_card(phrase: str) -> None:
    assert triggers_of_sheet((phrase,)) == {hazard_phrases()[phrase].trigger}
    assert hazard_phrases()[phrase].trigger in TRIGGERS


def test_codes_that_end_in_letters_or_come_together() -> None:
    assert list(codes_in(("H360FD", "H300+H310", "P305+P351", "EUH208"))) == [
        *("H360", "H300", "H310", "EUH208")
    ]


def test_the_sheets_flash_point_stands_over_the_carriers() -> None:
    ethanol, oil = "ethanol", "essential-oil"
    assert "flash-point" in _bottle(flash=None, kind=ethanol)("CA")
    assert "flash-point" not in _bottle(flash=340.0, kind=oil)("CA")
    assert "flash-point" in _bottle("H226", flash=340.0, kind=oil)("CA")  # a phrase only adds


def test_a_card_names_what_raised_it() -> None:
    things = (
        AtHand("Oil", carrier=carrier("water"), sheet=Sheet(("H304",))),
        AtHand("Malt", carrier=carrier("water"), sheet=Sheet(("H317",))),
        AtHand("Clove", carrier=carrier("water"), sheet=Sheet(("H317", "H304"))),
    )
    because = {one.caution.id: one.because for one in cards_of(things, country="CA").cards}
    assert because["aspiration"] == ("Oil", "Clove")
    assert because["skin-allergy"] == ("Malt", "Clove")


def test_allergens_of_all_that_is_here() -> None:
    things = (
        AtHand("Yeast", ingredient("brewers-yeast")),
        AtHand("Fish", ingredient("fishmeal-65")),
        AtHand("Own meal", named=("mustard",)),
        AtHand("Something", is_known=False),
    )
    found = {one.group.id: one for one in allergens_here(things)}
    assert list(found) == list(allergens())
    assert found["fish"].holding == ("Fish",)
    assert found["mustard"].holding == ("Own meal",)
    assert (found["cereals-with-gluten"].holding, found["cereals-with-gluten"].perhaps) == (
        (),
        ("Yeast",),
    )
    assert found["lupin"].holding == ()
    assert list(unknown_here(things)) == ["Something"]


_THINGS = st.one_of(
    st.sampled_from(sorted(ingredients())).map(lambda name: AtHand(name, ingredient(name))),
    st.builds(
        lambda codes, flash, kind: AtHand(
            "Bottle", carrier=carrier(kind), sheet=Sheet(tuple(codes), flash)
        ),
        st.lists(st.sampled_from(sorted(hazard_phrases())), max_size=4),
        st.one_of(st.none(), st.floats(250.0, 450.0)),
        st.sampled_from(["water", "ethanol", "essential-oil", "glycerol"]),
    ),
)


@given(
    st.lists(_THINGS, max_size=6), _THINGS, st.sampled_from(["", "GB", "DE", "US", "JP", "England"])
)
def test_a_card_never_goes_when_something_is_added(
    things: list[AtHand], added: AtHand, country: str
) -> None:
    before = {one.caution.id: one.because for one in cards_of(things, country=country).cards}
    after = {
        one.caution.id: one.because for one in cards_of([*things, added], country=country).cards
    }
    assert before.keys() <= after.keys()
    assert all(set(because) <= set(after[card]) for card, because in before.items())
