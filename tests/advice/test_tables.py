"""The tables of the desk are pinned, and lead where they say."""

from __future__ import annotations

import pytest

from baitwright.advice import faults_tables as tables
from baitwright.advice.complaint_care import FirstCare
from baitwright.advice.faults_numbered import Numbers
from baitwright.materials.cautions import cautions
from baitwright.materials.tables import Row
from baitwright.terms.evidence import Evidence
from tests.advice.kitchen import WAFTER, numbers, sinker, usual
from tests.workshop.shelf import planned

# Table: the record of a row, and rows. A row that comes or goes is meant to be seen here.
TABLES: dict[str, tuple[type[Row], int]] = {
    "complaint_care": (FirstCare, 5),
    "fault_habits": (tables.Habit, 18),
    "fault_leaves": (tables.Leaf, 58),
    "fault_readings": (tables.Told, 13),
    "fault_signs": (tables.Sign, 16),
    "faults": (tables.Symptom, 9),
    "harm_words": (Row, 21),
}


def test_every_table_is_pinned() -> None:
    assert {path.stem for path in tables.DATA.glob("*.csv")} >= TABLES.keys()


@pytest.mark.parametrize("name", TABLES)
def test_a_table_has_its_rows(name: str) -> None:
    kind, rows = TABLES[name]
    assert len(tables.table(name, kind)) == rows


def test_every_sign_and_habit_hangs_on_a_number_of_a_plan() -> None:
    for one in tables.symptoms().values():
        for sign in tables.signs_of(one):
            assert numbers().named(sign.node, sign.label), sign.id
        habits = tables.habits_of(one)
        assert habits
        for habit in habits:
            assert numbers().named(habit.node), habit.id
            assert habit.evidence is Evidence.PRACTICE  # no model here, and it says so
            assert habit.test


def test_every_reading_is_of_a_number_of_a_plan() -> None:
    for row in tables.readings().values():
        assert numbers().named(row.node, row.label), row.id


def test_every_leaf_is_met_in_a_plan_and_has_a_test() -> None:
    others = [("copper-wafter-glugged", WAFTER[1]), ("copper-wafter-corks", WAFTER[1])]
    others += [(WAFTER[0], "bench-one-egg"), (WAFTER[0], "bench-carton")]
    plans = [sinker(), *(planned(*pair) for pair in others)]
    met = numbers().by_name.keys()
    for plan in plans:
        met |= Numbers.of_plan(plan).by_name.keys()
    assert not tables.leaves().keys() - met
    for row in tables.leaves().values():
        assert row.test.endswith(".")
    assert usual().request.recipe.bait.core is not None


def test_every_caution_of_a_test_stands_in_the_table() -> None:
    rows = [*tables.leaves().values(), *tables.table("fault_habits", tables.Habit).values()]
    assert {row.care for row in rows if row.care} <= cautions().keys()
    hot = [row for row in rows if "boil" in row.test.casefold() or "pot" in row.test.casefold()]
    before = {"paste_temperature", "seam"}
    assert {row.id for row in hot if row.care not in ("hot-water", "scald")} == before
