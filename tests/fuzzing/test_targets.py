"""Whatever comes in is read, or refused in one clear way; and nothing that reads is forgotten."""

from __future__ import annotations

import ast
import os
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, Phase, given, seed, settings
from hypothesis import strategies as st

from tests.fuzzing.both import FUZZ_SECONDS
from tests.fuzzing.target import ROOT, Target, is_read
from tests.fuzzing.targets import TARGETS

SOURCE = ROOT / "src" / "baitwright"
PARSERS = {
    *("json.loads", "json.load", "tomllib.loads", "tomllib.load", "csv.reader", "csv.DictReader"),
    *("ZipFile", "zipfile.ZipFile", "load_workbook", "urlsplit", "parse_qsl"),
}
"""What turns bytes or text into something else; whoever calls it reads what came."""
READS = ("read_", "parse_", "from_json")
"""How the names of functions begin that read."""
OWN = "what this program wrote in the notebook itself, or read when it came in"
TRUSTED = {
    "advice/faults_tables:_read": "tables of the package",
    "materials/tables:_load": "tables of the package",
    "materials/tables:read_rows": "tables of the package",
    "sources:sources": "the bibliography of the package",
    "sheets/tables:lines_of": "the text of a list that it just made",
    "cli/mix:parse_args": "click's own hook, which reads no value",
    "notebook/archive_reading:is_export": "the target export.zip goes through it before",
    "notebook/attachments:attached": OWN,
    "notebook/merging:_told": OWN,
    "notebook/merging:_body": OWN,
    "notebook/migrations/versions/step_0002:_list_what_is_there": OWN,
    "notebook/overwriting:_records": OWN,
    "notebook/people:persons": OWN,
    "notebook/plain_pages:_row_lines": OWN,
    "notebook/record_lists:revision_of": OWN,
    "web/api/answers:sound_body": "a body that is none is told by whoever reads it next",
    "workshop/batches/batch_view:_of_plan": OWN,
    "workshop/batches/plan_starts:_read": OWN,
    "workshop/bench/plan_saved:beside_plan": "JSON that it just made",
    "workshop/care/hazards_asked:cautions_answered": OWN,
    "workshop/copies/export_all:export_all": "it writes",
    "workshop/factors/kept_moments:_tested": OWN,
    "workshop/factors/kept_moments:_worked_out": OWN,
    "workshop/strip/bench_strip:strip_from_json": OWN,
    "workshop/waters/venue_plan:session_from_json": OWN,
    "workshop/sweeps/parts:begin": OWN,
    "workshop/sweeps/table:_rows": OWN,
    "workshop/levels/dose_quick:read_off": "the mark on a syringe, not a text",
}
"""Readers without a target, and why they need none."""
SECONDS = int(os.environ.get(FUZZ_SECONDS, "600"))
"""Of the long run, shared by all targets."""


def readers(path: Path) -> Iterator[str]:
    """Functions of a module that read what came, by their names or by what they call."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    room = path.relative_to(SOURCE).with_suffix("").as_posix()
    kinds = ast.FunctionDef | ast.AsyncFunctionDef
    for node in tree.body:
        inner = node.body if isinstance(node, ast.ClassDef) else [node]
        for one in inner:
            if not isinstance(one, kinds):
                continue
            calls = {_dotted(call.func) for call in ast.walk(one) if isinstance(call, ast.Call)}
            if one.name.startswith(READS) or "_from_json" in one.name or calls & PARSERS:
                yield f"{room}:{one.name}"


def _dotted(called: ast.expr) -> str:
    if isinstance(called, ast.Attribute) and isinstance(called.value, ast.Name):
        return f"{called.value.id}.{called.attr}"
    return called.id if isinstance(called, ast.Name) else ""


def test_every_reader_has_a_target_or_a_reason() -> None:
    found = {name for path in SOURCE.rglob("*.py") for name in readers(path)}
    covered = {name for target in TARGETS.values() for name in target.covers}
    assert not found - covered - set(TRUSTED), "give it a target in tests/fuzzing"
    assert not set(TRUSTED) - found, "no such reader any more"
    assert not covered & set(TRUSTED)


def test_every_kind_of_example_file_has_a_target() -> None:
    from tests.fuzzing.file_targets import examples

    tried = {seed for target in TARGETS.values() for seed in target.seeds}
    assert set(examples("*.toml")) <= tried


@pytest.mark.parametrize("target", TARGETS.values(), ids=lambda one: one.name)
def test_what_is_kept_is_read_or_refused(target: Target) -> None:
    read = [is_read(target, data) for data in target.every_seed()]
    assert read
    assert target.name in NEVER_READ or any(read), "no seed of it is read, so little of it is tried"


NEVER_READ = ("numbers", "levels", "money and amounts", "days", "rigs and labels", "limits")
"""Targets of several readers of which each takes what the others refuse."""


def inputs(target: Target) -> st.SearchStrategy[bytes]:
    """Bytes, text, and what the target begins with, changed in a few places."""
    known = target.every_seed()
    odd = [b"\0", b"\xff", b"\xef\xbb\xbf", b"1e999", b"9" * 400, b"nan", b'"', b"[" * 300]
    pieces = st.sampled_from([*odd, *(word.encode() for word in target.words)]) | st.binary(
        max_size=8
    )

    @st.composite
    def changed(draw: st.DrawFn) -> bytes:
        data = bytearray(draw(st.sampled_from(known)))
        for _ in range(draw(st.integers(1, 4))):
            at = draw(st.integers(0, len(data)))
            gone = draw(st.integers(0, 12))
            data[at : at + gone] = draw(pieces)
        return bytes(data)

    return changed() | st.text(max_size=60).map(lambda text: text.encode()) | st.binary(max_size=60)


@pytest.mark.fuzz
@pytest.mark.parametrize("target", TARGETS.values(), ids=lambda one: one.name)
def test_whatever_comes_is_read_or_refused(
    target: Target,
    pytestconfig: pytest.Config,
    sample_size: Callable[[int, int], int],
    record_property: Callable[[str, object], None],
) -> None:
    until = time.monotonic() + sample_size(0, SECONDS) / len(TARGETS)
    tried = {True: 0, False: 0}
    begun = 0
    while begun == 0 or time.monotonic() < until:

        @seed(begun)
        @settings(
            max_examples=sample_size(5, 100),
            deadline=None,
            database=None,
            phases=(Phase.generate, Phase.shrink),
            suppress_health_check=list(HealthCheck),
        )
        @given(inputs(target))
        def hold(data: bytes) -> None:
            tried[is_read(target, data)] += 1

        hold()
        begun += 1
    record_property("read", tried[True])
    record_property("refused", tried[False])
