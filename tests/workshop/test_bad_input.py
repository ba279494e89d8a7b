"""What cannot be used is refused in one sentence: file, field, what came, what would do."""

from __future__ import annotations

import contextlib
import tomllib
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from baitwright.terms.errors import InputError
from baitwright.workshop.plans.plan_batch import plan_batch
from baitwright.workshop.recipe_files.bench_file import bench_from, read_bench
from baitwright.workshop.recipe_files.recipe_file import read_recipe, recipe_from
from tests.workshop.shelf import NOW, path

RECIPE = """
name = "Trial"
[bait]
kind = "wafter"
diameter = "15 mm"
core = "9 mm"
[base]
name = "Copper"
sieve = "kitchen"
[base.parts]
semolina = "60 %"
soya-flour-roasted = "40 %"
[hardener]
share = "10 %"
basis = "on top of the base"
[[liquid]]
name = "Malt"
level = "0.8 ml per egg of 50 ml"
carrier = "propylene glycol"
[[liquid]]
name = "Yeast"
level = "1.8 ml per egg of 50 ml"
carrier = "water"
density = "1.04 g/ml"
[free_bait]
diameter = "18 mm"
level = "50 %"
dry_mix = "2 kg"
"""
BENCH = """
leaving = "tomorrow 17:00"
altitude = "120 m"
lake = "6 C"
syringes = ["1 ml", "5 ml"]
cores = ["8 mm", "9 mm"]
[[eggs]]
count = 3
grade = "EU L"
[room]
temperature = "19 C"
humidity = "55 %"
[pot]
water = "3 l"
[hook]
size = 6
[tub]
mass = "550 g"
"""
LEVEL = "0.8 ml per egg of 50 ml"


def refusal(call: Callable[[], object]) -> InputError:
    with pytest.raises(InputError) as caught:
        call()
    return caught.value


def changed(text: str, old: str, new: str) -> str:
    assert text.count(old) == 1, old
    return text.replace(old, new)


def refused_recipe(old: str, new: str, folder: Path) -> InputError:
    """What is said of the recipe with one thing changed; nothing else may appear in its folder."""
    recipe = folder / "recipe.toml"
    recipe.write_text(changed(RECIPE, old, new), encoding="utf-8")
    bench = path("bench-one-egg")
    error = refusal(lambda: plan_batch(recipe, bench, clock=lambda: NOW))
    assert list(folder.iterdir()) == [recipe]
    assert error.where == str(recipe)
    return error


def refused_bench(old: str, new: str, folder: Path) -> InputError:
    """What is said of the bench with one thing changed; nothing else may appear in its folder."""
    bench = folder / "bench.toml"
    bench.write_text(changed(BENCH, old, new), encoding="utf-8")
    error = refusal(lambda: plan_batch(path("copper-wafter"), bench, clock=lambda: NOW))
    assert list(folder.iterdir()) == [bench]
    assert error.where == str(bench)
    return error


def test_what_is_changed_below_was_right_before() -> None:
    recipe_from(tomllib.loads(RECIPE), where="recipe.toml")
    bench_from(tomllib.loads(BENCH), where="bench.toml", now=NOW)


@pytest.mark.parametrize(
    ("old", "new", "field", "got", "accepted"),
    [
        # negative, zero, absurd
        ('diameter = "15 mm"', 'diameter = "-15 mm"', "bait.diameter", "-15 mm", "6 mm to 40 mm"),
        ('diameter = "15 mm"', 'diameter = "0 mm"', "bait.diameter", "0 mm", "6 mm to 40 mm"),
        ('diameter = "15 mm"', 'diameter = "15 m"', "bait.diameter", "15 m", "6 mm to 40 mm"),
        ('"60 %"', '"-60 %"', "base.parts.semolina", "-60 %", "a share"),
        ('"60 %"', '"70 %"', "base.parts", "110 %", "sum to 100 %"),
        ('"10 %"', '"0 %"', "hardener.share", "0 %", "0.1 % to 40 %"),
        ('"10 %"', '"90 %"', "hardener.share", "90 %", "0.1 % to 40 %"),
        (LEVEL, "-1 ml per egg of 50 ml", "liquid[1].level", "-1 ml", "names its basis"),
        (LEVEL, "0 ml per egg of 50 ml", "liquid[1].level", "0 ml", "names its basis"),
        (LEVEL, "60 ml per egg of 50 ml", "liquid[1].level", "60 ml", "50 ml for 50 ml of egg"),
        (LEVEL, "1 ml per egg of 900 ml", "liquid[1].level", "900 ml", "20 to 120 ml"),
        (LEVEL, "1e-9 ml per egg of 50 ml", "liquid[1].level", "1e-9 ml", "0.00005 to less"),
        (LEVEL, "60 % of paste", "liquid[1].level", "60 %", "500 g for 1 kg of paste"),
        ('"1.04 g/ml"', '"104 g/ml"', "liquid[2].density", "104 g/ml", "0.5 to 3 g/ml"),
        ('"2 kg"', '"2 g"', "free_bait.dry_mix", "2 g", "50 g to 500 kg"),
        ('"50 %"', '"0 %"', "free_bait.level", "0 %", "1 % to 200 %"),
        # missing
        ('kind = "wafter"\n', "", "bait.kind", None, "pop-up, wafter, sinker"),
        ('name = "Trial"', "", "name", None, "a name on one line"),
        ('basis = "on top of the base"', "", "hardener.basis", None, "of the finished mix"),
        ('level = "1.8 ml per egg of 50 ml"\n', "", "liquid[2].level", None, "names its basis"),
        # units that do not fit
        ('diameter = "15 mm"', 'diameter = "15 g"', "bait.diameter", "15 g", "a length"),
        ('diameter = "15 mm"', 'diameter = "15"', "bait.diameter", "15", "a length such as 15 mm"),
        ('diameter = "15 mm"', "diameter = 15", "bait.diameter", 15, "a length such as 15 mm"),
        ('"2 kg"', '"2 l"', "free_bait.dry_mix", "2 l", "a weight"),
        ('"1.04 g/ml"', '"1.04"', "liquid[2].density", "1.04", "a density such as"),
        ('"1.04 g/ml"', "1.04", "liquid[2].density", 1.04, "a density such as"),
        (LEVEL, "1 fl oz per kg dry mix", "liquid[1].level", "1 fl oz", "names its basis"),
        # a core as large as the bait, or larger
        ('core = "9 mm"', 'core = "15 mm"', "bait.core", "15 mm", "13.5 mm at most"),
        ('core = "9 mm"', 'core = "16 mm"', "bait.core", "16 mm", "13.5 mm at most"),
        ('core = "9 mm"', 'core = "1 mm"', "bait.core", "1 mm", "3 mm to 38 mm"),
        ('core = "9 mm"', 'core = { material = "lead" }', "bait.core.material", "lead", "cork"),
        # bases of a level
        (LEVEL, "0.8 ml", "liquid[1].level", "0.8 ml", "per egg of 50 ml"),
        (LEVEL, "0.8 ml per egg", "liquid[1].level", "per egg", "per egg of 50 ml"),
        (LEVEL, "0.8 ml per bucket", "liquid[1].level", "bucket", "per kg dry mix"),
        (LEVEL, "3 drops per egg of 50 ml", "liquid[1].level", "3 drops", "drops_per_ml"),
        # not a number
        ('diameter = "15 mm"', "diameter = nan", "bait.diameter", "nan", "a length such as 15 mm"),
        ('diameter = "15 mm"', 'diameter = "nan mm"', "bait.diameter", "nan mm", "a length"),
        ('diameter = "15 mm"', "diameter = inf", "bait.diameter", "inf", "a length such as 15 mm"),
        ('diameter = "15 mm"', 'diameter = "1e999 mm"', "bait.diameter", "1e999 mm", "a length"),
        # words and names
        ('"wafter"', '"waftr"', "bait.kind", "waftr", "pop-up, wafter, sinker"),
        ('semolina = "60', 'semolna = "60', "base.parts.semolna", "semolna", "semolina"),
        ('"propylene glycol"', '"propylen"', "liquid[1].carrier", "propylen", "propylene-glycol"),
        ('"kitchen"', '"1.3 mm"', "base.sieve", "1.3 mm", "iso-"),
        ('"Trial"', '"two\\nlines"', "name", "two", "a name on one line"),
        ('"Trial"', '""', "name", "", "a name on one line"),
        # the wrong shape
        ("[base.parts]", "parts = 3\n[base.analysis]", "base.analysis.semolina", "60 %", "protein"),
        ('core = "9 mm"', "core = []", "bait.core", [], "a length such as 9 mm"),
        ('core = "9 mm"', "hardness = 3", "bait.hardness", 3, "normal, hard, extra hard"),
        ('name = "Trial"', 'name = "Trial"\ninvented = "yes"', "invented", "yes", "true or false"),
        # what does not go together
        (
            'semolina = "60',
            '"semolina, durum" = "9 %"\nsemolina = "60',
            "base.parts",
            "60 %",
            "once",
        ),
        ('semolina = "60 %"', 'water = "60 %"', "base.parts", "60 %", "powders"),
        (
            "[base.parts]",
            '[base.analysis]\nprotein = "25 %"\n[base.parts]',
            "base",
            "parts",
            "either",
        ),
    ],
)
def test_a_recipe_is_refused(
    old: str, new: str, field: str, got: object, accepted: str, tmp_path: Path
) -> None:
    error = refused_recipe(old, new, tmp_path)
    assert error.field.startswith(field)
    assert str(got) in str(error.got)
    assert accepted in error.accepted
    for part in (error.where, error.field, error.accepted):
        assert part in str(error)


@pytest.mark.parametrize(
    ("old", "new", "field", "got", "accepted"),
    [
        ("count = 3", "count = -3", "eggs[1].count", -3, "a whole number such as 3"),
        ("count = 3", "count = 0", "eggs[1].count", 0, "a whole number such as 3"),
        ("count = 3", "count = 2.5", "eggs[1].count", 2.5, "a whole number such as 3"),
        ("count = 3", "count = nan", "eggs[1].count", "nan", "a whole number such as 3"),
        ("count = 3", 'count = "three"', "eggs[1].count", "three", "a whole number such as 3"),
        ("count = 3", "", "eggs[1].count", None, "how many eggs"),
        ('grade = "EU L"', "", "eggs[1].grade", None, "a grade such as 'EU L'"),
        ('grade = "EU L"', 'grade = "L"', "eggs[1].grade", "L", "EU S/M/L/XL"),
        ('grade = "EU L"', 'grade = "EU Q"', "eggs[1].grade", "EU Q", "S, M, L, XL"),
        ('grade = "EU L"', 'shell = "900 g"', "eggs[1].shell", "900 g", "30 g to 120 g each"),
        ('grade = "EU L"', 'shell = ["66 g"]', "eggs[1].count", 3, "1, as many as"),
        ('grade = "EU L"', 'shell = ["6 g"]', "eggs[1].shell", "6 g", "30 g to 120 g"),
        ('grade = "EU L"', "shell = []", "eggs[1].shell", [], "a weight such as"),
        ('grade = "EU L"', 'contents = "2 l"', "eggs[1].contents", "2000 ml", "120 ml each"),
        ('grade = "EU L"', 'contents = "50 mm"', "eggs[1].contents", "50 mm", "165 ml or 170 g"),
        ('grade = "EU L"', 'kind = "carton"', "eggs[1].contents", None, "measured ml or g"),
        ("count = 3", 'count = 3\nkind = "yolk"\nshel = "9 g"', "eggs[1].shel", "9 g", "shell"),
        ('"55 %"', '"155 %"', "room.humidity", "155 %", "0 % to 100 %"),
        ('"55 %"', '"55"', "room.humidity", "55", "a share such as 55 %"),
        ('"120 m"', '"9000 m"', "altitude", "9000 m", "-400 m to 5000 m"),
        ('"6 C"', '"-9 C"', "lake", "-9 C", "0 C to 35 C"),
        ('"6 C"', "6", "lake", 6, "a temperature such as 6 C"),
        ('"19 C"', '"90 C"', "room.temperature", "90 C", "0 C to 50 C"),
        ('"3 l"', '"3 ml"', "pot.water", "3 ml", "0.2 l to 50 l"),
        ("size = 6", "size = 7", "hook.size", 7, "2, 4, 6, 8, 10, 12"),
        ("size = 6", 'mass = "26 g"', "hook.mass", "26 g", "0.01 g to 5 g"),
        ('"5 ml"', '"7 ml"', "syringes[2]", "7 ml", "a size of 1 ml"),
        ('"8 mm"', '"8"', "cores[1]", "8", "a length such as 9 mm"),
        ('mass = "550 g"', 'mass = "550 g"\nwanted = "1 kg"', "tub", "mass", "either mass"),
        ('"tomorrow 17:00"', '"2026-11-26 08:59"', "leaving", "2026-11-26 08:59", "after now"),
        ('"tomorrow 17:00"', '"2031-11-26 08:59"', "leaving", "2031-11-26", "within a year"),
        ('"tomorrow 17:00"', '"tomorrow"', "leaving", "tomorrow", "'tomorrow 17:00'"),
        ('"tomorrow 17:00"', '"tomorrow 27:00"', "leaving", "27:00", "'tomorrow 17:00'"),
        ('"tomorrow 17:00"', '"2026-02-30 07:00"', "leaving", "2026-02-30", "'tomorrow 17:00'"),
        ('"tomorrow 17:00"', "2026-11-27", "leaving", "2026-11-27", "'tomorrow 17:00'"),
        (
            '"tomorrow 17:00"',
            "2026-11-27T17:00:00Z",
            "leaving",
            "2026-11-27T17:00:00Z",
            "a local time",
        ),
        ("altitude", 'country = "UK"\naltitude', "country", "UK", "two letters such as 'GB'"),
        ("altitude", "baits_wanted = 0\naltitude", "baits_wanted", 0, "a whole number such as 60"),
        ('syringes = ["1 ml", "5 ml"]', "syringes = 5", "syringes", 5, 'such as ["1 ml"'),
        ("[[eggs]]", "[eggs]", "eggs", "count", "tables headed [[eggs]]"),
        ("[pot]", "[[pot]]", "pot", "water", "a table headed [pot]"),
        ("[room]", "[rom]", "rom", "19 C", "room"),
    ],
)
def test_a_bench_is_refused(
    old: str, new: str, field: str, got: object, accepted: str, tmp_path: Path
) -> None:
    error = refused_bench(old, new, tmp_path)
    assert error.field.startswith(field)
    assert str(got) in str(error.got)
    assert accepted in error.accepted
    for part in (error.where, error.field, error.accepted):
        assert part in str(error)


def test_no_binding_liquid_at_all_is_refused(tmp_path: Path) -> None:
    error = refused_bench('[[eggs]]\ncount = 3\ngrade = "EU L"\n', "", tmp_path)
    assert (error.field, error.got) == ("eggs", None)
    assert "[[eggs]], or baits_wanted" in error.accepted


def test_only_one_line_of_eggs_may_be_left_uncounted(tmp_path: Path) -> None:
    eggs = '[[eggs]]\ngrade = "EU M"\n[[eggs]]'
    error = refused_bench("[[eggs]]", f"{eggs}", tmp_path)
    assert error.field == "eggs[1].count"
    wanted = changed(BENCH, "altitude", "baits_wanted = 60\naltitude")
    both = tomllib.loads(changed(wanted, "[[eggs]]", eggs))
    error = refusal(lambda: bench_from(both, where="bench.toml", now=NOW))
    assert error.field == "eggs[1].count"


@pytest.mark.parametrize(
    ("old", "new", "field", "nearest"),
    [
        ("kind =", "kinnd =", "bait.kinnd", "kind"),
        ('diameter = "15', 'diametre = "15', "bait.diametre", "diameter"),
        ('carrier = "water"', 'carier = "water"', "liquid[2].carier", "carrier"),
        ("[free_bait]", "[freebait]", "freebait", "free_bait"),
        ("[hardener]", "[harder]", "harder", "hardener"),
    ],
)
def test_an_unknown_key_is_named_with_the_nearest_known(
    old: str, new: str, field: str, nearest: str, tmp_path: Path
) -> None:
    error = refused_recipe(old, new, tmp_path)
    assert error.field == field
    assert nearest in error.accepted
    assert f"Nearest: '{nearest}'." in str(error)


@pytest.mark.parametrize(
    ("old", "new", "line", "stands", "said"),
    [
        ('kind = "wafter"', 'kind "wafter"', 4, 'kind "wafter"', "Expected '='"),
        ('core = "9 mm"', 'core = "9 mm', 6, 'core = "9 mm', "line 6"),
        ('diameter = "15 mm"', "diameter = 15 mm", 5, "diameter = 15 mm", "line 5"),
        ("[base.parts]", "[base.parts", 10, "[base.parts", "Expected ']'"),
    ],
)
def test_broken_toml_is_told_by_file_line_and_what_the_parser_says(
    old: str, new: str, line: int, stands: str, said: str, tmp_path: Path
) -> None:
    error = refused_recipe(old, new, tmp_path)
    assert error.field == f"line {line}"
    assert error.got == stands
    assert "TOML such as" in error.accepted
    assert said in error.hint


@pytest.mark.parametrize(
    "content", [b"\xff\xfe", b'name = "a"\nname = "b"', b"a=" + b"[" * 9999, b"a=" + b"9" * 9999]
)
def test_a_file_that_is_no_toml_is_refused(content: bytes, tmp_path: Path) -> None:
    recipe = tmp_path / "recipe.toml"
    recipe.write_bytes(content)
    error = refusal(lambda: read_recipe(recipe))
    assert "recipe.toml" in str(error)


def test_a_file_that_is_not_there_is_refused(tmp_path: Path) -> None:
    for name in ("nothing.toml", "."):
        error = refusal(lambda name=name: read_bench(tmp_path / name, now=NOW))  # type: ignore[misc]
        assert error.field == "bench"
        assert str(tmp_path / name) in str(error)
        assert "a bench file that can be read" in error.accepted


def test_what_only_the_plan_can_refuse_is_told_with_its_file(tmp_path: Path) -> None:
    most = "40 % of paste"
    recipe = tmp_path / "recipe.toml"
    text = changed(changed(RECIPE, LEVEL, most), "1.8 ml per egg of 50 ml", most)
    recipe.write_text(text, encoding="utf-8")
    error = refusal(lambda: plan_batch(recipe, path("bench-one-egg"), clock=lambda: NOW))
    assert (error.where, error.got) == (str(recipe), "80 %")


# From here on: whatever stands in a file, it is read, or refused in that one way.

NUMBERS = ["15", "0", "-3", "1/2", "2 1/2", "1/0", "1e300", "1e-300", "0,5", "nan", "9" * 400]
UNITS = ["mm", "m", "g", "kg", "ml", "l", "%", "C", "F", "K", "m/s", "kW", "g/ml", "drops", ""]
BASES = ["", " per egg", " per egg of 50 ml", " per egg of 0 ml", " per kg dry mix", " of paste"]
WORDS = ["tomorrow 17:00", "0001-01-01 00:00", "EU L", "whole", "carton", "semolina", "none", ""]
LEAVES = st.one_of(
    st.builds(
        "{} {}{}".format, st.sampled_from(NUMBERS), st.sampled_from(UNITS), st.sampled_from(BASES)
    ),
    st.sampled_from(WORDS),
    st.text(max_size=12),
    st.booleans(),
    st.integers(),
    st.floats(),
    st.datetimes(),
    st.dates(),
    st.times(),
)
VALUES = st.recursive(
    LEAVES,
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=5), inner),
    max_leaves=4,
)


def places(node: Any) -> list[tuple[Any, Any]]:
    """Every table or list of a file with each of its keys."""
    keys = list(node) if isinstance(node, dict) else list(range(len(node)))
    own = [(node, key) for key in keys]
    below = [node[key] for key in keys if isinstance(node[key], dict | list)]
    return own + [place for part in below for place in places(part)]


@st.composite
def spoiled(draw: st.DrawFn, text: str) -> dict[str, Any]:
    """A file with a few of its values changed for anything, taken out, or moved."""
    data = tomllib.loads(text)
    for _ in range(draw(st.integers(1, 4))):
        found = places(data)
        if not found:
            break
        table, key = draw(st.sampled_from(found))
        value = table.pop(key)
        if isinstance(table, list):
            table.insert(key, draw(VALUES))
        elif draw(st.booleans()):
            table[key] = draw(VALUES)
        elif draw(st.booleans()):
            table[draw(st.text(max_size=5))] = value
    return data


@pytest.mark.fuzz
@given(spoiled(RECIPE))
def test_any_recipe_is_read_or_refused_in_one_way(data: dict[str, Any]) -> None:
    with contextlib.suppress(InputError):
        recipe_from(data, where="recipe.toml")


@pytest.mark.fuzz
@given(spoiled(BENCH), st.datetimes(datetime(2000, 1, 1), datetime(2100, 1, 1)))
def test_any_bench_is_read_or_refused_in_one_way(data: dict[str, Any], now: datetime) -> None:
    with contextlib.suppress(InputError):
        bench_from(data, where="bench.toml", now=now)


@pytest.mark.fuzz
@given(st.lists(st.sampled_from((RECIPE + BENCH).splitlines()) | st.text(max_size=20)))
def test_any_text_is_read_or_refused_in_one_way(
    tmp_path_factory: pytest.TempPathFactory, lines: list[str]
) -> None:
    file = tmp_path_factory.getbasetemp() / "any.toml"
    file.write_text("\n".join(lines), encoding="utf-8", errors="replace")
    for read in (read_recipe, lambda path: read_bench(path, now=NOW)):
        with contextlib.suppress(InputError):
            read(file)


@pytest.mark.fuzz
@given(st.binary())
def test_any_bytes_are_read_or_refused_in_one_way(
    tmp_path_factory: pytest.TempPathFactory, content: bytes
) -> None:
    file = tmp_path_factory.getbasetemp() / "any.bin"
    file.write_bytes(content)
    with contextlib.suppress(InputError):
        read_recipe(file)
