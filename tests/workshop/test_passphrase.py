"""The passphrase: only its proof is kept, and its sessions end with it."""

from __future__ import annotations

import os
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from baitwright.terms.errors import InputError
from baitwright.workshop.keys.door_key import door_key
from baitwright.workshop.keys.passphrase import (
    is_kept,
    is_right,
    keep_passphrase,
    passphrase_in,
)
from baitwright.workshop.keys.sessions import Sessions

NOW = datetime(2026, 11, 27, 18, 0, tzinfo=UTC)
WORDS = "reed copper hob tray"


@pytest.fixture
def place(tmp_path: Path) -> Path:
    return tmp_path / "shop" / "notebook.sqlite"


def files_of(place: Path) -> list[Path]:
    return [path for path in place.parent.rglob("*") if path.is_file()]


def test_only_an_argon2id_hash_is_kept_for_its_owner(place: Path) -> None:
    assert not is_kept(place)
    keep_passphrase(place, WORDS)
    assert is_kept(place)
    (path,) = files_of(place)
    assert path.read_text().startswith("$argon2id$v=19$m=65536,t=3,p=4$")
    if os.name == "posix":
        assert path.stat().st_mode & 0o777 == 0o600
    assert is_right(place, WORDS)
    assert not is_right(place, WORDS + " ")
    assert not is_right(place, "")


def test_one_spelling_of_a_letter_is_as_good_as_another(place: Path) -> None:
    keep_passphrase(place, "caf\u00e9 copper hob")
    assert is_right(place, "cafe\u0301 copper hob")


@pytest.mark.parametrize(
    "told", ["", "short words", "x" * 201, "twelve\nlines and more", "a\x00bcdefghijkl"]
)
def test_one_that_is_no_good_is_refused_and_not_repeated(place: Path, told: str) -> None:
    with pytest.raises(InputError, match="12 to 200 characters") as caught:
        keep_passphrase(place, told)
    assert not told or told not in str(caught.value)
    assert not is_kept(place)


def test_a_damaged_proof_opens_nothing(place: Path) -> None:
    keep_passphrase(place, WORDS)
    (path,) = files_of(place)
    path.write_text("")
    with pytest.raises(InputError, match="--new-passphrase"):
        is_right(place, WORDS)


def test_another_one_ends_sessions_and_tokens(place: Path) -> None:
    keep_passphrase(place, WORDS)
    key, sessions = door_key(place), Sessions(place, clock=lambda: NOW)
    held = sessions.begin()
    assert sessions.is_on(held)
    keep_passphrase(place, WORDS)  # even the same words, set anew
    assert not sessions.is_on(held)
    assert door_key(place) != key


def test_a_session_is_kept_as_a_hash_for_its_owner(place: Path) -> None:
    keep_passphrase(place, WORDS)
    held = Sessions(place, clock=lambda: NOW).begin()
    for path in files_of(place):
        assert held not in path.name
        assert held not in path.read_text()
        if os.name == "posix":
            assert path.stat().st_mode & 0o077 == 0
    assert Sessions(place, clock=lambda: NOW).is_on(held)  # after a restart


@pytest.mark.parametrize("held", ["", "guessed", "../door.passphrase", "\x00", "x" * 5_000])
def test_what_was_never_handed_out_is_no_session(place: Path, held: str) -> None:
    keep_passphrase(place, WORDS)
    sessions = Sessions(place, clock=lambda: NOW)
    sessions.begin()
    assert not sessions.is_on(held)
    sessions.end(held)
    assert is_kept(place)


def test_sessions_that_ran_out_are_tidied_away_and_there_are_never_too_many(place: Path) -> None:
    keep_passphrase(place, WORDS)
    old = Sessions(place, clock=lambda: NOW)
    held = [old.begin() for _ in range(105)]
    assert [old.is_on(one) for one in held].count(True) == 100
    assert old.is_on(held[-1])
    assert not old.is_on(held[0])
    late = Sessions(place, clock=lambda: NOW + timedelta(days=30))
    late.begin()
    assert len(list((place.parent / "door.sessions").iterdir())) == 1


def test_a_file_tells_it_on_one_line(tmp_path: Path) -> None:
    file = tmp_path / "words.txt"
    file.write_text(f"{WORDS}\n", encoding="utf-8")
    assert passphrase_in(file) == WORDS
    for told in ("", f"{WORDS}\n{WORDS}\n"):
        file.write_text(told, encoding="utf-8")
        with pytest.raises(InputError, match="on one line") as caught:
            passphrase_in(file)
        assert WORDS not in str(caught.value)
    with pytest.raises(InputError, match="on one line"):
        passphrase_in(tmp_path / "none")


def test_a_missing_extra_is_named(monkeypatch: pytest.MonkeyPatch, place: Path) -> None:
    monkeypatch.setitem(sys.modules, "argon2", None)
    with pytest.raises(InputError, match=r"baitwright\[lan\]"):
        keep_passphrase(place, WORDS)
    assert not is_kept(place)
