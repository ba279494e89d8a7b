"""Records: the files in, the factors out, and nothing kept where something is wrong."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import pytest

from baitwright.batch.plan import PlanRequest, plan
from baitwright.materials.factors import prior_factors
from baitwright.terms.errors import InputError
from baitwright.uncertainty.draws import Draws
from baitwright.workshop.forms.readings_file import read_readings
from baitwright.workshop.plans.show_plan import document
from baitwright.workshop.readings.record_batch import Recorded, RecordFiles, record_batch
from baitwright.workshop.readings.record_words import record_as_json, record_text
from baitwright.workshop.recipe_files.factors_file import read_factors, write_factors
from baitwright.workshop.told.files import write_together
from tests.batch.kitchen import BENCH, RECIPE, planned

NOW = datetime(2026, 11, 27, 9, 0)


@pytest.fixture(scope="module")
def plan_text() -> str:
    return document(planned(RECIPE, BENCH))


@pytest.fixture
def plan_file(tmp_path: Path, plan_text: str) -> Path:
    path = tmp_path / "plan.json"
    path.write_text(plan_text, encoding="utf-8")
    return path


def readings_file(tmp_path: Path, text: str) -> Path:
    path = tmp_path / "readings.toml"
    path.write_text(text, encoding="utf-8")
    return path


def recorded(plan_file: Path, text: str, **files: Path) -> Recorded:
    readings = readings_file(plan_file.parent, text)
    return record_batch(RecordFiles(plan_file, readings, **files), clock=lambda: NOW)


def test_everything_a_readings_file_may_hold(tmp_path: Path) -> None:
    path = readings_file(
        tmp_path,
        'made = "2026-11-26"\negg_in_bowl = "171 g"\ntub_before = "550 g"\ntub_after = "282 g"\n'
        'twenty_at_8h = "28,9 g"\ntwenty_fresh = "33.1 g"\ncup_rise = "1.58 g"\nbaits_made = 262\n'
        'remark = " the paste was soft "\n',
    )
    record = read_readings(path, plan_name="Copper wafter")
    assert record.made_on == datetime(2026, 11, 26)
    assert record.remark == "the paste was soft"
    assert {one.quantity: one.value for one in record.readings} == pytest.approx(
        {
            "egg_in_bowl": 0.171,
            "tub_used": 0.268,
            "twenty_fresh": 0.0331,
            "twenty_at_8h": 0.0289,
            "cup_rise": 0.00158,
            "baits_made": 262.0,
        }
    )
    assert {one.quantity: one.count for one in record.readings}["twenty_fresh"] == 20


@pytest.mark.parametrize("made", ["2026-11-26", '"2026-11-26"', "2026-11-26T18:30:00"])
def test_a_date_as_toml_or_as_text(tmp_path: Path, made: str) -> None:
    path = readings_file(tmp_path, f'made = {made}\ntub_used = "268 g"\n')
    record = read_readings(path, plan_name="x")
    assert record.made_on is not None
    assert record.made_on.date() == datetime(2026, 11, 26).date()


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('tub_usd = "268 g"', "Nearest: 'tub_used'"),
        ("tub_used = 268", "Write the unit with the number"),
        ('tub_used = "-268 g"', "from 0.01 g to 100 kg"),
        ('tub_used = "0 g"', "from 0.01 g to 100 kg"),
        ('tub_used = "nan g"', "a weight such as 268 g"),
        ('tub_used = "268 ml"', "the unit 'ml'"),
        ('tub_before = "550 g"', "tub_after: got nothing"),
        ('tub_after = "282 g"', "tub_before: got nothing"),
        ('tub_before = "282 g"\ntub_after = "550 g"', "less than the 282 g before"),
        ('tub_used = "268 g"\ntub_before = "550 g"', "either tub_used, or tub_before"),
        ("baits_made = 26.2", "a whole number"),
        ("baits_made = 0", "a whole number"),
        ('made = "yesterday"\ntub_used = "268 g"', "a date such as 2026-11-26"),
        ('made = 26\ntub_used = "268 g"', "a date such as 2026-11-26"),
        ("remark = 3", "a remark"),
        ('remark = "no reading"', "at least one reading"),
        ("tub_used = ", "The parser says"),
    ],
)
def test_readings_that_cannot_be(tmp_path: Path, text: str, says: str) -> None:
    with pytest.raises(InputError) as error:
        read_readings(readings_file(tmp_path, text), plan_name="x")
    assert says in str(error.value)
    assert str(error.value).startswith(f"{tmp_path / 'readings.toml'}: ")


def test_the_tub_weighed_moves_the_next_plan(plan_file: Path) -> None:
    accept = plan_file.with_name("mine.toml")
    found = recorded(plan_file, 'made = "2026-11-26"\ntub_used = "300 g"\n', accept=accept)
    assert found.lesson.scores[0].reading == pytest.approx(0.300)
    factors = read_factors(accept)
    assert factors == found.factors
    assert factors.name == "after Copper wafter, 2026-11-26"
    assert factors.made_on == NOW
    assert factors.find("dry_mix_per_egg", "Copper").batches == 1
    tub = next(one for one in found.changes if one.label == "tub before less tub after")
    assert tub.width < 1.0
    assert tub.before.median < tub.after.median < 0.300


def test_a_record_can_be_moved_on_from(plan_file: Path) -> None:
    """Two batches of the same plan, the second onto the set the first left."""
    first, second = plan_file.with_name("first.toml"), plan_file.with_name("second.toml")
    recorded(plan_file, 'tub_used = "300 g"\n', accept=first)
    found = recorded(plan_file, 'tub_used = "305 g"\n', factors=first, accept=second)
    assert found.factors.find("dry_mix_per_egg", "Copper").batches == 2
    assert found.lesson.proposals[0].before == read_factors(first).find("dry_mix_per_egg", "Copper")
    assert found.factors.name == "after Copper wafter, 2026-11-27"
    assert read_factors(second).learned == found.factors.learned
    assert len(found.factors.learned) == 2


DAY = 'made = "2026-11-26"\n'


@pytest.mark.parametrize(("first", "again"), [(DAY, DAY), ("", DAY)])
def test_a_batch_is_learned_from_once(plan_file: Path, first: str, again: str) -> None:
    text = 'tub_used = "300 g"\nbaits_made = 200\n'
    one, two = plan_file.with_name("one.toml"), plan_file.with_name("two.toml")
    recorded(plan_file, first + text, accept=one)
    with pytest.raises(InputError, match=r"Copper wafter.* is in these factors already") as error:
        recorded(plan_file, again + text, factors=one, accept=two)
    assert "another batch, say in made" in error.value.hint
    assert not two.exists()
    shown = recorded(plan_file, again + text, factors=one)
    assert "learned from this batch already" in record_text(shown)
    assert record_as_json(shown)["learned_already"] is True


def test_the_same_readings_of_another_day_are_another_batch(plan_file: Path) -> None:
    text = 'tub_used = "300 g"\n'
    one, two = plan_file.with_name("one.toml"), plan_file.with_name("two.toml")
    recorded(plan_file, DAY + text, accept=one)
    found = recorded(plan_file, f'made = "2026-11-27"\n{text}', factors=one, accept=two)
    assert [batch.made for batch in found.factors.learned] == [
        date(2026, 11, 26),
        date(2026, 11, 27),
    ]


def test_a_batch_planned_again_later_is_the_same_batch(plan_file: Path) -> None:
    """Neither the clock nor the factors it is planned with make it another."""
    one, two = plan_file.with_name("one.toml"), plan_file.with_name("two.toml")
    text = 'tub_used = "300 g"\n'
    factors = recorded(plan_file, text, accept=one).factors
    later = replace(BENCH, now=BENCH.now.replace(hour=23))
    again = plan(PlanRequest(RECIPE, later, factors, Draws(batches=64)))
    plan_file.write_text(document(again), encoding="utf-8")
    with pytest.raises(InputError, match="in these factors already"):
        recorded(plan_file, text, accept=two)


@pytest.mark.parametrize(
    ("made", "hint"), [("2026-11-25", "Planned afterwards"), ("2026-11-28", "")]
)
def test_a_batch_is_made_between_its_plan_and_today(plan_file: Path, made: str, hint: str) -> None:
    with pytest.raises(InputError) as error:
        recorded(plan_file, f'made = "{made}"\ntub_used = "300 g"\n')
    assert str(error.value).startswith(
        f"{plan_file.with_name('readings.toml')}: made: got '{made}'"
    )
    assert "a day from 2026-11-26, when it was planned, to 2026-11-27" in error.value.accepted
    assert error.value.hint.startswith(hint)


def test_a_day_with_a_zone_is_that_day(plan_file: Path) -> None:
    found = recorded(plan_file, 'made = 2026-11-26T18:30:00Z\ntub_used = "300 g"\n')
    assert found.record.made_on is not None
    assert found.record.made_on.day == 26


def test_nothing_is_kept_unless_accepted(plan_file: Path) -> None:
    found = recorded(plan_file, 'tub_used = "300 g"\n')
    assert found.written is None
    assert "Nothing is kept yet" in record_text(found)
    assert {path.name for path in plan_file.parent.iterdir()} == {"plan.json", "readings.toml"}


def test_a_set_is_never_overwritten(plan_file: Path) -> None:
    accept = plan_file.with_name("mine.toml")
    recorded(plan_file, 'tub_used = "300 g"\n', accept=accept)
    before = accept.read_bytes()
    with pytest.raises(InputError, match="not there yet") as error:
        recorded(plan_file, 'tub_used = "310 g"\n', accept=accept)
    assert error.value.hint.endswith(f"such as {plan_file.with_name('mine-2.toml')}.")
    assert accept.read_bytes() == before
    second = plan_file.with_name("mine-2.toml")
    recorded(plan_file, 'tub_used = "310 g"\n', accept=second)
    with pytest.raises(InputError, match=r"such as .*mine-3\.toml"):
        recorded(plan_file, 'tub_used = "320 g"\n', accept=second)


@pytest.mark.parametrize("reading", ['cup_rise = "1.5 g"', 'egg_in_bowl = "165 g"'])
def test_no_file_where_nothing_moved(plan_file: Path, reading: str) -> None:
    accept = plan_file.with_name("mine.toml")
    found = recorded(plan_file, reading)
    assert not found.lesson.proposals
    assert not found.changes
    assert "No factor moves." in record_text(found)
    with pytest.raises(InputError, match="readings or a test that moves a factor"):
        recorded(plan_file, reading, accept=accept)
    assert not accept.exists()


def test_a_slip_of_the_unit_writes_nothing(plan_file: Path) -> None:
    accept = plan_file.with_name("mine.toml")
    with pytest.raises(InputError, match="Check the unit") as error:
        recorded(plan_file, 'tub_used = "3,000 kg"\n', accept=accept)
    assert error.value.got == "3,000 kg"
    assert error.value.where == str(plan_file.with_name("readings.toml"))
    with pytest.raises(InputError, match="got '4 kg less 1 kg'"):
        recorded(plan_file, 'tub_before = "4 kg"\ntub_after = "1 kg"\n')
    assert not accept.exists()


def test_what_is_printed(plan_file: Path) -> None:
    found = recorded(plan_file, 'tub_used = "600 g"\ncup_rise = "1.5 g"\n')
    text = record_text(found)
    assert text.startswith("Copper wafter: predicted and weighed\n  tub before less tub after: ")
    assert "you weighed 600 g: far outside" in text
    assert "weigh again if you can before you accept" in text
    assert "1 of 2 inside the band that should hold four of five." in text
    assert "dry mix per egg for Copper: 1.00 becomes " in text
    assert "tells little about air left" in text
    assert "The same batch planned with these factors" in text


def test_a_plan_of_another_version_is_worked_out_again(plan_file: Path) -> None:
    data = json.loads(plan_file.read_text(encoding="utf-8"))
    assert "worked out again" not in record_text(recorded(plan_file, 'tub_used = "300 g"\n'))
    data["program"]["version"] = "0.0.1"
    plan_file.write_text(json.dumps(data), encoding="utf-8")
    text = record_text(recorded(plan_file, 'tub_used = "300 g"\n'))
    assert "Planned by version 0.0.1 and worked out again" in text
    del data["program"]
    plan_file.write_text(json.dumps(data), encoding="utf-8")
    assert recorded(plan_file, 'tub_used = "300 g"\n').planned_by == "unknown"


def test_the_same_for_programs(plan_file: Path) -> None:
    found = recorded(plan_file, 'tub_used = "300 g"\nremark = "soft"\n')
    data = json.loads(json.dumps(record_as_json(found), allow_nan=False))
    assert data["plan"] == "Copper wafter"
    assert data["remark"] == "soft"
    assert data["scores"][0]["reading"] == pytest.approx(300.0)
    assert data["scores"][0]["unit"] == "g"
    assert data["proposals"][0]["key"] == "dry_mix_per_egg"
    assert data["proposals"][0]["after"] > data["proposals"][0]["before"]
    assert data["factors"]["written"] is None


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"{", "a plan as JSON"),
        (b"\xff\xfe", "a plan as JSON"),
        (b"[]", "a plan as JSON"),
        (b"{}", "request"),
        (b'{"request": {"recipe": 3}}', "request.recipe"),
    ],
)
def test_what_is_no_plan(tmp_path: Path, content: bytes, says: str) -> None:
    plan = tmp_path / "plan.json"
    plan.write_bytes(content)
    with pytest.raises(InputError) as error:
        recorded(plan, 'tub_used = "300 g"\n')
    assert says in str(error.value)


def test_files_that_are_not_there(plan_file: Path) -> None:
    nowhere = plan_file.with_name("nowhere")
    with pytest.raises(InputError, match=r"plan\.json that can be read"):
        record_batch(RecordFiles(nowhere, nowhere), clock=lambda: NOW)
    with pytest.raises(InputError, match="readings file that can be read"):
        record_batch(RecordFiles(plan_file, nowhere), clock=lambda: NOW)
    with pytest.raises(InputError, match="factors file that can be read"):
        recorded(plan_file, 'tub_used = "300 g"\n', factors=nowhere)


def test_factors_come_back_as_they_went(tmp_path: Path) -> None:
    path = write_factors(tmp_path / "deep" / "mine.toml", prior_factors())
    assert read_factors(path) == prior_factors()
    assert [each.name for each in path.parent.iterdir()] == ["mine.toml"]


def test_a_factors_file_written_by_hand(tmp_path: Path) -> None:
    """What it does not hold is as the priors have it."""
    path = tmp_path / "mine.toml"
    path.write_text(
        'name = "mine"\n[[factors]]\nkey = "dry_mix_per_egg"\nabout = "Copper"\nmu = 0.08\n'
        "kappa = 3\nnu = 6\nsigma2 = 0.004\n"
    )
    factors = read_factors(path)
    assert factors.find("dry_mix_per_egg", "Copper").mu == 0.08
    assert factors.find("dry_mix_per_egg", "Chalk").mu == 0.0
    assert factors.find("drying") == prior_factors().find("drying")


HEAD = 'name = "mine"\n[[factors]]\nmu = 0.08\nkappa = 3\nsigma2 = 0.004\n'


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('name = "mine"\nfactor = 3', "Nearest: 'factors'"),
        (f'{HEAD}nu = 6\nkey = "dry_mix"', "Nearest: 'dry_mix_per_egg'"),
        (f'{HEAD}nu = 6\nkey = "drying"\nspread = 2', "spread: got 2"),
        (f'{HEAD}key = "drying"', "nu: got nothing"),
        (f'{HEAD}nu = nan\nkey = "drying"', "nu: got nan"),
        (f'{HEAD}nu = -1\nkey = "drying"', "nu: got -1"),
        (
            f'{HEAD}nu = 6\nkey = "drying"\n[[factors]]\nmu = 0.1\nkappa = 3\nsigma2 = 0.004\n'
            'nu = 6\nkey = "drying"',
            "each factor once",
        ),
        ('made_on = "soon"\nname = "mine"', "made_on: got 'soon'"),
        ('name = "mine"\n[[learned]]\nplan = "A"', "learned[1].digest: got nothing"),
        ('name = "mine"\n[[learned]]\nplan = "A"\ndigest = "12"', "16 characters"),
        (
            'name = "mine"\n[[learned]]\nplan = "A"\ndigest = "0123456789abcdef"\nmade = "soon"',
            "learned[1].made: got 'soon'",
        ),
    ],
)
def test_factors_that_cannot_be(tmp_path: Path, text: str, says: str) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(text)
    with pytest.raises(InputError) as error:
        read_factors(path)
    assert says in str(error.value)


def test_files_are_written_all_or_none(tmp_path: Path) -> None:
    """The second name is a folder: the first must not be left changed beside it."""
    (tmp_path / "b").mkdir()
    (tmp_path / "b" / "kept").write_text("here")
    (tmp_path / "a").write_bytes(b"old")
    with pytest.raises(InputError, match="a folder that can be written to"):
        write_together(tmp_path, {"a": b"new", "b": b"new"}, field="out")
    assert (tmp_path / "a").read_bytes() == b"old"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["a", "b"]


def test_a_file_stands_in_the_folders_place(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file")
    with pytest.raises(InputError, match="a folder that can be written to"):
        write_together(tmp_path / "out", {"a": b"new"}, field="out")
    assert [path.name for path in tmp_path.iterdir()] == ["out"]
