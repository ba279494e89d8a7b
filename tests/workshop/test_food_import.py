"""Analyses of foods from tables of composition: checked, kept, and taken by a recipe."""

from __future__ import annotations

import json
import tomllib
from datetime import UTC, datetime
from decimal import Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from baitwright.materials.nutrients import by_number, by_tag, nutrients
from baitwright.notebook.copies import FOLDER
from baitwright.notebook.store import Notebook
from baitwright.recipe.base_mix import analyse
from baitwright.terms.errors import InputError
from baitwright.workshop.recipe_files.recipe_file import recipe_from
from baitwright.workshop.tables.food_analysis import DECLARED, Food, FoodAnalysis, analysis_of
from baitwright.workshop.tables.food_figures import Figure, figure_in
from baitwright.workshop.tables.food_import import (
    ANALYSIS,
    analysis_named,
    foods_of,
    import_foods,
    read_foods,
)
from baitwright.workshop.tables.food_words import foods_data, foods_text, recipe_lines
from baitwright.workshop.tables.table_file import Decimals, HowToRead

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
AS_IT_IS = HowToRead()
# Invented foods.
TAGGED = """Food code,Food name,WATER (g),PROCNT(g),FAT (mg),CHOAVLDF (g),FIBTG (g),ASH (g),CA (mg)
X1,"Bran meal, invented",10.2,14.1,3200,41.7,26.0,4.8,80
"""
BRAN = {"water": "10.2", "protein": "14.1", "fat": "3.2", "fibre": "26.0", "ash": "4.8"}
RECIPE = """
name = "Trial"
[bait]
kind = "sinker"
diameter = "15 mm"
"""


def tagged(row: str, heads: str = "name,WATER,PROCNT,FAT,CHOCDF,FIBTG,ASH") -> bytes:
    return f"{heads}\n{row}\n".encode()


def only(data: bytes, how: HowToRead = AS_IT_IS) -> FoodAnalysis:
    foods, wrong = foods_of(data, how)
    assert not wrong, wrong
    return foods[0]


def refusal(data: bytes) -> str:
    foods, wrong = foods_of(data, AS_IT_IS)
    assert not foods
    return "; ".join(f"{one.column}: {one.value} {one.accepted} {one.hint}" for one in wrong)


def as_json(*figures: dict[str, Any], name: object = "Reed meal, invented") -> bytes:
    return json.dumps([{"description": name, "foodNutrients": list(figures)}]).encode()


def flat(number: str, amount: object, unit: str = "G") -> dict[str, Any]:
    return {"number": number, "name": "?", "amount": amount, "unitName": unit}


def nested(number: str, amount: object, unit: str = "g") -> dict[str, Any]:
    return {"nutrient": {"number": number, "name": "?", "unitName": unit}, "amount": amount}


REED = [("255", 9.1), ("203", 12.5), ("204", 2.25), ("205", 72.1), ("291", 8.1), ("207", 4.05)]


def test_a_tagged_table_becomes_an_analysis_with_units_converted_exactly() -> None:
    food = only(TAGGED.encode())
    assert {part: Decimal(grams) for part, grams in BRAN.items()} == food.parts
    assert food.parts["fat"].as_tuple() == Decimal("3.200").as_tuple()
    assert (food.name, food.code, food.total) == ("Bran meal, invented", "X1", Decimal(100))
    assert food.tags["fibre"] == "FIBTG"
    assert food.notes == ()


@pytest.mark.parametrize(
    ("heading", "cell"),
    [
        ("protcnt", "14.1"),
        ("[PROCNT]", "14.1"),
        ("PROCNT_g", "14.1"),
        ("procnt (mg)", "14100"),
        ("PROCNT [mcg]", "14100000"),
    ],
)
def test_a_tag_is_known_however_it_is_written(heading: str, cell: str) -> None:
    data = TAGGED.replace("PROCNT(g)", heading).replace("14.1", cell).encode()
    assert only(data).parts["protein"] == Decimal("14.1")


@pytest.mark.parametrize("shape", [flat, nested])
@pytest.mark.parametrize("heading", ["", "FoundationFoods", "one food"])
def test_json_of_either_shape_becomes_the_same_analysis(shape: Any, heading: str) -> None:
    data = json.loads(as_json(*(shape(number, amount) for number, amount in REED)))
    data = data[0] if heading == "one food" else {heading: data} if heading else data
    food = only(json.dumps(data).encode())
    assert food.parts == {
        "water": Decimal("9.1"),
        "protein": Decimal("12.5"),
        "fat": Decimal("2.25"),
        "fibre": Decimal("8.1"),
        "ash": Decimal("4.05"),
    }
    assert food.total == 100


def test_json_units_differ_and_what_is_below_its_limit_is_not_nothing() -> None:
    told = [*(flat(number, amount) for number, amount in REED[1:]), flat("255", 9100, "MG")]
    assert only(as_json(*told)).parts["water"] == Decimal("9.1")
    low = {**flat("204", 0), "loq": 0.3}
    rest = [flat("255", 9.1), flat("203", 12.5), flat("205", 74.2), flat("207", 4.05)]
    food = only(as_json(*rest, low))
    assert food.parts["fat"] == Decimal("0.15")
    assert "fat: below 0.3 g" in food.notes


@pytest.mark.parametrize(
    ("text", "unit", "grams", "off"),
    [
        ("12.3", "g", "12.3", "0.05"),
        ("8", "", "8", "0.5"),
        ("12.3456", "%", "12.3456", "0.005"),
        ("1500", "mg", "1.5", "0.005"),
        ("3", "µg", "0.000003", "0.005"),
        ("tr", "g", "0", "0.05"),
        ("Trace", "g", "0", "0.05"),
        ("<0.1", "g", "0.05", "0.05"),
        ("< 200", "mg", "0.1", "0.1"),
        ("[1.5]", "g", "1.5", "0.05"),
        ("(1.5)", "g", "1.5", "0.05"),
        ("[tr]", "g", "0", "0.05"),
        (".5", "g", "0.5", "0.05"),
    ],
)
def test_a_figure_is_read_with_what_it_may_be_off(
    text: str, unit: str, grams: str, off: str
) -> None:
    figure = figure_in(text, unit)
    assert figure is not None
    assert (figure.grams, figure.off) == (Decimal(grams), Decimal(off))


@pytest.mark.parametrize("text", ["", " ", "-", "N", "n/a", "[]", "()"])
def test_a_missing_figure_is_not_nothing(text: str) -> None:
    assert figure_in(text, "g") is None


@pytest.mark.parametrize(
    "text",
    [
        "-1",
        "NaN",
        "nan",
        "inf",
        "1_0",
        "1,5",
        "<",
        "<<1",
        "[[1]]",
        "1e99",
        "1e-99",
        "٣",
        "nd",
        "9" * 21,
    ],
)
def test_what_is_no_figure_is_refused(text: str) -> None:
    with pytest.raises(InputError, match=r"tr, <0\.1"):
        figure_in(text, "g")


@pytest.mark.parametrize("unit", ["kJ", "kcal", "IU", "oz", "no unit"])
def test_a_unit_that_is_no_weight_is_refused(unit: str) -> None:
    with pytest.raises(InputError, match="milligrams"):
        figure_in("1", unit)


def test_by_difference_closes_within_its_rounding_and_no_further() -> None:
    # Five figures with one decimal may be off by 0.05 g each.
    assert only(tagged("a,10.0,12.0,3.0,70.2,8.0,5.0")).total == Decimal("100.2")
    said = refusal(tagged("a,10.0,12.0,3.0,70.3,8.0,5.0"))
    assert "sum of its parts: 100.3 g 100 g within 0.25 g" in said
    # Whole figures may be off by half a gram.
    assert only(tagged("a,10,12,3,72,8,5")).total == 102


GRAMS = st.integers(1, 19_999).map(lambda number: Decimal(number) / 1000)


@given(st.lists(GRAMS, min_size=4, max_size=4), st.integers(0, 2), st.sampled_from([1, -1]))
def test_any_food_rounded_by_its_table_closes_and_one_a_gram_off_does_not(
    parts: list[Decimal], places: int, sign: int
) -> None:
    shown = [round(part, places) for part in (*parts, 100 - sum(parts, Decimal(0)))]
    heads = "name,WATER,PROCNT,FAT,ASH,CHOCDF"

    def row(carbohydrate: Decimal) -> bytes:
        return tagged(",".join(["a", *map(str, (*shown[:4], carbohydrate))]), heads)

    assert only(row(shown[4])).total == sum(shown)
    off = Decimal(5).scaleb(-places) + (1 if places else 0)  # ten times the half places of five
    assert refusal(row(shown[4] + sign * off))


def test_available_carbohydrate_leaves_fibre_out_and_total_does_not() -> None:
    available = "name,WATER,PROCNT,FAT,CHOAVLDF,FIBTG,ASH"
    assert only(tagged("a,10.0,12.0,3.0,62.0,8.0,5.0", available)).total == 100
    assert "92.0 g" in refusal(tagged("a,10.0,12.0,3.0,62.0,8.0,5.0"))
    assert "108.0 g" in refusal(tagged("a,10.0,12.0,3.0,70.0,8.0,5.0", available))


def test_measured_carbohydrate_may_miss_by_five_grams_and_says_so_beyond_three() -> None:
    summed = "name,WATER,PROCNT,FAT,CHOAVL,FIBTG,ASH"
    assert only(tagged("a,10.0,12.0,3.0,59.5,8.0,5.0", summed)).notes == ()
    loose = only(tagged("a,10.0,12.0,3.0,57.0,8.0,5.0", summed))
    assert loose.notes == ("its parts sum to 95.0 g, which is loose",)
    assert "within 5" in refusal(tagged("a,10.0,12.0,3.0,56.9,8.0,5.0", summed))


def test_carbohydrate_set_to_nothing_and_alcohol_are_understood() -> None:
    assert only(tagged("a,10.0,80.0,5.0,0,0,5.4")).total == Decimal("100.4")
    with_alcohol = "name,WATER,PROCNT,FAT,CHOCDF,ALC,ASH"
    assert only(tagged("a,50.0,1.0,1.0,30.0,17.0,1.0", with_alcohol)).total == 83
    assert "sum of its parts" in refusal(tagged("a,50.0,1.0,1.0,30.0,7.0,1.0", with_alcohol))


def test_figures_of_dry_matter_are_found_out() -> None:
    assert "Is it of dry matter?" in refusal(tagged("a,12.0,14.0,3.0,78.0,8.0,5.0"))


def test_water_is_found_from_dry_matter_or_as_the_rest_or_asked_for() -> None:
    dry = only(tagged("a,90.0,12.0,3.0,70.0,8.0,5.0", "name,DM,PROCNT,FAT,CHOCDF,FIBTG,ASH"))
    assert dry.parts["water"] == 10
    assert "water: the rest of the dry matter" in dry.notes
    rest = only(tagged("a,,12.0,3.0,70.0,8.0,5.0"))
    assert rest.parts["water"] == 10
    assert "water: the rest, by difference" in rest.notes
    assert "WATER or DM" in refusal(tagged("a,,12.0,3.0,70.0,8.0,"))
    assert "WATER or DM" in refusal(
        tagged("a,,12.0,3.0,70.0,8.0,5.0", "name,WATER,PROCNT,FAT,CHOAVL,FIBTG,ASH")
    )
    assert "left for it" in refusal(tagged("a,,32.0,3.0,70.0,8.0,5.0"))


def test_the_better_figure_of_a_part_is_taken_and_a_lesser_one_told() -> None:
    heads = "name,WATER,PRO-,FATCE,FAT,CHOCDF,FIBC,ASH"
    food = only(tagged("a,10.0,12.0,2.0,3.0,70.0,8.0,5.0", heads))
    assert food.parts["fat"] == 3
    assert food.tags == {
        "water": "WATER",
        "protein": "PRO-",
        "fat": "FAT",
        "fibre": "FIBC",
        "ash": "ASH",
    }
    assert food.notes == ("protein: protein by an unknown method", "fibre: crude fibre")


def test_what_is_not_told_is_left_out_and_said() -> None:
    food = only(tagged("a,10.0,12.0,3.0", "name,WATER,PROCNT,FAT"))
    assert "not told: fibre, ash; a plan takes a middling mix's" in food.notes
    assert food.total is None
    sugar = only(tagged("a,10,12,3,75,8,5", "name,WATER,PROCNT,FAT,CHOAVLM,FIBTG,ASH"))
    assert "its sum is not checked: carbohydrate is counted as sugar" in sugar.notes


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("a,10.0,-12.0,3.0,70.0,8.0,5.0", "PROCNT: -12.0 grams in 100 g"),
        ("a,10.0,NaN,3.0,70.0,8.0,5.0", "PROCNT: NaN"),
        ("a,10.0,12.0,3.0,70.0,71.0,5.0", "fibre: 71.0 g 70.0 g at most, all its carbohydrate"),
        ("a,10.0,112.0,3.0,70.0,8.0,5.0", "protein: 112.0 g 100 g in 100 g at most"),
        (",10.0,12.0,3.0,70.0,8.0,5.0", "name:  a name on one line"),
        ("a,10.0,12.0,3.0", "the row: 4 cells 7, as many as headings"),
        ("a,#REF!,12.0,3.0,70.0,8.0,5.0", "WATER: #REF! a value"),
    ],
)
def test_one_wrong_figure_is_told_with_its_place(row: str, said: str) -> None:
    assert said in refusal(tagged(row))


def test_more_than_all_of_a_food_is_refused_even_where_nothing_sums() -> None:
    assert "108.0 g of water, protein, fat, ash" in refusal(
        tagged("a,10.0,80.0,3.0,15.0", "name,WATER,PROCNT,FAT,ASH")
    )


@pytest.mark.parametrize(
    ("data", "said"),
    [
        (b"name,colour\na,b\n", "INFOODS tagnames such as WATER"),
        (b"WATER,ASH\n1,2\n", "'Food name'"),
        (b"[", "JSON"),
        (b"{}", "a list of foods"),
        (b"[]", "a list of foods"),
        (b'{"a": [], "b": []}', "a list of foods"),
        (b"[" * 100_000, "without end"),
        (b"[1" + b"0" * 5_000 + b"]", ""),
        ("{é}".encode("cp1252"), "--encoding"),
    ],
)
def test_a_file_without_foods_is_refused(data: bytes, said: str) -> None:
    try:
        foods, wrong = foods_of(data, AS_IT_IS)
    except InputError as error:
        assert said in str(error)
    else:
        assert said == ""
        assert wrong
        assert not foods


@pytest.mark.parametrize(
    ("figures", "name", "said"),
    [
        ([flat("255", -1)], "a", "water: -1"),
        ([flat("255", float("nan"))], "a", "water: NaN"),
        ([flat("255", True)], "a", "water: True a number"),
        ([flat("255", 9, "")], "a", "water: 9 no unit"),
        ([flat("255", 9), flat("255", 10)], "a", "water: 9 and 10 g one figure"),
        ([1], "a", "foodNutrients"),
        ([], "", "description"),
        ([], [7], "description"),
        ([], "two\x00words", "description"),
        ([], "a", "water:  WATER or DM"),
    ],
)
def test_a_food_of_json_that_is_none_is_told(figures: Any, name: object, said: str) -> None:
    assert said in refusal(as_json(*figures, name=name))


def test_a_food_without_nutrients_and_a_food_twice_are_told() -> None:
    assert "foodNutrients" in refusal(b'[{"description": "a"}, 3]')
    foods, wrong = foods_of(
        tagged("a,10.0,12.0,3.0,70.0,8.0,5.0\na,10.0,12.0,3.0,70.0,8.0,5.0"), AS_IT_IS
    )
    assert [(one.row, one.accepted) for one in wrong] == [(3, "each food once")]
    assert len(foods) == 1


def test_decimal_commas_are_read_where_nothing_else_is_meant() -> None:
    row = "a;10,0;12,0;3,0;70,0;8,0;5,0"
    heads = "name;WATER;PROCNT;FAT;CHOCDF;FIBTG;ASH"
    assert only(tagged(row, heads)).parts["water"] == 10
    assert only(tagged(row, heads), HowToRead(decimals=Decimals.COMMA)).total == 100
    quoted = tagged('a,"10,0",12.0,3.0,70.0,8.0,5.0')
    assert "--decimals" in refusal(quoted)


def test_the_lines_are_what_a_recipe_takes() -> None:
    food = only(tagged('a "quoted" meal,10.0,12.0,3.0,70.2,8.0,5.0'.replace('"', "")))
    for one in (food, only(TAGGED.encode())):
        recipe = recipe_from(tomllib.loads(RECIPE + recipe_lines(one)), where="here")
        analysis = recipe.base.analysis
        assert analysis is not None
        for part in DECLARED:
            assert getattr(analysis, part) == pytest.approx(float(one.parts[part]) / 100)


def test_an_analysis_rounded_up_to_more_than_all_is_still_planned() -> None:
    food = only(tagged("a,10.0,80.0,5.0,0,0,5.4"))
    recipe = recipe_from(tomllib.loads(RECIPE + recipe_lines(food)), where="here")
    made = analyse(recipe.base, sieve=None).raw.make_up
    assert made.carbohydrate == pytest.approx(0.0, abs=1e-12)
    assert made.protein == pytest.approx(0.800 / 1.004)


def test_a_long_name_is_cut_for_the_recipe_and_kept_whole() -> None:
    food = analysis_of(Food(1, 'long "name" ' * 12, "", {_known("255"): _figure("10")}))
    lines = tomllib.loads(recipe_lines(food))
    assert len(lines["base"]["name"]) == 80
    assert lines["base"]["name"].endswith(" ...")


def _known(number: str) -> Any:
    return by_number(number)


def _figure(text: str) -> Figure:
    figure = figure_in(text, "g")
    assert figure is not None
    return figure


def test_analyses_are_kept_once_after_a_copy_and_read_again(book: Notebook, tmp_path: Path) -> None:
    place = tmp_path / "foods.csv"
    place.write_text(TAGGED, encoding="utf-8")
    done = import_foods(book, place, AS_IT_IS, now=NOW)
    assert done.kept == ("Bran meal, invented",)
    assert done.copied is not None
    assert "1 analysis kept, 0 as they were" in foods_text(done)
    assert analysis_named(book, done.kept[0]) == done.foods[0]
    again = import_foods(book, place, AS_IT_IS, now=NOW.replace(hour=10))
    assert again.kept == ()
    place.write_text(TAGGED.replace("4.8", "4.9").replace("41.7", "41.6"), encoding="utf-8")
    import_foods(book, place, AS_IT_IS, now=NOW.replace(hour=11))
    with book.reading() as page:
        versions = page.history(ANALYSIS, done.kept[0])
    assert [one.version for one in versions] == [1, 2]
    assert versions[0].reason == "imported from foods.csv"
    assert analysis_named(book, done.kept[0]).parts["ash"] == Decimal("4.9")
    with pytest.raises(InputError, match="one such as bran meal invented"):
        analysis_named(book, "bran meal")
    with pytest.raises(InputError, match="one that was imported"):
        analysis_named(book, "xyz")


def test_one_wrong_food_and_none_is_kept(book: Notebook, tmp_path: Path) -> None:
    place = tmp_path / "foods.csv"
    place.write_text(TAGGED + "X2,Bad,1,2,3,4,5,6,7\n", encoding="utf-8")
    done = import_foods(book, place, AS_IT_IS, now=NOW)
    assert "nothing imported: 1 to put right" in foods_text(done)
    assert "It is 'Bad'." in foods_text(done)
    assert foods_data(done)["errors"][0]["row"] == 3
    with book.reading() as page:
        assert page.all(ANALYSIS) == ()
    assert not (book.place.parent / FOLDER).exists()
    assert foods_data(read_foods(place, AS_IT_IS))["foods"][0]["per_100_g"]["fat"] == "3.200"
    place.write_bytes(b"\xff")
    with pytest.raises(InputError, match=r"foods\.csv"):
        read_foods(place, AS_IT_IS)


def test_tags_and_numbers_tell_figures_apart() -> None:
    spelled = [name for one in nutrients().values() for name in (one.tag, *one.spellings)]
    assert len(set(spelled)) == len(spelled)
    assert by_tag(" fibtg ") is by_number("291")
    assert by_tag("CA") is None
    assert by_number("301") is None
    assert by_number("") is None


NUMBERS = st.one_of(st.none(), st.booleans(), st.floats(), st.integers(), st.text(max_size=4))
ENTRIES = st.fixed_dictionaries(
    {},
    optional={
        "nutrient": st.fixed_dictionaries(
            {
                "number": st.sampled_from(["203", "255", "x"]),
                "unitName": st.sampled_from(["g", "IU"]),
            }
        ),
        "number": st.one_of(st.sampled_from(["204", "205", "207"]), st.integers()),
        "amount": NUMBERS,
        "value": NUMBERS,
        "loq": NUMBERS,
        "unitName": st.sampled_from(["G", "mg", 3]),
    },
)
FOODS = st.lists(
    st.one_of(
        NUMBERS,
        st.fixed_dictionaries(
            {"description": st.one_of(st.just("a"), NUMBERS)},
            optional={"foodNutrients": st.one_of(NUMBERS, st.lists(ENTRIES, max_size=6))},
        ),
    ),
    max_size=3,
)


@pytest.mark.fuzz
@given(
    st.one_of(
        st.binary().map(lambda data: b"{" + data),
        st.binary().map(lambda data: b"name,WATER,ASH\n" + data),
        FOODS.map(lambda foods: json.dumps(foods).encode()),
    )
)
@example(b'{"foodNutrients": [], "description": "\\ud800"}')
@example(
    b'[{"description": "a", "foodNutrients": '
    b'[{"number": "255", "unitName": "g", "amount": 1e9999}]}]'
)
def test_any_bytes_are_foods_or_clear_refusals(data: bytes) -> None:
    try:
        foods, wrong = foods_of(data, AS_IT_IS)
    except InputError as error:
        assert len(str(error)) < 1000
    else:
        assert foods or wrong
        for food in foods:
            recipe_from(tomllib.loads(RECIPE + recipe_lines(food)), where="here")
