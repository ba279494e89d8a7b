"""The nightly's own arithmetic: a fair order, formulas that can be mutated, an honest interval."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests import mutants, nightly
from tests.mutants import PATIENCE, but_for_sentences, digest, judges, place, undressed

NAMES = [f"baitwright.batch.boil.x_one__mutmut_{number}" for number in range(1, 401)]


BEFORE = """\
@declared(
    'twice',
    label='twice',
)
def twice(x):
    return 2 * x


@cache
def kept(x):
    return x


@loud
@declared('both')
def both(x):
    return x
"""
AFTER = BEFORE.replace(
    BEFORE.partition("@cache")[0],
    """\
def twice(x):
    return 2 * x
twice = declared('twice', label='twice')(twice)


""",
)


def test_a_declared_function_is_declared_below_itself() -> None:
    assert undressed(BEFORE) == AFTER


def test_sentences_are_left_alone_and_words_are_not() -> None:
    class Text:
        def __init__(self, value: str) -> None:
            self.value = value

    def louder(node: Text) -> Iterator[str]:
        yield node.value.upper()

    change = but_for_sentences(louder)
    assert list(change(Text("'kg'"))) == ["'KG'"]
    assert list(change(Text("'two words'"))) == []


def test_the_order_is_random_and_those_that_go_move_no_other() -> None:
    order = sorted(NAMES, key=place)
    assert order != NAMES
    early = [NAMES.index(name) for name in order[:100]]
    assert 150 < sum(early) / 100 < 250  # 200 +- 4 standard errors of 11.6
    gone = set(NAMES[::7])
    assert [name for name in order if name not in gone] == sorted(set(NAMES) - gone, key=place)


def test_the_nearest_and_the_quickest_judge_until_patience_ends() -> None:
    here = "tests/architecture/test_nightly.py"
    times = {
        f"{here}::near_and_slow": 0.6 * PATIENCE,
        "tests/mutants.py::far_and_quick": 0.01,
        "tests/mutants.py::far": 0.3 * PATIENCE,
        "tests/mutants.py::far_and_slow": 0.35 * PATIENCE,
    }
    chosen = set(times) - {"tests/mutants.py::far_and_slow"}
    assert judges("tests.nightly.x_mutation", set(times), times) == chosen
    alone = {"tests/mutants.py::slower": 2.0 * PATIENCE}
    assert judges("tests.nightly.x_mutation", set(alone), alone) == set(alone)


def test_only_what_was_tried_in_its_turn_counts(monkeypatch: pytest.MonkeyPatch) -> None:
    order = sorted(NAMES, key=place)
    made = dict.fromkeys(NAMES, nightly.UNTRIED) | dict.fromkeys(order[:90], "killed")
    made |= {order[3]: "survived", order[95]: "survived", order[200]: "killed"}
    monkeypatch.setattr(nightly, "outcomes", lambda: made)
    monkeypatch.setattr(nightly, "attempted", lambda mutants, until: False)
    *table, _, told, left_alone = nightly.mutation()
    assert table[-1] == "| batch | 90 | 89 | 1 |"
    assert "98.9 % of 90 tried, the first of 400 in random order" in told
    assert "94.0 to 100.0 % (exact 95 % interval)" in told
    assert left_alone == nightly.LEFT_ALONE


@pytest.mark.parametrize(("code", "whole"), [(0, True), (-15, False)])
def test_a_run_that_was_ended_is_stopped_and_not_failed(
    monkeypatch: pytest.MonkeyPatch, code: int, whole: bool
) -> None:
    class Ended:
        def wait(self, timeout: float | None = None) -> int:
            return code

    monkeypatch.setattr(nightly.subprocess, "Popen", lambda *command, **how: Ended())
    assert nightly.attempted([], math.inf) is whole


def test_a_run_that_failed_writes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    class Failed:
        def wait(self, timeout: float | None = None) -> int:
            return 1

    monkeypatch.setattr(nightly.subprocess, "Popen", lambda *command, **how: Failed())
    with pytest.raises(SystemExit, match="keeps its former figures"):
        nightly.attempted([], math.inf)


def test_by_hand_all_of_three_noticed_leaves_much_open() -> None:
    """With none missed of n the exact lower end is 0.025^(1/n): 29.2 % for three."""
    assert "29.2 to 100.0 %" in nightly.told_of(["killed", "timeout", "killed"], 10)
    assert nightly.told_of(["killed", "survived"], 2).endswith("tried, which are all.")


def test_another_test_is_another_number(tmp_path: Path) -> None:
    (tmp_path / "test_one.py").write_text("a = 1", encoding="utf-8")
    before = digest(tmp_path)
    assert before == digest(tmp_path)
    (tmp_path / "test_one.py").write_text("a = 2", encoding="utf-8")
    assert before != digest(tmp_path)


def test_what_passed_is_of_the_same_code_only(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(mutants, "CLEAN", tmp_path / "clean.json")
    assert mutants.passed_already("one") == set()
    mutants.CLEAN.write_text('{"code": "one", "passed": ["a", "b"]}', encoding="utf-8")
    assert mutants.passed_already("one") == {"a", "b"}
    assert mutants.passed_already("other") == set()
