"""Turns: one at a time, and whoever's turn ends lets go, whatever the disk says."""

from __future__ import annotations

import sys
from pathlib import Path
from threading import Thread
from typing import Any

import pytest

from baitwright.notebook.turns import alone

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no turns are taken on Windows")


def test_the_file_of_turns_is_there_for_one_turn_only(tmp_path: Path) -> None:
    turns = tmp_path / "turns"
    with alone(turns):
        assert turns.exists()
    assert not turns.exists()


def test_who_comes_later_waits(tmp_path: Path) -> None:
    told: list[str] = []

    def later() -> None:
        with alone(tmp_path / "turns"):
            told.append("later")

    other = Thread(target=later)
    with alone(tmp_path / "turns"):
        other.start()
        other.join(0.2)
        told.append("first")
    other.join(60.0)
    assert told == ["first", "later"]


def test_a_disk_that_breaks_at_the_end_keeps_nobody_waiting(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: Any, **__: Any) -> None:
        raise OSError(5, "Input/output error")

    with monkeypatch.context() as disk:
        disk.setattr(Path, "unlink", broken)
        with alone(tmp_path / "turns"):
            pass
    done: list[bool] = []

    def next_one() -> None:
        with alone(tmp_path / "turns"):
            done.append(True)

    other = Thread(target=next_one, daemon=True)
    other.start()
    other.join(60.0)
    assert done
