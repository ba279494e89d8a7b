"""What bottle tests of the notebook show of the maker's own factors, by the batch they are of."""

from __future__ import annotations

import hashlib
import json
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import cache
from typing import Any

from pydantic import TypeAdapter

from baitwright.learning.history import Seen
from baitwright.notebook.page import Page
from baitwright.workshop.forms.form_events import TestTable
from baitwright.workshop.forms.read_records import written_in

TEST, TESTS = "test", "tests"
"""The kind of record, and the entry of a plan's record that keeps what tests of its batch show."""
_CHARACTERS = 16
Body = Mapping[str, Any]
Work = Callable[[Body, Body, str], tuple[Seen, ...]]
"""From a plan's record, a test as it was written, and the batch: what the test shows."""


def tests_of(page: Page) -> Mapping[str, tuple[Body, ...]]:
    """Every bottle test as it was written, by its batch; those of no batch are left out."""
    found: dict[str, list[Body]] = defaultdict(list)
    for one in page.all(TEST):
        written = written_in(one)
        if batch := batch_in(str(written.get("batch", ""))):
            found[batch].append(written)
    return {batch: tuple(written) for batch, written in found.items()}


def batch_in(name: str) -> str:
    """The batch of a name that may be of one of its bags."""
    return name.rsplit("/", 1)[0] if name.count("/") > 1 else name


def tests_seen(
    plan: Body, tests: Iterable[Body], *, batch: str, work_out: Work | None = None
) -> Iterator[Seen]:
    """What tests of a batch show.

    Parameters
    ----------
    plan: the record of its plan, which keeps what was worked out of tests.
    tests: as they were written.
    batch: its name.
    work_out: for tests of which nothing is kept yet; without, those show nothing.
    """
    kept = plan.get(TESTS, {})
    for written in tests:
        digest = digest_of(written)
        if digest in kept:
            yield from (
                one._replace(batch=batch) for one in _shapes().validate_python(kept[digest])
            )
        elif plan and work_out is not None:
            yield from work_out(plan, written, batch)


def digest_of(written: Body) -> str:
    """What tells a test from others, and from itself before it was corrected."""
    told = {key: one for key, one in written.items() if key in _TELL}
    text = json.dumps(told, sort_keys=True, default=str)
    return hashlib.sha256(text.encode()).hexdigest()[:_CHARACTERS]


_TELL = frozenset(TestTable.model_fields) - {"files", "remark", "day", "batch", "made"}


def readable_tests(plan: Body) -> None:
    """Read what a plan's record keeps of tests, where it keeps any."""
    for kept in plan.get(TESTS, {}).values():
        _shapes().validate_python(kept)


@cache
def _shapes() -> TypeAdapter[tuple[Seen, ...]]:
    return TypeAdapter(tuple[Seen, ...])
