"""What machines over the use cases share: a notebook each, and refusals that change nothing."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable, Mapping
from pathlib import Path

from hypothesis.stateful import RuleBasedStateMachine

from baitwright.notebook.store import open_notebook
from baitwright.terms.errors import InputError
from tests.notebook.random_book import everything
from tests.workshop.counter import NOW


class OverTheUseCases(RuleBasedStateMachine):
    """Begins a notebook, and throws it away at the end."""

    def begin(self) -> None:
        """To be called by the first rule: a machine is made more often than it is run."""
        self.folder = Path(tempfile.mkdtemp())
        self.book = open_notebook(self.folder / "notebook.sqlite", now=NOW)

    def teardown(self) -> None:
        if hasattr(self, "book"):
            self.book.close()
            shutil.rmtree(self.folder)

    def state(self) -> Mapping[str, object]:
        """All that a refusal leaves as it is: every row, unless a machine compares less."""
        return everything(self.book)

    def run(self, call: Callable[[], object]) -> Mapping[str, object] | None:
        """Do something, or be refused and change nothing; the state before, where it was done."""
        before = self.state()
        try:
            call()
        except InputError:
            assert self.state() == before
            return None
        return before
