"""A file of wishes: what it can say, and one clear message for whatever it cannot."""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from baitwright.blending.rows import Origin, RowKind, Sense
from baitwright.blending.rules import AtMost, IfUsed, Implies, Steps
from baitwright.blending.search import design
from baitwright.blending.wishes import Goal
from baitwright.terms.errors import InputError
from baitwright.workshop.wishes.design_mix import designed, shown
from baitwright.workshop.wishes.wishes_file import Wanted, read_wishes, wishes_from
from tests.architecture.tree import ROOT

EXAMPLE = ROOT / "examples" / "copper-wishes.toml"
PLAIN = """
name = "Plain"
[ingredients.semolina]
price = 1.20
[ingredients.fishmeal-65]
price = 2.60
[ingredients.egg-albumen]
price = 14.0
"""
FLOOR = '[[row]]\nfigure = "protein"\nat_least = "34 %"\n'


def wanted(text: str) -> Wanted:
    return wishes_from(tomllib.loads(text), where="wishes.toml")


def refused(text: str) -> str:
    with pytest.raises(InputError) as raised:
        wanted(text)
    told = str(raised.value)
    assert told.startswith("wishes.toml: ")
    return told


def test_the_example_is_read_and_can_be_had() -> None:
    read = read_wishes(EXAMPLE)
    assert read.invented
    assert design(read.wishes).goal == pytest.approx(2.61532573, abs=1e-8)


def test_labels_win_over_the_table() -> None:
    text = PLAIN.replace("price = 2.60", 'price = 2.60\nprotein = "60 %"\nstock = "3 kg"')
    fish = wanted(text).wishes.candidates[1]
    assert fish.overridden["protein"] == (pytest.approx(0.652), 0.60)
    assert (fish.price, fish.stock) == (2.60, 3.0)


def test_counts_steps_and_what_goes_together() -> None:
    text = 'most_ingredients = 2\nleast_if_used = "2.5 %"\nstep = "0.5 %"\n'
    pair = '[[together]]\nused = "fishmeal-65"\nneeds = "egg-albumen"\n'
    rules = wanted(text + PLAIN + pair).wishes.rules
    assert isinstance(rules[0], AtMost)
    assert {type(rule) for rule in rules} == {AtMost, IfUsed, Steps, Implies}
    assert len(rules) == 1 + 2 * 3 + 1


@pytest.mark.parametrize(
    ("goal", "then"),
    [
        ("least cost", Goal.CHEAPEST),
        ("nearest to the present mix", Goal.NEAREST),
        ("most", Goal.MOST),
        ("cheapest like the present mix", Goal.CHEAPEST),
    ],
)
def test_every_goal_finds_a_mix(goal: str, then: Goal) -> None:
    now = '[present]\nsemolina = "70 %"\nfishmeal-65 = "30 %"\n'
    rest = EXAMPLE.read_text(encoding="utf-8").split('goal = "least cost"')[1]
    wide = {"carbohydrate": "30 %", "ash": "5 %", "water": "9 %", "density": "0.1 g/ml"}
    wide |= {"protein": "9 %", "fat": "9 %", "binder": "40 %", "coarse": "20 %"}
    like = "[like]\n" + "".join(f'{name} = "{by}"\n' for name, by in wide.items())
    close = like if "like" in goal else ""
    made = wanted(f'name = "x"\nbudget = 3.0\ngoal = "{goal}"\n{rest}{now}{close}')
    assert made.wishes.goal is then
    found = design(made.wishes)
    assert found.is_there
    assert (found.cost or 9.0) <= 3.0 + 1e-7


def test_a_mix_like_the_present_one_that_holds_what_is_no_longer_sold() -> None:
    """Krill meal is in the present mix and not among the ingredients: it counts all the same."""
    now = '[present]\nsemolina = "80 %"\nkrill-meal = "20 %"\n'
    made = wanted(f'goal = "cheapest like the present mix"\n{PLAIN}{now}[like]\nbinder = "20 %"\n')
    floor = next(
        row
        for row in made.wishes.rows
        if row.about == "protein, as now" and row.sense is Sense.AT_LEAST
    )
    assert floor.asked == pytest.approx(0.8 * 0.1268 + 0.2 * 0.55 - 0.01)


def test_bans_and_their_reasons() -> None:
    text = 'no_allergens = ["eggs"]\n' + PLAIN
    water = '[water]\nname = "Long Reedpool"\nbans = ["marine meal", "nuts"]\n'
    rows = [row for row in wanted(text + water).wishes.rows if row.kind is RowKind.BAN]
    assert [(row.about, row.origin) for row in rows] == [
        ("egg albumen powder (holds eggs)", Origin.YOURS),
        ("fish meal, 65 % protein (marine meal is banned on Long Reedpool)", Origin.WATER),
    ]


def test_what_nobody_tells_the_allergens_of_is_kept_out() -> None:
    own = '[ingredients."Mill sweepings"]\nrole = "binder"\nprice = 0.2\nprotein = "12 %"\n'
    rows = wanted('no_allergens = ["fish"]\n' + PLAIN + own).wishes.rows
    assert "nobody tells its allergens" in rows[-1].about


def test_stock_holds_for_the_batch() -> None:
    text = 'batch = "10 kg"\n' + PLAIN.replace("price = 2.60", 'price = 2.60\nstock = "3 kg"')
    (row,) = [row for row in wanted(text).wishes.rows if row.kind is RowKind.STOCK]
    assert row.asked == pytest.approx(0.3)


def test_rules_of_thumb_are_soft() -> None:
    rows = wanted("rules_of_thumb = true\n" + PLAIN).wishes.rows
    assert rows
    assert all(row.origin is Origin.RULE and not row.hard for row in rows)
    colder = wanted("rules_of_thumb = true\ncold = true\n" + PLAIN).wishes.rows
    assert len(colder) > len(rows)


def test_fibre_of_two_kinds_is_told() -> None:
    both = (
        PLAIN
        + '[ingredients.krill-meal]\nprice = 9.0\n[[row]]\nfigure = "fibre"\nat_most = "5 %"\n'
    )
    made = wanted(both)
    assert "chitin" in made.notes[0]
    assert made.notes[0] in shown(designed(made))


def test_a_floor_that_holds_with_a_chance() -> None:
    chance = FLOOR + 'chance = "90 %"\n'
    (row,) = wanted(PLAIN + chance).wishes.rows
    assert row.chance == pytest.approx(0.9)
    assert row.spread["semolina"] == pytest.approx(0.05 * 0.1268)
    assert "chance 90" in shown(designed(wanted(PLAIN + chance)))


BAD = {
    "present: got '90 %', but it takes shares that sum to 100 %": PLAIN
    + '[present]\nsemolina = "60 %"\nfishmeal-65 = "30 %"\n',
    "row[1].class: got 'oil', but it takes a class that an ingredient of this mix is in": PLAIN
    + '[[row]]\nclass = "oil"\nat_least = "2 %"\n',
    "protein: got 'at least 40 % and at most 30 %', but it takes a least that is no more": PLAIN
    + '[[row]]\nfigure = "protein"\nat_least = "40 %"\nat_most = "30 %"\n',
    "semolina, durum: got 'at least 40 % and at most 30 %'": PLAIN.replace(
        "1.20", '1.20\nat_least = "40 %"\nat_most = "30 %"'
    ),
    "ingredients.semolinna: got 'semolinna'": PLAIN.replace("semolina", "semolinna"),
    "ingredients.semolina.price: got -1.2, but it takes": PLAIN.replace("1.20", "-1.20"),
    "row[1].fat: got nothing, but it takes the fat of Mill sweepings": PLAIN
    + '[ingredients."Mill sweepings"]\nrole = "binder"\nprice = 0.2\nprotein = "12 %"\n'
    + '[[row]]\nfigure = "fat"\nat_least = "2 %"\n',
    "ingredients: got '120 % at least', but it takes 100 % at most together": PLAIN.replace(
        "price", 'at_least = "40 %"\nprice'
    ),
    "ingredients: got '90 % at most', but it takes 100 % or more together": PLAIN.replace(
        "price", 'at_most = "30 %"\nprice'
    ),
    'row[1].at_least: got 0.34, but it takes a limit such as "34 %"': PLAIN
    + '[[row]]\nfigure = "protein"\nat_least = 0.34\n',
    "row[1].at_least: got '1.3 g/ml', but it takes a limit such as": PLAIN
    + '[[row]]\nfigure = "protein"\nat_least = "1.3 g/ml"\n',
    "row[1].protein: got '34 %', but": PLAIN + '[[row]]\nprotein = "34 %"\n',
    "row[1].figure: got 'protein', but it takes a limit": PLAIN + '[[row]]\nfigure = "protein"\n',
    "row[1].row: got 'figure, class', but it takes one of": PLAIN + FLOOR + 'class = "binder"\n',
    "row[1].row: got nothing, but it takes one of": PLAIN + '[[row]]\nat_least = "34 %"\n',
    "row[1].ingredient: got 'gravel'": PLAIN + '[[row]]\nof = ["gravel"]\nat_least = "34 %"\n',
    "row[1].chance: got 'density'": PLAIN
    + '[[row]]\nfigure = "density"\nat_least = "1.3 g/ml"\nchance = "90 %"\n',
    "row[1].protein of the paste: got nothing, but it takes [paste]": PLAIN
    + FLOOR
    + 'basis = "paste"\n',
    "present: got nothing, but it takes your present mix": 'goal = "nearest to the present mix"'
    + PLAIN,
    "step: got '0.3 %', but it takes a step that makes up 100 %": 'step = "0.3 %"' + PLAIN,
    "no_allergens[1]: got 'gravel'": 'no_allergens = ["gravel"]' + PLAIN,
    "water.bans[1]: got 'gravel'": PLAIN + '[water]\nname = "Pool"\nbans = ["gravel"]\n',
    "together[1]: got 'gravel'": PLAIN + '[[together]]\nused = "gravel"\nneeds = "semolina"\n',
    "present.gravel: got 'gravel'": PLAIN + '[present]\ngravel = "100 %"\n',
    "ingredients: got nothing": 'name = "x"\n[ingredients]\n',
}


@pytest.mark.parametrize("told", BAD)
def test_one_clear_message_names_the_row(told: str) -> None:
    assert told in refused(BAD[told])


def test_the_nearest_name_is_offered() -> None:
    assert "semolina" in refused(PLAIN.replace("semolina", "semolinna")).split("such as")[1]


def test_a_price_that_is_needed_is_asked_for() -> None:
    made = wanted(PLAIN.replace("price = 1.20", ""))
    with pytest.raises(InputError, match=r"ingredients\.semolina\.price"):
        designed(made)
    near: Any = wanted(
        'goal = "nearest to the present mix"\n'
        + PLAIN.replace("price = 1.20", "")
        + FLOOR
        + '[present]\nsemolina = "60 %"\nfishmeal-65 = "40 %"\n'
    )
    assert "Exchanged" not in shown(designed(near))


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="a wishes file that can be read"):
        read_wishes(tmp_path / "none.toml")
