"""The nightly's own arithmetic: fair order, changes that take hold, fair judges, exact interval."""

from __future__ import annotations

import os
from collections.abc import Iterator
from dataclasses import replace
from functools import partial
from importlib.metadata import version
from pathlib import Path

import pytest

from baitwright.physics.packing import cluster_diameter
from tests import changed, judges, mutants, nightly
from tests.architecture.declared import locked
from tests.judges import MISSED, NOTICED, PATIENCE, Reached
from tests.mutants import Alike, Mutant, but_for_sentences, in_order, undressed

FILE = "src/baitwright/physics/packing.py"
NAMES = [Mutant("src/a/b/c.py", "one", n, (1, 0), (1, 0), "") for n in range(1, 401)]


@pytest.fixture(scope="module")
def of_packing() -> list[Mutant]:
    return mutants.mutants_of(FILE)


DRESSED = """\
@declared(
    'twice',
)
def twice(x):
    @cache
    def inner(): ...
    return 2 * x


@dataclass
class Both:
    @property
    def both(self):
        return 1
"""


def test_every_line_stays_where_it_was_without_decorators() -> None:
    bare = undressed(DRESSED)
    assert [line for line in bare.splitlines() if "@" in line] == ["    @cache", "@dataclass"]
    assert bare.splitlines().index("        return 1") == DRESSED.splitlines().index(
        "        return 1"
    )


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
    order = in_order(NAMES)
    assert order != NAMES
    assert order != in_order(NAMES, seed=1)
    assert 150 < sum(one.number for one in order[:100]) / 100 < 250  # 200.5 +- 4 x 11.6
    gone = set(NAMES[::7])
    assert [one for one in order if one not in gone] == in_order(list(set(NAMES) - gone))


def test_every_change_is_another_program(of_packing: list[Mutant]) -> None:
    assert len(of_packing) > 10
    for mutant in of_packing:
        now = mutants.code_of(mutants.undressed_file(FILE), mutant)
        later = mutants.code_of(mutants.mutated(mutant), mutant)
        before, after = (
            mutants.defaults_of(source, mutant.function)
            for source in (mutants.undressed_file(FILE), mutants.mutated(mutant))
        )
        assert (now.co_code, now.co_consts, now.co_names) != (
            later.co_code,
            later.co_consts,
            later.co_names,
        ) or str(before) != str(after)
        assert mutant.start[0] in mutants.statement_lines(mutant)
        was, becomes = mutants.difference(mutant)
        assert was != becomes


@pytest.mark.skipif(not hasattr(os, "fork"), reason="Windows cannot split off a process")
def test_a_change_takes_hold_in_a_process_of_its_own_only(of_packing: list[Mutant]) -> None:
    """Three balls of 15 mm take 1 + 2/sqrt(3) times as much (tests/published/test_packing.py)."""

    def three() -> str:
        try:
            return f"{cluster_diameter(3, 15.0):.2f}"
        except Exception as error:  # a change may break it altogether
            return repr(error)

    def after(mutant: Mutant) -> str:
        mutants.put_in(mutant)
        return three()

    told = [judges.said(*judges.split_off(partial(after, one)))[0] for one in of_packing[-3:]]
    assert all(said not in ("", "32.32") for said in told)
    assert three() == "32.32"


def test_the_nearest_and_the_quickest_judge_until_patience_ends(of_packing: list[Mutant]) -> None:
    one = of_packing[0]
    line = {FILE: 1 << mutants.statement_lines(one).start}
    here = "tests/architecture/test_nightly.py"  # imports baitwright.physics.packing
    reach = {
        f"{here}::near_and_slow": Reached(0.6 * PATIENCE, line),
        "tests/mutants.py::far_and_quick": Reached(0.01, line),
        "tests/mutants.py::far": Reached(0.3 * PATIENCE, line),
        "tests/mutants.py::far_and_slow": Reached(0.35 * PATIENCE, line),
        f"{here}::elsewhere": Reached(0.01, {FILE: 1}),
    }
    assert judges.judges(one, reach) == [*list(reach)[1::-1], "tests/mutants.py::far"]
    alone = {"tests/mutants.py::slower": Reached(2.0 * PATIENCE, line)}
    assert judges.judges(one, alone) == list(alone)


def test_an_explanation_is_for_one_change_only(of_packing: list[Mutant]) -> None:
    one, *others = of_packing
    was, becomes = mutants.difference(one)
    alike = Alike("baitwright.physics.…", was, becomes, "why")
    assert one in alike
    assert not [two for two in others if two in alike and mutants.difference(two) != (was, becomes)]
    assert one not in replace(alike, where="baitwright.batch.…")


@pytest.mark.skipif(
    version("mutmut") != locked("dev.txt")["mutmut"],
    reason="another mutmut makes other changes than those that are explained",
)
def test_every_explanation_explains_something() -> None:
    """One whose change is gone goes too."""
    made = {file: mutants.mutants_of(file) for file in _explained_files()}
    for one in mutants.explained():
        if "…" not in one.where:
            here = [m for m in made[_file(one.where)] if m in one]
            assert here, f"nothing is changed like this any more: {one}"


def _explained_files() -> set[str]:
    return {_file(one.where) for one in mutants.explained() if "…" not in one.where}


def _file(function: str) -> str:
    around = (f for f in mutants.files() if function.startswith(mutants.module_of(f) + "."))
    return max(around, key=lambda file: len(mutants.module_of(file)))


def test_only_what_was_tried_in_its_turn_counts(monkeypatch: pytest.MonkeyPatch) -> None:
    order = in_order(NAMES)
    known = {one.name: (NOTICED, "a test") for one in order[:90]}
    known |= {order[3].name: (MISSED, ""), order[95].name: (MISSED, "")}
    monkeypatch.setattr(nightly, "every_mutant", lambda: tuple(NAMES))
    monkeypatch.setattr(nightly, "outcomes", lambda: known)
    monkeypatch.setattr(nightly, "tool", lambda *command: 0)
    monkeypatch.setattr(nightly, "explanation", lambda mutant: "")
    *table, _, told, left_alone, _, missed = nightly.mutation()
    assert table[-1] == "| b | 90 | 89 | 1 | 0 |"
    assert "98.9 % of 90 (exact 95 % interval 94.0 to 100.0 %)" in told
    assert left_alone == nightly.LEFT_ALONE
    assert missed == f"Missed in: {order[3].module}.{order[3].function}."
    monkeypatch.setattr(nightly, "explanation", lambda mutant: "a reason")
    assert "95.9 to 100.0 %" in nightly.mutation()[-2]  # 0.025 ** (1 / 89)


def test_a_run_that_failed_writes_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(nightly, "tool", lambda *command: 1)
    with pytest.raises(SystemExit, match="keeps its former figures"):
        nightly.mutation()


def test_by_hand_all_of_three_noticed_leaves_much_open() -> None:
    """With none missed of n the exact lower end is 0.025^(1/n): 29.2 % for three."""
    assert "29.2 to 100.0 %" in nightly.told_of([NOTICED] * 3, 10)[0]
    assert "which are all" in nightly.told_of([NOTICED, MISSED], 2)[0]


def test_another_test_is_another_number(tmp_path: Path) -> None:
    (tmp_path / "test_one.py").write_text("a = 1", encoding="utf-8")
    before = judges.digest([tmp_path / "test_one.py"])
    assert before == judges.digest([tmp_path / "test_one.py"])
    (tmp_path / "test_one.py").write_text("a = 2", encoding="utf-8")
    assert before != judges.digest([tmp_path / "test_one.py"])


def test_what_has_changed_is_known_by_what_it_does() -> None:
    """A comment or a moved line is no change; another number is."""
    pot = "class Pot:\n    def two(self): return 2\n"
    before = changed.functions(f"def one():\n    return 1\n{pot}")
    moved = changed.functions("# new\n\ndef one():\n    return 1  # one\n")
    assert set(before) == {"one", "Pot.two"}
    assert moved["one"] == before["one"]
    assert changed.functions("def one():\n    return 2\n")["one"] != before["one"]


@pytest.mark.parametrize(("noticed", "failed"), [(13, 1), (14, 0), (20, 0)])
def test_only_what_is_surely_too_low_fails(
    noticed: int, failed: int, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Of 20 the exact upper end is 84.6 % with 13 and 88.1 % with 14 (Clopper-Pearson)."""
    monkeypatch.setattr(changed, "BAR", 0.85)
    monkeypatch.setattr(changed, "explanation", lambda mutant: "")
    monkeypatch.setattr(changed, "difference", lambda mutant: ("1", "2"))
    fates = {one: NOTICED if one.number <= noticed else MISSED for one in NAMES[:20]}
    assert changed.verdict(fates, 30) == failed
    assert f"noticed {noticed} of 20 that could be judged, of 30" in capsys.readouterr().out
