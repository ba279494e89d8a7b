"""Factors anew from the notebook's batches: learned, told, accepted, planned with, taken back."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from click.testing import CliRunner

from baitwright.cli.main import cli
from baitwright.materials.factors import prior_factors
from baitwright.notebook.store import Notebook, open_notebook
from baitwright.terms.errors import InputError
from baitwright.workshop.batches.batch_hours import PLAN
from baitwright.workshop.batches.batch_made import Making, made
from baitwright.workshop.batches.batches import plan_into
from baitwright.workshop.batches.kept_plan import kept_readings
from baitwright.workshop.factors.batches_seen import MOMENTS, batches_seen
from baitwright.workshop.factors.factors_kept import factors_before, kept_factors
from baitwright.workshop.factors.kept_moments import WorkingOut, kept_moments
from baitwright.workshop.factors.learning_book import accept, learning
from baitwright.workshop.factors.learning_cover import cover
from baitwright.workshop.factors.learning_json import learning_json
from baitwright.workshop.factors.learning_words import learning_text, next_line
from baitwright.workshop.readings.record_batch import scored
from baitwright.workshop.strip.batch_file import BatchTable
from tests.workshop.batching import NOW
from tests.workshop.batching import PLAN as FILES
from tests.workshop.shelf import path, planned

READ = {"tub_used": 0.300, "egg_in_bowl": 0.172, "twenty_fresh": 0.0338}


@pytest.fixture
def book(tmp_path: Path) -> Iterator[Notebook]:
    made = open_notebook(tmp_path / "notebook.sqlite", now=NOW)
    yield made
    made.close()


def batch(book: Notebook, day: int = 0, **told: object) -> str:
    """A batch made so many days after the first, off an empty shelf."""
    now = NOW + timedelta(days=day)
    plan = planned(*FILES)
    name = plan_into(book, path(FILES[0]), plan, now=now, told=kept_moments(plan)).name
    actual = BatchTable.model_construct(**{"baits_made": 264, **told})
    made(book, name, Making(actual), now=now)
    return name


def test_one_batch_teaches_what_its_record_teaches(book: Notebook) -> None:
    """What is kept with a plan is as good as its draws."""
    name = batch(book, tub_used=0.300, egg_in_bowl=0.172)
    request, record = kept_readings(book, name)
    lesson = scored(request, record, now=NOW).lesson
    known = {(one.after.key, one.after.about): one.after for one in lesson.proposals}
    grown = learning(book, now=NOW, with_plan=False).history.grown
    assert {(one.now.key, one.now.about) for one in grown} == set(known)
    for one in grown:
        record_has = known[one.now.key, one.now.about]
        assert one.now.mu == pytest.approx(record_has.mu, rel=0.05, abs=0.002)


def test_a_plan_that_kept_nothing_is_worked_out_again(book: Notebook) -> None:
    name = batch(book, **READ)
    with book.writing() as page:
        ((_, kept),) = batches_seen(page)
        found = page.latest(PLAN, name)
        assert found is not None and found.body is not None
        body = {key: one for key, one in found.body.items() if key != MOMENTS}
        page.write(PLAN, name, body, seen=found.version, time=NOW)
    with book.reading() as page:
        ((_, again),) = batches_seen(page, work_out=WorkingOut())
        ((_, left_out),) = batches_seen(page)
    assert left_out == ()
    assert [one.key for one in again] == [one.key for one in kept]
    for one, other in zip(again, kept, strict=True):
        assert one.log_ratio == pytest.approx(other.log_ratio, rel=1e-4, abs=1e-6)


def test_what_is_learned_is_told_and_accepted_into_plans(book: Notebook) -> None:
    for day in range(3):
        batch(book, day, **READ)
    told = learning(book, now=NOW)
    assert (told.batches, told.read, told.is_news) == (3, 3, True)
    said = learning_text(told)
    assert "dry mix taken up by the liquid, Copper" in said
    assert "narrower than before the first" in said
    assert "planned by the tables alone and with all of this" in said
    assert next_line(told.next_readings) in said
    assert kept_factors(book) == prior_factors()
    accept(book, now=NOW)
    own = kept_factors(book)
    assert own.find("dry_mix_per_egg", "Copper").mu > 0.02
    assert own.find("dry_mix_per_egg", "Slate").mu > 0.01  # a mix that is new begins near it
    assert not learning(book, now=NOW, with_plan=False).is_news
    factors_before(book, now=NOW)
    assert kept_factors(book) == prior_factors()
    json.loads(learning_json(told))


def test_diameters_teach_the_more_the_more_were_measured(book: Notebook) -> None:
    """Baits 4 % larger than wanted: ten in a row say so more surely than two."""
    large = [0.0156, 0.0154, 0.0158, 0.0155, 0.0157]
    batch(book, diameter_fresh=large * 2)
    batch(book, 1, diameter_fresh=large[:2])
    with book.reading() as page:
        ten, two = (
            next(one for one in seen if one.key == "diameter") for _, seen in batches_seen(page)
        )
    assert ten.log_ratio > 0.02
    assert ten.blur < two.blur


def test_nothing_to_accept_or_to_go_back_to(book: Notebook) -> None:
    with pytest.raises(InputError, match="weighed or counted"):
        accept(book, now=NOW)
    with pytest.raises(InputError, match="were accepted"):
        factors_before(book, now=NOW)


def test_the_cover_tells_score_and_changes(book: Notebook) -> None:
    for day in range(8):
        batch(book, day, **READ, baits_made=290)
    assert cover(book).changed == ()
    heavier = [
        batch(book, 8 + at, **{**READ, "egg_in_bowl": 0.198, "baits_made": 290}) for at in range(3)
    ]
    told = cover(book)
    assert told.score is not None and told.score.of == 11 * 4
    (egg,) = (one for one in told.changed if one.label == "egg contents")
    assert egg.goes_up and egg.batch == heavier[0]
    said = learning_text(learning(book, now=NOW, with_plan=False))
    assert f"! changed, up, about {heavier[0]}" in said


def test_the_command(book: Notebook, tmp_path: Path) -> None:
    batch(book, **READ)
    place = ["--notebook", str(tmp_path / "notebook.sqlite")]
    out = tmp_path / "mine.toml"
    told = CliRunner().invoke(cli, ["learn", *place, "--out", str(out)], catch_exceptions=False)
    assert "1 batch made, 1 of them taught something" in told.output
    assert "dry_mix_per_egg" in out.read_text("utf-8")
    kept = CliRunner().invoke(cli, ["learn", *place, "--accept"], catch_exceptions=False)
    assert kept.output.startswith("Plans are made with: from 1 batch, ")
    assert kept_factors(book).name.startswith("from 1 batch")
    files = [str(path(name)) for name in FILES]
    env = {"BAITWRIGHT_NOTEBOOK": str(tmp_path / "notebook.sqlite")}
    plain = CliRunner().invoke(cli, ["plan", *files], env=env, catch_exceptions=False)
    assert "By the tables alone: your notebook's own factors (from 1 batch, " in plain.stderr
    back = CliRunner().invoke(cli, ["learn", *place, "--before"], catch_exceptions=False)
    assert back.output == "Plans are made with: the tables alone.\n"
