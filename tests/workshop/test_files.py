"""Recipe and bench files as a maker writes them, through to the plan."""

from __future__ import annotations

import json
import tomllib
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from jsonschema import Draft202012Validator

from baitwright.materials.factors import prior_factors
from baitwright.recipe.bench import Bench
from baitwright.recipe.eggs import EggKind
from baitwright.recipe.levels import Measure
from baitwright.recipe.model import (
    BaitKind,
    Core,
    Filler,
    HardenerBasis,
    Hardness,
    Recipe,
    WantedBait,
)
from baitwright.terms.errors import InputError
from baitwright.terms.quantity import unwrap
from baitwright.uncertainty.bands import band_of, median_of
from baitwright.workshop.checks import schema
from baitwright.workshop.plans.plan_batch import plan_batch
from baitwright.workshop.recipe_files.bench_file import bench_from, read_bench
from baitwright.workshop.recipe_files.recipe_file import read_recipe, recipe_from
from baitwright.workshop.typed.words import one_of, word
from tests.workshop.shelf import BENCHES, EXAMPLES, NOW, PAIRS, RECIPES, SCHEMAS, path, planned

LEAST_RECIPE = """
name = "Trial"
[bait]
kind = "sinker"
diameter = "15 mm"
[base]
name = "Copper"
"""


def recipe_of(more: str = "", least: str = LEAST_RECIPE) -> Recipe:
    return recipe_from(tomllib.loads(least + more), where="recipe.toml")


def bench_of(text: str, now: datetime = NOW) -> Bench:
    return bench_from(tomllib.loads(text), where="bench.toml", now=now)


def test_the_demo_recipe_says_what_its_file_says() -> None:
    recipe = read_recipe(path("copper-wafter"))
    assert recipe.invented
    assert recipe.bait.kind is BaitKind.WAFTER
    assert recipe.bait.diameter == pytest.approx(0.015)
    assert recipe.bait.core is not None
    assert recipe.bait.core.material == "cork-ball"
    assert recipe.bait.core.diameter == pytest.approx(0.009)
    assert recipe.bait.hardness is Hardness.HARD
    assert sum(part.share for part in recipe.base.parts) == pytest.approx(1.0)
    assert recipe.hardener is not None
    assert recipe.hardener.basis is HardenerBasis.ON_TOP
    assert recipe.hardener.ingredient == "egg-albumen"
    assert [liquid.carrier for liquid in recipe.liquids] == [
        "propylene-glycol",
        "essential-oil",
        "water",
    ]
    assert recipe.free_bait is not None
    assert recipe.free_bait.level_share == pytest.approx(0.5)


def test_the_demo_bench_says_what_its_file_says() -> None:
    bench = read_bench(path("bench-three-large-eggs"), now=NOW)
    (eggs,) = bench.eggs
    assert (eggs.kind, eggs.count, eggs.grade) == (EggKind.WHOLE, 3, "EU L")
    assert eggs.shell_mass == pytest.approx(0.197)
    assert bench.leaving == datetime(2026, 11, 27, 17, 0)
    assert bench.tub.mass == pytest.approx(0.55)
    assert bench.lake_temperature == pytest.approx(279.15)
    assert bench.cores == pytest.approx((0.008, 0.009))


OF_A_MIX = {"copper-mix": "mix", "copper-wishes": "wishes"}
"""Examples of a base mix without a bait, and the kind of file each is."""


@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.toml")), ids=lambda file: file.stem)
def test_every_example_is_marked_as_invented_and_used_here(example: Path) -> None:
    assert "an invented workshop" in example.read_text(encoding="utf-8").splitlines()[0]
    others = ("bottle-test", "day", "readings", "sweep")
    assert example.stem in (*RECIPES, *BENCHES, *OF_A_MIX, *others)


@pytest.mark.parametrize(("recipe", "bench"), PAIRS)
def test_every_example_plans(recipe: str, bench: str) -> None:
    plan = planned(recipe, bench)
    assert median_of(plan.rolled.baits) > 20
    assert 30 <= median_of(plan.boil.seconds) <= 300
    assert plan.day.steps


def test_a_mix_known_by_name_alone_plans_with_wider_bands() -> None:
    known, bought = (
        planned(name, BENCHES[0]).mix.density for name in ("copper-wafter", "bought-mix")
    )
    widths = [band.high80 - band.low80 for band in map(band_of, (known, bought))]
    assert widths[1] > 2.0 * widths[0]


@pytest.mark.parametrize(
    ("written", "metres"),
    [("15 mm", 0.015), ("1,5 cm", 0.015), ("15,5mm", 0.0155), ("5/8 in", 0.015875)],
)
def test_sizes_are_read_as_makers_write_them(written: str, metres: float) -> None:
    text = LEAST_RECIPE.replace("15 mm", written)
    assert recipe_of(least=text).bait.diameter == pytest.approx(metres)


def test_a_core_is_a_size_or_a_table() -> None:
    def core(written: str) -> Core | None:
        return recipe_of(
            least=LEAST_RECIPE.replace("[base]", f"core = {written}\n[base]")
        ).bait.core

    assert core('"9 mm"') == core('{ material = "cork ball", diameter = "9 mm" }')
    stick = core('{ material = "cork-stick", diameter = "9 mm" }')
    assert stick is not None
    assert stick.material == "cork-stick"
    assert recipe_of().bait.core is None


@pytest.mark.parametrize("written", ['"3 x 5 mm"', '"3x5mm"', '" 3 × 0.5 cm"'])
def test_a_few_corks_are_written_as_they_are_said(written: str) -> None:
    core = _bait(f"core = {written}").core
    assert core is not None
    assert (core.count, core.diameter) == (3, pytest.approx(0.005))
    assert core == _bait('core = { count = 3, diameter = "5 mm" }').core


def test_fillers_are_named_with_their_share() -> None:
    made = _bait('fillers = { "Cork granules" = "10 %", glass-bubbles = "5 %" }').fillers
    assert made == (Filler("cork-granules", 0.1), Filler("glass-bubbles", 0.05))


@pytest.mark.parametrize(
    ("written", "field", "said"),
    [
        ('core = "7 x 3 mm"', "bait.core", "from 1 to 6"),
        ('core = "0 x 3 mm"', "bait.core", "from 1 to 6"),
        ('core = "3 x 7 mm"', "bait.core", "3 x 7 mm, together 15.1 mm"),
        ('core = "three of 5 mm"', "bait.core", "such as 9 mm"),
        ('fillers = { sand = "5 %" }', "bait.fillers.sand", "cork-granules"),
        ('fillers = { cork-granules = "40 %" }', "bait.fillers.cork-granules", "30 %"),
        (
            'fillers = { cork-granules = "20 %", glass-bubbles = "15 %" }',
            "bait.fillers",
            "no longer holds",
        ),
        (
            'fillers = { cork-granules = "5 %", "cork granules" = "5 %" }',
            "bait.fillers.cork granules",
            "each filler once",
        ),
    ],
)
def test_what_no_bait_can_hold_is_refused(written: str, field: str, said: str) -> None:
    with pytest.raises(InputError) as refused:
        _bait(written)
    assert refused.value.field.startswith(field)
    assert said in str(refused.value)


def _bait(written: str) -> WantedBait:
    return recipe_of(least=LEAST_RECIPE.replace("[base]", f"{written}\n[base]")).bait


def test_what_a_liquid_leaves_unsaid_follows_its_carrier() -> None:
    more = '[[liquid]]\nname = "A"\nlevel = "1 ml per kg dry mix"\n'
    strengths = {
        carrier: recipe_of(f'{more}carrier = "{carrier}"').liquids[0]
        for carrier in ("propylene glycol", "essential-oil", "thick-extract", "water")
    }
    assert [liquid.strength for liquid in strengths.values()] == [
        "quality",
        "essential oil",
        "thick extract",
        "hydrolysate",
    ]
    assert [liquid.thick for liquid in strengths.values()] == [False, False, True, False]
    assert recipe_of(more).liquids[0].carrier == "unknown"


@pytest.mark.parametrize("typed", ["dry_mix", "Dry_Mix", " DRY_MIX "])
def test_words_are_known_in_any_case(typed: str) -> None:
    assert one_of(("dry_mix",), about="").read(typed) == "dry_mix"


@pytest.mark.parametrize("kind", ["Pop-Up", "pop up", "POP-UP"])
def test_a_kind_in_capitals_or_without_its_hyphen(kind: str) -> None:
    assert word(BaitKind, about="").read(kind) is BaitKind.POP_UP


def test_drops_need_and_use_the_count_of_their_bottle() -> None:
    more = '[[liquid]]\nname = "A"\nlevel = "3 drops per egg of 50 ml"\ndrops_per_ml = 24\n'
    (liquid,) = recipe_of(more).liquids
    assert liquid.level.measure is Measure.DROPS
    assert liquid.drops_per_volume == pytest.approx(24e6)


@pytest.mark.parametrize(
    ("lines", "count", "field", "amount"),
    [
        ('shell = ["63 g", "65,5 g"]', 2, "shell_mass", 0.1285),
        ('count = 3\nshell = "193 g"', 3, "shell_mass", 0.193),
        ('contents = "165 ml"', None, "contents_volume", 165e-6),
        ('count = 3\ncontents = "170 g"', 3, "contents_mass", 0.170),
        ('kind = "egg-free"\ncontents = "0.15 l"', None, "contents_volume", 150e-6),
    ],
)
def test_eggs_are_counted_weighed_or_measured(
    lines: str, count: int | None, field: str, amount: float
) -> None:
    (eggs,) = bench_of(f"[[eggs]]\n{lines}").eggs
    assert eggs.count == count
    assert getattr(eggs, field) == pytest.approx(amount)


def test_eggs_of_several_sizes_share_a_bowl() -> None:
    bench = bench_of('[[eggs]]\ncount = 2\ngrade = "eu l"\n[[eggs]]\ncontents = "40 ml"')
    assert [eggs.grade for eggs in bench.eggs] == ["EU L", None]


def test_baits_may_be_wanted_instead_of_eggs() -> None:
    assert bench_of("baits_wanted = 60").eggs == ()
    (eggs,) = bench_of('baits_wanted = 60\n[[eggs]]\ngrade = "EU M"').eggs
    assert eggs.count is None


@pytest.mark.parametrize(
    ("written", "leaving"),
    [
        ('"tomorrow 17:00"', datetime(2026, 11, 27, 17, 0)),
        ('"17:00"', datetime(2026, 11, 26, 17, 0)),
        ('"8:30"', datetime(2026, 11, 27, 8, 30)),
        ("17:00:00", datetime(2026, 11, 26, 17, 0)),
        ('"today 23:30"', datetime(2026, 11, 26, 23, 30)),
        ('"2026-11-28 5:00"', datetime(2026, 11, 28, 5, 0)),
        ('"2026-11-28T05:00"', datetime(2026, 11, 28, 5, 0)),
        ("2026-11-28T05:00:00", datetime(2026, 11, 28, 5, 0)),
        ("2026-11-28 05:00:00", datetime(2026, 11, 28, 5, 0)),
    ],
)
def test_leaving_is_read_as_makers_write_it(written: str, leaving: datetime) -> None:
    assert bench_of(f"leaving = {written}\nbaits_wanted = 9").leaving == leaving


def test_the_time_in_the_file_wins_over_the_clock() -> None:
    text = 'now = "2026-03-01 08:00"\nleaving = "tomorrow 6:00"\nbaits_wanted = 9'
    bench = bench_of(text, now=NOW + timedelta(days=900))
    assert bench.now == datetime(2026, 3, 1, 8, 0)
    assert bench.leaving == datetime(2026, 3, 2, 6, 0)
    assert bench_of("baits_wanted = 9").now == NOW


def test_the_plan_carries_clock_and_priors_in_its_request() -> None:
    request = planned("copper-wafter", "bench-one-egg").request
    assert request.bench.now == NOW
    assert request.factors == prior_factors()


def test_the_makers_own_factors_are_read_from_their_file(tmp_path: Path) -> None:
    factors = tmp_path / "factors.toml"
    factors.write_text(
        'name = "mine"\n[[factors]]\nkey = "cook"\nmu = 0.2\nkappa = 8\nnu = 12\nsigma2 = 0.001\n'
    )
    files = {"factors_path": factors, "clock": lambda: NOW}
    plan = plan_batch(path("copper-wafter"), path("bench-one-egg"), **files)  # type: ignore[arg-type]
    assert plan.request.factors.name == "mine"
    plain = planned("copper-wafter", "bench-one-egg")
    assert median_of(plan.boil.set_seconds) > 1.1 * median_of(plain.boil.set_seconds)


def test_thin_paste_and_a_high_level_are_planned_with_a_note(tmp_path: Path) -> None:
    recipe, text = tmp_path / "unusual.toml", path("copper-wafter").read_text(encoding="utf-8")
    text = text.replace('"9 mm"', '"12.5 mm"').replace("0.8 ml per", "6 ml per")
    recipe.write_text(text, encoding="utf-8")
    notes = plan_batch(recipe, path("bench-one-egg"), clock=lambda: NOW).notes
    assert any("of paste covers the core" in note.text for note in notes)
    assert any("above the usual" in note.text for note in notes)


# Each liquid's own composition in per cent, as the nutrient tables print it (usda-sr28: NDB 01123,
# 01124, 01125); a carton holds whole egg, and "egg-free" is 12 % albumen powder in water.
WATER = {"whole": 76.15, "white": 87.57, "yolk": 52.31, "carton": 76.2, "egg-free": 89.0}
FAT = {"whole": 9.51, "white": 0.17, "yolk": 26.54, "carton": 9.5, "egg-free": 0.01}
PROTEIN = {"whole": 12.56, "white": 10.90, "yolk": 15.86, "carton": 12.3, "egg-free": 9.9}
BENCH_OF = {kind: f"bench-{kind}" for kind in WATER} | {"whole": "bench-one-egg"}


@pytest.mark.parametrize("kind", WATER)
def test_each_binding_liquid_brings_its_own_composition(kind: str) -> None:
    make_up = planned("copper-wafter", BENCH_OF[kind]).eggs.make_up
    assert 100 * float(make_up.water) == pytest.approx(WATER[kind], abs=0.3)
    assert 100 * float(make_up.fat) == pytest.approx(FAT[kind], abs=0.1)
    assert 100 * float(make_up.protein) == pytest.approx(PROTEIN[kind], abs=0.1)


@pytest.mark.parametrize("kind", WATER)
def test_the_bowl_closes_by_weight_and_by_water(kind: str) -> None:
    plan = planned("copper-wafter", BENCH_OF[kind])
    value = {name: unwrap(getattr(plan.eggs, name).value) for name in ("mass", "water")}
    paste = value["mass"] + unwrap(plan.mix.dry_mix.value) + unwrap(plan.doses.mass.value)
    np.testing.assert_allclose(unwrap(plan.rolled.paste.value), paste, rtol=1e-12)
    np.testing.assert_allclose(value["water"], value["mass"] * WATER[kind] / 100, rtol=1e-3)
    bait = plan.rolled.bait
    parts = [bait.solids, bait.water, bait.solute_mass, bait.core_mass]
    np.testing.assert_allclose(
        unwrap(bait.mass.value), sum(unwrap(part.value) for part in parts), rtol=1e-12
    )
    assert plan.dry.bait.ledger.worst_gap < 1e-9


def test_paste_is_wetter_the_more_water_its_liquid_brings() -> None:
    shares = {
        kind: float(planned("copper-wafter", bench).rolled.bait.make_up.water)
        for kind, bench in BENCH_OF.items()
    }
    assert shares["yolk"] < shares["whole"] < shares["white"] < shares["egg-free"]
    assert shares["carton"] == pytest.approx(shares["whole"], abs=0.005)


def test_less_dry_mix_goes_into_yolk_than_into_white() -> None:
    taken = {
        kind: median_of(plan.mix.dry_mix) / median_of(plan.eggs.mass)
        for kind, bench in BENCH_OF.items()
        for plan in [planned("copper-wafter", bench)]
    }
    assert taken["yolk"] < taken["whole"] < taken["white"] < taken["egg-free"]


@pytest.mark.parametrize("name", schema.FILES)
def test_the_published_schema_is_the_one_the_program_reads_by(name: str) -> None:
    model, title = schema.FILES[name]
    published = json.loads((SCHEMAS / name).read_text(encoding="utf-8"))
    assert published == schema.schema_of(model, title), (
        "publish it anew: python -m baitwright.workshop.checks.schema docs/schema"
    )


def fields_of(node: Any) -> list[dict[str, Any]]:
    """Every property of a schema, however deep."""
    if isinstance(node, list):
        return [field for part in node for field in fields_of(part)]
    if not isinstance(node, dict):
        return []
    own = list(node.get("properties", {}).values())
    return own + [field for part in node.values() for field in fields_of(part)]


@pytest.mark.parametrize("name", schema.FILES)
def test_every_field_of_a_schema_says_what_it_is(name: str) -> None:
    published = json.loads((SCHEMAS / name).read_text(encoding="utf-8"))
    Draft202012Validator.check_schema(published)
    for field in fields_of(published):
        if "$ref" in field:
            continue  # described where it stands
        assert field["title"]
        assert field["description"]
        assert {"examples", "enum", "items", "anyOf"} & field.keys() or field["type"] == "boolean"


@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.toml")), ids=lambda file: file.stem)
def test_the_examples_fit_the_published_schema(example: Path) -> None:
    named = {name.partition(".")[0] for name in schema.FILES}
    first = example.stem.split("-")[0]
    kind = first if first in named else OF_A_MIX.get(example.stem, "recipe")
    text = (SCHEMAS / f"{kind}.schema.json").read_text(encoding="utf-8")
    Draft202012Validator(json.loads(text)).validate(tomllib.loads(example.read_text("utf-8")))
