"""Each rule of a water, kept, broken and not known; nothing is ever left out in silence."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.advice.venue_rules import (
    Finding,
    Session,
    Verdict,
    WaterRules,
    broken,
    check,
)

RULES = WaterRules(
    name="Long Reedpool",
    nuts="banned",
    particles="prepared only",
    banned=("fishmeal", "glugs"),
    free_bait_most=3.0,
    floating_baits="hookbaits only",
    lead="banned",
    barbed_hooks="banned",
    rigs="the lead must come off",
    rods_most=2,
    night_fishing="by permit",
    permit="season ticket",
    permit_until=date(2027, 3, 14),
    biosecurity="dip nets",
)
SESSION = Session(
    what="Copper wafter",
    nuts=(),
    particles=(),
    holds=("wafter hookbait", "semolina (cereal binder)", "Malt (flavour)"),
    free_bait=(1.9, 2.0, 2.1),
    floats=False,
    lead=False,
    rods=2,
    night=False,
    day=date(2026, 11, 28),
)


def verdicts(rules: WaterRules = RULES, session: Session = SESSION) -> dict[str, Verdict]:
    found: dict[str, Verdict] = {}
    for one in check(rules, session):
        found.setdefault(one.about, one.verdict)  # the worst comes first
    return found


def test_a_session_that_keeps_the_rules() -> None:
    found = verdicts()
    assert not broken(check(RULES, SESSION))
    only_eyes = {"barbed hooks", "rigs", "biosecurity"}
    assert {about for about, one in found.items() if one is Verdict.LOOK} == only_eyes
    assert {one for about, one in found.items() if about not in only_eyes} == {Verdict.KEEPS}


@pytest.mark.parametrize(
    ("about", "told"),
    [
        ("nuts", {"nuts": ("peanut meal",)}),
        ("baits", {"holds": ("fishmeal 65 (marine meal)",)}),
        ("baits", {"holds": ("Malt (glug)",)}),
        ("free bait", {"free_bait": (3.2, 3.4, 3.6)}),
        ("lead", {"lead": True}),
        ("rods", {"rods": 3}),
        ("permit", {"day": date(2027, 3, 15)}),
    ],
)
def test_what_breaks_a_rule(about: str, told: dict[str, object]) -> None:
    broke = [one for one in check(RULES, replace(SESSION, **told)) if one.verdict == "breaks"]
    assert [one.about for one in broke] == [about]
    assert broke[0].rule
    assert broke[0].found
    assert verdicts()[about] is Verdict.KEEPS


@pytest.mark.parametrize(
    ("about", "rule", "told"),
    [
        ("particles", {"particles": "banned"}, {"particles": ("hemp seed",)}),
        ("particles", {"particles": "the fishery's own only"}, {"particles": ("hemp seed",)}),
        ("nuts", {"nuts": "the fishery's own only"}, {"nuts": ("almonds",)}),
        ("floating baits", {"floating_baits": "banned"}, {"floats": True}),
        ("night fishing", {"night_fishing": "banned"}, {"night": True}),
    ],
)
def test_what_breaks_a_stricter_rule(
    about: str, rule: dict[str, object], told: dict[str, object]
) -> None:
    strict = replace(RULES, **rule)
    assert verdicts(strict, replace(SESSION, **told))[about] is Verdict.BREAKS
    assert verdicts(strict)[about] is Verdict.KEEPS
    allowed = replace(RULES, **dict.fromkeys(rule, "allowed"))
    assert verdicts(allowed, replace(SESSION, **told))[about] is Verdict.KEEPS


@pytest.mark.parametrize(
    ("about", "told"),
    [
        ("particles", {"particles": ("hemp seed",)}),
        ("nuts", {"perhaps_nuts": ("egg biscuit",)}),
        ("nuts", {"untold": ("Bought mix",)}),
        ("baits", {"untold": ("Bought mix",)}),
        ("night fishing", {"night": True}),
        ("nuts", {"nuts": None}),
        ("free bait", {"free_bait": None}),
        ("lead", {"lead": None}),
    ],
)
def test_what_only_the_angler_can_see(about: str, told: dict[str, object]) -> None:
    assert verdicts(session=replace(SESSION, **told))[about] is Verdict.LOOK


@pytest.mark.parametrize(
    ("low", "middle", "high", "verdict"),
    [
        (2.4, 2.5, 2.6, Verdict.KEEPS),
        (2.6, 2.7, 2.8, Verdict.NEARLY),  # nine tenths of it
        (2.2, 2.6, 3.1, Verdict.NEARLY),  # its band reaches over
        (2.8, 3.0, 3.2, Verdict.NEARLY),
        (2.9, 3.01, 3.2, Verdict.BREAKS),
    ],
)
def test_an_amount_is_told_with_its_band(
    low: float, middle: float, high: float, verdict: Verdict
) -> None:
    found = check(RULES, replace(SESSION, free_bait=(low, middle, high)))
    (free,) = (one for one in found if one.about == "free bait")
    assert free.verdict is verdict
    assert "3 kg at most" in free.rule
    assert " to " in free.found


def test_rules_that_nobody_wrote_down_are_not_known_and_nothing_breaks_them() -> None:
    found = check(WaterRules(name="Elsewhere"), replace(SESSION, nuts=("peanuts",), lead=True))
    assert {one.verdict for one in found} == {Verdict.UNKNOWN}
    assert all("ask the owner" in one.rule for one in found)
    assert not broken(found)


def test_every_rule_is_told_whatever_is_known() -> None:
    """One finding at least for every field but name, date and source; none where it is blank."""
    about = {one.name for one in fields(WaterRules)} - {"name", "checked", "source", "permit_until"}
    assert len({one.about for one in check(WaterRules(name="x"), Session(what=""))}) == len(about)
    assert {one.about for one in check(RULES, Session(what=""))} == {
        one.about for one in check(WaterRules(name="x"), Session(what=""))
    }


def _worst(found: tuple[Finding, ...]) -> int:
    return sum(one.verdict is Verdict.BREAKS for one in found)


@given(
    st.lists(st.sampled_from(["peanut meal", "almonds"]), max_size=2),
    st.lists(st.sampled_from(["fishmeal 65", "liver", "Malt (glug)"]), max_size=3),
    st.floats(0.0, 6.0),
    st.floats(0.0, 3.0),
)
def test_more_in_the_bag_never_breaks_less(
    nuts: list[str], holds: list[str], free: float, more: float
) -> None:
    before = replace(SESSION, nuts=(), holds=(), free_bait=(free, free, free))
    after = replace(
        before, nuts=tuple(nuts), holds=tuple(holds), free_bait=(free, free + more, free + more)
    )
    assert _worst(check(RULES, after)) >= _worst(check(RULES, before))
