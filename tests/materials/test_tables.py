"""The loader refuses what a table must not hold, and every table is pinned."""

from __future__ import annotations

import csv
import io
import math
from dataclasses import dataclass, fields

import pytest

from baitwright.materials import (
    acute_toxicity,
    care,
    carp,
    cautions,
    cores,
    countries,
    defaults,
    eggs,
    factors,
    fillers,
    hazard_phrases,
    hooks,
    isotherms,
    keeping,
    kinds,
    labels,
    liquids,
    mix_rules,
    nutrients,
    powders,
    prepackages,
    proteins,
    rig_parts,
    sieves,
    solutes,
    tools,
    variety,
)
from baitwright.materials.tables import (
    DATA,
    Row,
    TableError,
    find,
    in_si,
    load,
    one_of,
    read_rows,
    slug,
)
from baitwright.sources import SourceKind, source, source_keys
from baitwright.terms.errors import InputError

# Table: the record of a row, rows, columns, and the sum of every number in the file as written,
# each times its row and column so that two that change places are seen too. A figure that changes
# changes its table's sum: look at the source, then here.
TABLES: dict[str, tuple[type[Row], int, int, float]] = {
    "acute_toxicity": (acute_toxicity.ToxicityClass, 20, 10, 1614576.575),
    "allergens": (powders.Allergen, 14, 8, 2030.0),
    "bait_kinds": (kinds.BaitKind, 3, 7, 0.0),
    "carriers": (liquids.Carrier, 11, 15, 27845.695),
    "carp_nutrition": (carp.CarpFigure, 14, 11, 29318.3),
    "care_words": (care.CareWord, 46, 7, 0.0),
    "cautions": (cautions.Caution, 86, 10, 0.0),
    "code_limits": (labels.CodeLimit, 2, 7, 18.4),
    "composition_spread": (variety.CompositionSpread, 9, 9, 1433.4),
    "control_lines": (keeping.ControlLine, 7, 13, 1433.59),
    "cores": (cores.Core, 2, 12, 39912.23),
    "countries": (countries.Country, 32, 6, 0.0),
    "fillers": (fillers.Filler, 2, 11, 25069.43),
    "cylinders": (tools.Glass, 29, 10, 641112.94),
    "defaults": (defaults.Default, 81, 10, 2292858.71),
    "droppers": (tools.Drop, 6, 8, 6.72),
    "egg_forms": (eggs.EggForm, 5, 14, 5365.954),
    "egg_grades": (eggs.EggGrade, 40, 11, 551284.11272),
    "egg_parts": (eggs.EggPart, 6, 8, 1721.618),
    "egg_systems": (eggs.EggSystem, 8, 7, 0.0),
    "factors": (factors.FactorPrior, 15, 12, 5837.5386),
    "growth_models": (keeping.GrowthModel, 6, 17, 15111.29787),
    "hardness": (defaults.Hardness, 3, 7, 677.7),
    "hazard_phrases": (hazard_phrases.HazardPhrase, 42, 6, 0.0),
    "hooks": (hooks.Hook, 6, 9, 6468.8),
    "ingredients": (powders.Ingredient, 116, 32, 131791303.699),
    "keeping_lines": (keeping.KeepingLine, 11, 12, 6087.03341),
    "isotherms": (isotherms.Isotherm, 14, 15, 14147.220064),
    "label_sizes": (labels.LabelSize, 5, 13, 35909.0),
    "levels": (liquids.LevelRange, 18, 12, 30774.8),
    "lift_words": (kinds.LiftWord, 7, 8, -18.06),
    "lines": (hooks.Line, 4, 8, 157.52),
    "mix_rules": (mix_rules.MixRule, 17, 10, 15136.0),
    "nutrients": (nutrients.Nutrient, 20, 11, 136454),
    "organisms": (keeping.Organism, 13, 8, 2715.31),
    "pipettes": (tools.Glass, 13, 10, 5067.588),
    "preservers": (keeping.Preserver, 9, 8, 0.0),
    "prepackages": (prepackages.Prepackage, 9, 8, 1738963.0),
    "protein_kinds": (proteins.ProteinKind, 17, 7, 55860.0),
    "protocols": (rig_parts.Protocol, 3, 9, 300.0),
    "rig_parts": (rig_parts.RigPart, 6, 9, 522.548),
    "scales": (tools.Scale, 4, 6, 3.702),
    "shot": (hooks.Shot, 13, 8, 128.698),
    "sieve_retention": (sieves.Retention, 32, 8, 362522.0),
    "sieves": (sieves.Sieve, 17, 11, 3314.678),
    "solutes": (solutes.Solute, 11, 10, 74161.07),
    "spoons": (tools.Spoon, 8, 9, 8379.43956),
    "syringes": (tools.Syringe, 9, 13, 9045.47),
    "weights": (hooks.Weight, 8, 9, 4275.53),
}


def cells(name: str) -> list[list[str]]:
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.reader(file))


def number(cell: str) -> float:
    try:
        return float(cell)
    except ValueError:
        return 0.0


def weighed(body: list[list[str]]) -> float:
    return math.fsum(
        number(cell) * at_row * at_column
        for at_row, row in enumerate(body, 1)
        for at_column, cell in enumerate(row, 1)
    )


def test_every_table_is_pinned() -> None:
    assert {path.stem for path in DATA.iterdir()} == set(TABLES)


@pytest.mark.parametrize("name", TABLES)
def test_a_table_is_as_it_was_checked(name: str) -> None:
    kind, rows, columns, total = TABLES[name]
    header, *body = cells(name)
    assert (len(body), len(header)) == (rows, columns)
    assert weighed(body) == pytest.approx(total, abs=1e-4)
    assert len(load(name, kind)) == rows


@pytest.mark.parametrize("name", TABLES)
def test_every_row_has_a_source_and_evidence(name: str) -> None:
    kind = TABLES[name][0]
    named = [f.name for f in fields(kind) if f.name == "source" or f.name.endswith("_source")]
    for row in load(name, kind).values():
        assert row.source
        assert row.evidence
        for field in named:
            key = getattr(row, field)
            assert not key or key in source_keys()
            shown = getattr(row, field.replace("source", "evidence"))
            assert (not key) is (shown is None), (row.id, field)


@pytest.mark.parametrize("name", TABLES)
def test_the_tags_say_what_the_sources_say(name: str) -> None:
    """Judgement and practice name no document; what was read or recalled is not practice."""
    for row in load(name, TABLES[name][0]).values():
        kind = source(row.source).kind
        if row.evidence == "practice":
            assert kind is SourceKind.PRACTICE, row.id
        if row.evidence == "read":
            assert row.source not in {"judgement", "common-practice", "recalled"}, row.id


@dataclass(frozen=True, slots=True, kw_only=True)
class Sample(Row):
    """A small table to break."""

    name: str
    low: float
    high: float
    colour: str = one_of("red", "blue")
    wide: bool
    parts: tuple[str, ...]
    spare: float | None
    count: int


HEADER = "id,name,low_g,high_g,colour,wide,parts,spare_mm,count,evidence,source,note"
GOOD = "a,First,1,2,red,yes,x; y,,3,read,gum-2008,"


def rows(*lines: str) -> dict[str, Sample]:
    return read_rows(csv.reader(io.StringIO("\n".join(lines))), "sample", Sample)


def test_a_good_row_is_read_in_si() -> None:
    row = rows(HEADER, GOOD)["a"]
    assert (row.low, row.high, row.wide) == (0.001, 0.002, True)
    assert (row.parts, row.spare, row.note, row.count) == (("x", "y"), None, "", 3)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        (GOOD.replace("gum-2008", ""), "source"),
        (GOOD.replace("gum-2008", "nobody-1900"), "nobody-1900"),
        (GOOD.replace("read,", ","), "evidence"),
        (GOOD.replace("read,", "guessed,"), "guessed"),
        (GOOD.replace("read,", "measured,"), "measured"),
        (GOOD.replace(",1,", ",nan,"), "finite"),
        (GOOD.replace(",1,", ",inf,"), "finite"),
        (GOOD.replace(",1,", ",much,"), "much"),
        (GOOD.replace(",1,", ",,"), "low_g"),
        (GOOD.replace(",1,2,", ",2,1,"), "above"),
        (GOOD.replace("red", "green"), "green"),
        (GOOD.replace("yes", "maybe"), "maybe"),
        (GOOD.replace(",3,", ",3.5,"), "3.5"),
        (GOOD.replace("First", ""), "name"),
        (GOOD + ",more", "13 cells"),
        (GOOD.removesuffix(","), "11 cells"),
    ],
)
def test_a_bad_row_is_refused(line: str, said: str) -> None:
    with pytest.raises(TableError, match=said):
        rows(HEADER, line)


@pytest.mark.parametrize(
    ("header", "said"),
    [
        (HEADER.replace("low_g", "low_stone"), "low_stone"),
        (HEADER.replace(",name", ""), "name"),
        (HEADER.replace("source", "origin"), "origin"),
        (HEADER + ",name", "twice"),
        (HEADER.replace("name", "name,taste"), "taste"),
    ],
)
def test_a_bad_header_is_refused(header: str, said: str) -> None:
    with pytest.raises(TableError, match=said):
        rows(header, GOOD)


def test_an_id_comes_once() -> None:
    with pytest.raises(TableError, match="twice"):
        rows(HEADER, GOOD, GOOD)


@pytest.mark.parametrize("lines", [(), (HEADER,)])
def test_an_empty_table_is_refused(lines: tuple[str, ...]) -> None:
    with pytest.raises(TableError, match=r"empty|no rows"):
        rows(*lines)


def test_a_table_is_read_once() -> None:
    assert powders.ingredients() is powders.ingredients()


@pytest.mark.parametrize(
    ("value", "unit", "expected"),
    [
        (20.0, "C", 293.15),
        (1.6, "g/ml", 1600.0),
        (5.0, "%", 0.05),
        (3.0, "1/min", 0.05),
        (2.0, "kJ/100g", 2e4),
        (1500.0, "W/m2/K", 1500.0),
        (7.0, "1", 7.0),
    ],
)
def test_units_of_the_tables(value: float, unit: str, expected: float) -> None:
    assert in_si(value, unit) == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize("wanted", ["semolina", " Semolina ", "SEMOLINA", "semolina, durum"])
def test_a_name_is_found_however_it_is_spelled(wanted: str) -> None:
    assert find(powders.ingredients(), wanted, "mix").id == "semolina"


def test_a_wrong_name_is_offered_the_nearest() -> None:
    with pytest.raises(InputError, match="semolina") as caught:
        find(powders.ingredients(), "semolna", "mix.ingredient")
    assert caught.value.field == "mix.ingredient"
    with pytest.raises(InputError, match="one of: propylene-glycol, ethanol"):
        find(liquids.carriers(), "zzzz", "carrier")


@pytest.mark.parametrize(
    ("text", "expected"), [("Egg  L", "egg-l"), ("2.5 ml", "2.5-ml"), (" -x- ", "x")]
)
def test_slugs(text: str, expected: str) -> None:
    assert slug(text) == expected


def test_cork_granules_weigh_the_same_as_powder_and_as_filler() -> None:
    assert fillers.filler("cork-granules").density == powders.ingredient("cork-granules").density
